"""Imports point one way, and the tuples of kinds agree with the models."""

import ast
from collections import Counter
from pathlib import Path

import pytest
from django.apps import apps
from django.db.models import OneToOneField

from nursery.models import Act, LivingThing
from nursery.records import registry

ROOT = Path(__file__).parent.parent

MAY_IMPORT = {
    "nursery/site": {"nursery", "breeding", "labels"},
    "nursery": {"nursery"},
    "breeding": {"nursery", "breeding"},
    "labels": {"nursery", "breeding", "labels"},
}
"""Which of our packages each may import; the longest that fits a file's path holds. Only nursery.site is for itself."""

WITHOUT_DJANGO = (
    *(
        f"nursery/{name}.py"
        for name in (
            "days",
            "damm",
            "names",
            "parentage",
            "cites",
            "seen",
            "milestones",
            "standing",
            "tracing",
            "stored_descent",
            "pictures",
        )
    ),
    "breeding/science/*.py",
    "breeding/milestones/*.py",
    "nursery/site/moving/tables/*.py",
    "nursery/site/typed_day.py",
)


def _files(package: str) -> list[Path]:
    return [file for file in sorted((ROOT / package).rglob("*.py")) if "migrations" not in file.parts]


def _imports(file: Path) -> set[str]:
    """Every module that a file imports, wherever in the file it does."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{file}: import by the full name"
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return names


def _package(file: Path) -> str:
    path = file.relative_to(ROOT).as_posix()
    return max((one for one in MAY_IMPORT if path.startswith(f"{one}/")), key=len)


OURS = [file for package in ("nursery", "breeding", "labels") for file in _files(package)]


@pytest.mark.parametrize("file", OURS, ids=lambda file: file.relative_to(ROOT).as_posix())
def test_imports_point_one_way(file: Path) -> None:
    package = _package(file)
    ours = {name for name in _imports(file) if name.split(".")[0] in {"nursery", "breeding", "labels"}}
    wrong = {name for name in ours if name.split(".")[0] not in MAY_IMPORT[package]}
    if package != "nursery/site":
        wrong |= {name for name in ours if name.startswith("nursery.site")}
    assert not wrong


@pytest.mark.parametrize("pattern", WITHOUT_DJANGO)
def test_what_is_pure_knows_no_django_and_no_database(pattern: str) -> None:
    files = list(ROOT.glob(pattern))
    assert files
    for file in files:
        impure = {
            name for name in _imports(file) if name.split(".")[0] == "django" or ".models" in name or ".records" in name
        }
        assert not impure, file.name


# --- kinds ---


def _ours() -> list[type]:
    return [model for label in ("nursery", "breeding", "labels") for model in apps.get_app_config(label).get_models()]


def test_every_kind_of_thing_is_registered_once() -> None:
    living = {model for model in _ours() if issubclass(model, LivingThing)}
    kinds = registry.thing_kinds()
    assert {kind.model for kind in kinds.values()} == living
    assert len(kinds) == len({kind.slug for kind in kinds.values()}) == len({kind.rank for kind in kinds.values()})


def test_every_table_of_details_belongs_to_one_kind_of_act() -> None:
    details = {
        model for model in _ours() if isinstance(model._meta.pk, OneToOneField) and model._meta.pk.related_model is Act
    }
    used = Counter(kind.detail for kind in registry.act_kinds().values() if kind.detail)
    assert dict(used) == dict.fromkeys(details, 1)


def test_what_stands_above_a_thing_is_locked_before_it() -> None:
    """The order of locks is the order in which things come from each other, so upstream ranks are lower."""
    for kind in registry.thing_kinds().values():
        for path in kind.upstream:
            model = kind.model
            for name in path.split("."):
                model = model._meta.get_field(name).related_model
            assert registry.thing_kind(model._meta.model_name).rank < kind.rank


def test_summaries_and_what_follows_are_of_known_kinds() -> None:
    known = set(registry.thing_kinds())
    assert {"clone", "cross"} == {code for code in known if registry.summaries_of(code)}
