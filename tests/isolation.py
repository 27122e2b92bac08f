"""First pytest plugin: no run reads or writes the records, photos or settings of the person who starts it.

Loaded by ``-p tests.isolation`` (pyproject.toml), before pytest-django reads the settings, and again in every worker.
"""

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from django.conf import settings

ON_POSTGRESQL = "postgresql"
# A worker's folder stands in that of the run which started it, so that one removal at the end takes all.
FOLDER = tempfile.mkdtemp(prefix="tepal-test-", dir=os.environ.get("TEPAL_TEST_FOLDER"))
RUN = Path(os.environ.get("TEPAL_TEST_FOLDER", FOLDER))
"""What is made once for all workers of a run stands here."""


def clean_environment(environ: Mapping[str, str], folder: str) -> dict[str, str]:
    """The environment for a run: no setting of Tepal's but a data folder of the run's own.

    A database's address stays only where TEPAL_TEST_DATABASE=postgresql asks for it, as `tests/run` does.
    """
    kept = {name: text for name, text in environ.items() if not name.startswith("TEPAL_") or "_TEST_" in name}
    if environ.get("TEPAL_TEST_DATABASE") != ON_POSTGRESQL:
        kept.pop("DATABASE_URL", None)
    # Playwright's loop runs in the test's thread, where Django would take it for asynchronous code.
    return kept | {"TEPAL_DATA": folder, "TEPAL_TEST_FOLDER": folder, "DJANGO_ALLOW_ASYNC_UNSAFE": "true"}


def _apply(environment: Mapping[str, str]) -> None:
    for name in set(os.environ) - set(environment):
        del os.environ[name]
    os.environ.update(environment)


_apply(clean_environment(os.environ, FOLDER))


def pytest_configure() -> None:
    """Hash passwords fast, and take static files by their plain names: nothing is collected for a run.

    SQLite gives what is asked in no order the other way round, so that no test passes by an order that was only usual.
    """
    if (usual := settings.DATABASES["default"].get("OPTIONS", {})).get("init_command"):
        usual["init_command"] += " PRAGMA reverse_unordered_selects=ON;"
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.STORAGES["staticfiles"]["BACKEND"] = "django.contrib.staticfiles.storage.StaticFilesStorage"
    Path(settings.STATIC_ROOT).mkdir(exist_ok=True)


@pytest.hookimpl(trylast=True)
def pytest_unconfigure() -> None:
    """Remove the run's data folder."""
    shutil.rmtree(FOLDER, ignore_errors=True)
