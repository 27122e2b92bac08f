"""Imports point one way: labels, then breeding, then nursery; the site imports all, and nothing imports the site."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
MAY_IMPORT = {
    "nursery": {"nursery"},
    "breeding": {"nursery", "breeding"},
    "labels": {"nursery", "breeding", "labels"},
    "nursery.site": {"nursery", "breeding", "labels", "nursery.site", "demo_fixtures"},
}
OURS = {"nursery", "breeding", "labels", "demo_fixtures", "tests"}
PURE = ("breeding/science", "nursery/damm.py", "nursery/days.py", "nursery/names.py")


def _part(module: str) -> str:
    """The part of Tepal that a module belongs to."""
    return "nursery.site" if (module + ".").startswith("nursery.site.") else module.split(".")[0]


def _imported(file: Path) -> set[str]:
    """Every module that a file imports, at its top or later."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            # ``from nursery import site`` names the module only together with what it takes.
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def _against(part: str, file: Path) -> list[str]:
    """What a file imports of Tepal although its part may not."""
    parts = {name: _part(name) for name in _imported(file)}
    return [
        f"{file.relative_to(ROOT)} imports {name}"
        for name, other in sorted(parts.items())
        if other.split(".")[0] in OURS and other not in MAY_IMPORT[part]
    ]


@pytest.mark.parametrize("part", MAY_IMPORT)
def test_imports_point_one_way(part: str):
    files = (ROOT / part.replace(".", "/")).rglob("*.py")
    mine = [path for path in files if _part(".".join(path.relative_to(ROOT).with_suffix("").parts)) == part]
    assert mine, part
    assert [line for path in mine for line in _against(part, path)] == []


@pytest.mark.parametrize("place", PURE)
def test_pure_modules_know_no_django_and_no_database(place: str):
    path = ROOT / place
    files = sorted(path.rglob("*.py")) if path.is_dir() else [path]
    assert [f"{f.name}: {name}" for f in files for name in _imported(f) if name.split(".")[0] == "django"] == []
    assert [f"{f.name}: {name}" for f in files for name in _imported(f) if ".models" in name] == []


def test_an_arrow_that_points_back_is_noticed(tmp_path, monkeypatch):
    monkeypatch.setattr("tests.test_arrows.ROOT", tmp_path)
    wrong = tmp_path / "pods.py"
    wrong.write_text("from nursery import site\nfrom nursery.models import Act\nimport labels.draw\n")
    assert _against("breeding", wrong) == ["pods.py imports labels.draw", "pods.py imports nursery.site"]
