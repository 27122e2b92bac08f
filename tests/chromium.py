"""Which Chromium the browser tests drive. `python tests/chromium.py` prints it, and fails where there is none.

Most of them drive its headless shell where there is one: the same engine without a browser's windows around it, which
takes a third less of a machine. It cannot show a PDF, for which there is the whole browser.
"""

import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

WHOLE = ("chromium", "chromium-browser")
SHELL = ("chromium-headless-shell",)

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # A page lives too short for its scripts to repay being optimised: axe on every page takes a fifth less without.
    "--js-flags=--no-opt,--no-maglev",
]


def launch(*, whole: bool = False) -> dict[str, Any]:
    """What Playwright needs to know to launch it: the distribution's where there is a real one, else Playwright's own.

    Of its own it takes the shell, unless it is asked for the whole one by its channel.
    """
    path = system_chromium() if whole else system_chromium(SHELL) or system_chromium()
    if path:
        return {"args": FLAGS, "executable_path": path}
    return {"args": FLAGS} | ({"channel": "chromium"} if whole else {})


def system_chromium(names: tuple[str, ...] = WHOLE) -> str | None:
    """The distribution's Chromium, or None where there is none, or only a stub.

    Ubuntu's package is a script that asks for a snap, and a snap may not read a test's temporary folder.
    """
    return next((path for name in names if (path := shutil.which(name)) and _is_real(path)), None)


def playwright_chromium() -> str | None:
    """The browser that `playwright install chromium` has put in place, or None."""
    from playwright.sync_api import sync_playwright  # heavy, and not there before the first install

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None


def _is_real(path: str) -> bool:
    """Whether the file starts a browser of its own; asked by its version, which opens no window."""
    if b"snap" in Path(path).read_bytes()[:20_000]:
        return False
    answer = subprocess.run([path, "--version"], capture_output=True, timeout=30, check=False)
    return answer.returncode == 0 and b"Chromium" in answer.stdout


if __name__ == "__main__":
    found = system_chromium() or playwright_chromium()
    if found is None:
        sys.exit("There is no Chromium for the browser tests.")
    print(found)
