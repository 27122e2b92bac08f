#!/usr/bin/env python
"""Tepal's commands: `manage.py help` lists them."""

import os
import sys

from nursery.site.env import BadSetting


def main() -> None:
    """Run one command; a setting that makes no sense ends in its sentence instead of a traceback."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nursery.site.settings")
    if sys.argv[1:2] == ["demo"]:
        # The demo lives in a folder and database of its own, so this must stand before the settings are read.
        os.environ["TEPAL_DEMO"] = "yes"
    from django.core.management import execute_from_command_line  # after the line above: it may read the settings

    try:
        execute_from_command_line(sys.argv)
    except BadSetting as refusal:
        sys.exit(str(refusal))


if __name__ == "__main__":
    main()
