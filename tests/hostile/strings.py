"""What a stranger types: strings that break programs which believe them.

From memory, after the lists that testers pass on (SQL and template injection, path
traversal, broken Unicode, numbers out of range); none is copied from a product.
"""

LONG = "A" * 5000
NUL = "lot\0L0001"
STRINGS = (
    "",
    " ",
    NUL,
    "' OR '1'='1' --",
    '"; DROP TABLE records_lot; --',
    "<script>alert(1)</script>",
    "{{ 7*7 }}{% debug %}",
    "%s%s%n{0}{0.__class__}",
    "../../../../etc/passwd",
    "..\\..\\windows\\win.ini",
    "\r\nSet-Cookie: owned=1",
    '=HYPERLINK("http://evil.example")',
    "\u202e\u0000\ufeff\uffff",
    "\U0001f4a9" * 40,
    "e\u0301" * 300,
    LONG,
    "9" * 5000,
    "-1",
    "99999999999999999999",
    "1e400",
    "NaN",
    "-Infinity",
    "0x10",
    "\u0661\u0662",
    "2026-02-30",
    "9999-12-31T23:59",
    "0001-01-01T00:00",
    "true",
    "null",
    "[]",
    "00000000-0000-0000-0000-000000000000",
)
# One of each kind, where every string on every page would take minutes.
FEW = (
    NUL,
    "' OR '1'='1' --",
    "..%2f../etc/passwd",
    "<script>\u202e{{ 7*7 }}%s{0}",
    LONG,
    "99999999999999999999",
    "-1",
    "\U0001f4a9\ufffe",
)
