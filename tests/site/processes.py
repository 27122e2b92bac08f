"""Tepal's commands in processes of their own, as people run them."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
LONGEST_START = 60  # seconds
# What only the run itself needs; DATABASE_URL because these tests bring data folders of their own.
NOT_PASSED_ON = {"DJANGO_ALLOW_ASYNC_UNSAFE", "DATABASE_URL", "TEPAL_DATA", "TEPAL_TEST_DATABASE", "TEPAL_TEST_FOLDER"}


def environment(folder: Path, **settings: str) -> dict[str, str]:
    """The environment of a nursery whose records are in ``folder``."""
    kept = {name: text for name, text in os.environ.items() if name not in NOT_PASSED_ON}
    return kept | {"DJANGO_SETTINGS_MODULE": "nursery.site.settings", "TEPAL_DATA": str(folder)} | settings


def manage(folder: Path, *arguments: str, typed: str = "", **settings: str) -> subprocess.CompletedProcess[str]:
    """Run one command to its end."""
    return subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=environment(folder, **settings),
        input=typed,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@dataclass(frozen=True)
class Server:
    """A running server: its process, its address on this machine, and the lines it printed at the start."""

    process: subprocess.Popen[str]
    address: str
    said: list[str]


@contextmanager
def serving(folder: Path, *arguments: str, **settings: str) -> Iterator[Server]:
    """A server that answers on a free port until the block ends."""
    process = subprocess.Popen(
        [sys.executable, "manage.py", *arguments, "--port", "0"],
        cwd=ROOT,
        env=environment(folder, **settings),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        said = _lines_until(process, "Stop it with Ctrl-C.")
        yield Server(process, _address(said), said)
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


def _lines_until(process: subprocess.Popen[str], last: str) -> list[str]:
    said: list[str] = []
    until = time.monotonic() + LONGEST_START
    while time.monotonic() < until:
        line = process.stdout.readline()
        if not line:
            raise AssertionError(f"The server ended at its start, saying {said}.")
        said.append(line.rstrip("\n"))
        if said[-1] == last:
            return said
    raise AssertionError(f"The server did not start, saying {said}.")


def _address(said: list[str]) -> str:
    return next(match[0] for line in said if (match := re.search(r"http://127\.0\.0\.1:\d+/", line)))
