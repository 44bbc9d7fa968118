"""The system library that PDF documents need."""

import subprocess
import sys

_SECONDS = 60
MISSING = """\
PDF documents can't be made yet: a system library is missing. Install it with
  apt-get install libpangoft2-1.0-0 libharfbuzz-subset0
(as root, or after sudo). Everything else works without it."""


def what_is_missing() -> str:
    """Say what to install for PDF documents; "" where nothing is missing.

    The library is tried in another process, which keeps it out of the server's memory.
    """
    tried = subprocess.run(
        [sys.executable, "-c", "import weasyprint"],
        capture_output=True,
        check=False,
        timeout=_SECONDS,
    )
    return "" if tried.returncode == 0 else MISSING
