"""README and DEVELOPERS tell the truth about today: what is named there exists, what exists is named there."""

import re
import tomllib
from pathlib import Path

import pytest

from nursery.models import Person
from nursery.site.env import SETTINGS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COMMANDS = sorted(
    path.stem
    for path in (ROOT / "nursery/site/management/commands").glob("*.py")
    if path.stem not in {"__init__", "advice"}
)
PACKAGES = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]


def test_readme_opens_with_the_job_and_then_the_two_commands():
    title, job, heading = README.split("\n\n")[:3]
    assert title == "# Tepal"
    for word in ("grower", "seed", "flower", "pollen", "remembers"):
        assert word in job
    assert heading == "## Two commands"


def test_the_first_command_makes_an_environment_installs_and_runs_the_demo():
    commands = re.findall(r"```sh\n(.*?)\n```", README, flags=re.DOTALL)
    assert commands[0] == (
        "python3 -m venv .venv && .venv/bin/pip install -q -r requirements.txt && .venv/bin/python manage.py demo"
    )
    assert commands[1] == "sh tests/run"
    assert "sh tests/run" in (ROOT / ".ci/run").read_text(encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_readme(command: str):
    assert f"manage.py {command}" in README


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda setting: setting.name)
def test_every_setting_is_in_readme_with_its_help(setting):
    assert f"| `{setting.name}` |" in README
    assert setting.help in README


@pytest.mark.parametrize("role", Person.Role.values)
def test_every_role_is_told_in_readme(role: str):
    assert f"{role}s " in README.lower()


@pytest.mark.parametrize("package", PACKAGES)
def test_every_dependency_has_its_reason_in_developers(package: str):
    name = re.match(r"[A-Za-z0-9-]+", package)[0]
    assert re.search(rf"^\| .*\b{name}\b.* \| .+ \|$", DEVELOPERS, flags=re.MULTILINE | re.IGNORECASE)


@pytest.mark.parametrize(
    "path", sorted(set(re.findall(r"`((?:nursery|breeding|labels|tests|static)/[\w/.]+)`", DEVELOPERS)))
)
def test_every_path_named_in_developers_exists(path: str):
    assert (ROOT / path).exists()


@pytest.mark.parametrize("picture", sorted(set(re.findall(r"!\[.*?\]\((.*?)\)", README))))
def test_every_picture_in_readme_exists(picture: str):
    assert (ROOT / picture).is_file()


def test_readme_shows_four_pictures():
    assert len(re.findall(r"!\[.+?\]\(static/help/\w+\.png\)", README)) == 4


def test_locked_versions_are_pins_only():
    for name in ("requirements.txt", "requirements-test.txt"):
        for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
            assert line.startswith("#") or re.match(r"^[\w.-]+(\[\w+\])?==[\w.]+( ; .+)?$", line), line
