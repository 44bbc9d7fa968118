"""Every name that the program reads from a query or a form, from its own source."""

import re
from pathlib import Path

import records.web

ROOT = Path(records.web.__file__).parent
_READ = re.compile(r"""\.get(?:list)?\(\s*["'](\w+)["']""")
_FIELD = re.compile(r"""^\s+(\w+) = (?:\w+\.)*\w*(?:Field|Filter|Choice)\(""", re.M)


def query_names():
    """List what may stand in a query: read by a view, a filter or a list."""
    result = {"sort", "page", "per_page", "export", "next"}
    for path in ROOT.rglob("*.py"):
        source = path.read_text()
        result |= {*_READ.findall(source), *_FIELD.findall(source)}
    return sorted(name for name in result if not name.isupper())
