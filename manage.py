#!/usr/bin/env python
"""Run a command of the shop's record system."""

import os
import sys


def main() -> None:
    """Run the command that the arguments name."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shopqa.settings")
    try:
        from django.core.management import execute_from_command_line
    except ImportError as missing:
        raise SystemExit(
            "Django is not installed here. Run the first command of README.md, "
            "or start this with .venv/bin/python."
        ) from missing
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
