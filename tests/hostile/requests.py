"""Requests that no form of the shop's would send."""

from dataclasses import dataclass, field
from typing import Any

FORM = "application/x-www-form-urlencoded"
PARTS = "multipart/form-data; boundary=b"
METHODS = (
    "GET",
    "HEAD",
    "OPTIONS",
    "POST",
    "PUT",
    "PATCH",
    "DELETE",
    "TRACE",
    "CONNECT",
    "PROPFIND",
    "BREW",
)
BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbbbbbb">'
    b'<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]><a>&c;</a>'
)


@dataclass(frozen=True)
class Sent:
    """A request: its method, its body, how it is declared, and more headers."""

    what: str
    method: str = "POST"
    body: bytes = b""
    kind: str = FORM
    headers: dict[str, Any] = field(default_factory=dict)

    def __str__(self):
        return f"{self.method} {self.what}"


def part(name: str, value: bytes, more: str = "") -> bytes:
    """Spell one part of a multipart body."""
    head = f'--b\r\nContent-Disposition: form-data; name="{name}"{more}\r\n\r\n'
    return head.encode() + value + b"\r\n"


def every_method() -> list[Sent]:
    """Ask with each method, empty."""
    return [Sent("with nothing", method=method) for method in METHODS]


def strange_bodies() -> list[Sent]:
    """Send bodies that are not what they are declared to be, or nothing known."""
    deep = b"[" * 100_000 + b"]" * 100_000
    return [
        Sent("JSON", body=b'{"number": "L0001"}', kind="application/json"),
        Sent("deep JSON", body=deep, kind="application/json"),
        Sent("XML that grows", body=BOMB, kind="application/xml"),
        Sent("no declared type", body=b"a=1", kind=""),
        Sent("a type that is none", body=b"a=1", kind="\x01/;;=;"),
        Sent("another charset", body=b"a=%2B2AA-", kind=f"{FORM}; charset=utf-7"),
        Sent("bytes as charset", body=b"a=1", kind=f"{FORM}; charset=hex"),
        Sent("an unknown charset", body=b"a=1", kind=f"{FORM}; charset=none"),
        Sent("broken escapes", body=b"a=%zz&%=&=%&&&form_key=%ff%fe"),
        Sent("bytes that are no UTF-8", body=b"name=\xff\xfe\xc3&form_key=\x80"),
        Sent("NUL bytes", body=b"name=a%00b&form_key=%00&kind=%00&number=%00"),
        Sent("2001 fields", body=b"&".join(b"f%d=1" % i for i in range(2001))),
        Sent("one name 1000 times", body=b"&".join([b"name=x"] * 1000)),
        *strange_parts(),
        *strange_lengths(),
    ]


def strange_parts() -> list[Sent]:
    """Send multipart bodies that end early, nest, or lie."""
    good = part("name", b"x")
    file = part("photo", b"x", '; filename="../../a\\0.jpg"')
    many = b"".join(part(f"f{i}", b"x", '; filename="x"') for i in range(101))
    return [
        Sent("no boundary", body=good, kind="multipart/form-data"),
        Sent("a boundary too long", body=good, kind=f"{PARTS}{'b' * 400}"),
        Sent(
            "a boundary of another script", body=good, kind="multipart/x; boundary=\xe9"
        ),
        Sent("parts cut short", body=good[:-9], kind=PARTS),
        Sent("parts without an end", body=good, kind=PARTS),
        Sent("a file named like a path", body=file + b"--b--", kind=PARTS),
        Sent("a name with NUL", body=part("a\0", b"\0") + b"--b--", kind=PARTS),
        Sent("101 files", body=many + b"--b--", kind=PARTS),
        Sent(
            "base64 that is none",
            body=part(
                "photo", b"!!!", '; filename="a"\r\nContent-Transfer-Encoding: base64'
            )
            + b"--b--",
            kind=PARTS,
        ),
        Sent(
            "parts in another charset",
            body=part("name", b"+2AA-") + b"--b--",
            kind=f"{PARTS}; charset=utf-7",
        ),
        Sent("parts in bytes", body=good + b"--b--", kind=f"{PARTS}; charset=hex"),
    ]


def strange_lengths() -> list[Sent]:
    """Declare lengths that are not those of the body."""
    return [
        Sent("a length of a terabyte", headers={"CONTENT_LENGTH": str(2**40)}),
        Sent("a length that is none", headers={"CONTENT_LENGTH": "many"}),
        Sent("a length below zero", headers={"CONTENT_LENGTH": "-1"}, body=b"a=1"),
        Sent("6 MB of a form", body=b"a=" + b"x" * (6 * 2**20)),
        Sent("26 MB of parts", body=b"x" * (26 * 2**20), kind=PARTS),
    ]


def strange_headers() -> list[Sent]:
    """Ask with headers and cookies that lie."""
    return [
        Sent(
            "a session that is none", method="GET", headers=cookie("sessionid=x" * 300)
        ),
        Sent(
            "NUL in a cookie", method="GET", headers=cookie('sessionid="abcdefgh\\000"')
        ),
        Sent("a forged device", method="GET", headers=cookie('bench="a:b:c\\000"')),
        Sent(
            "forged messages", method="GET", headers=cookie("messages=[[[;csrftoken=x")
        ),
        Sent(
            "many languages", method="GET", headers={"HTTP_ACCEPT_LANGUAGE": "x" * 9000}
        ),
        Sent("a long agent", method="GET", headers={"HTTP_USER_AGENT": "x" * 9000}),
        Sent("a range", method="GET", headers={"HTTP_RANGE": "bytes=9-1,-5,x"}),
        Sent(
            "days that are none",
            method="GET",
            headers={"HTTP_IF_MODIFIED_SINCE": "x", "HTTP_IF_NONE_MATCH": '"'},
        ),
        Sent(
            "another address", method="GET", headers={"HTTP_X_FORWARDED_FOR": "x,'\""}
        ),
        Sent(
            "another method within",
            headers={"HTTP_X_HTTP_METHOD_OVERRIDE": "DELETE"},
        ),
    ]


def cookie(text: str) -> dict[str, str]:
    """Send exactly this as the cookies."""
    return {"HTTP_COOKIE": text}
