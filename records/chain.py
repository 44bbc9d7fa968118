"""The digest chain that shows whether the ledger was altered.

An entry's digest is the SHA-256 of the previous entry's digest followed by the
entry's own canonical bytes (RFC 8785). The bytes are stored as they were digested,
so that a chain can be verified for as long as SHA-256 can be computed.

The chain shows a change anywhere before its last digest. Someone who rewrites the
tail, or cuts it off, is found only by a digest kept elsewhere, such as one printed
on a conformity record.
"""

import hashlib
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final, NamedTuple

import rfc8785

GENESIS: Final = "0" * 64
_LARGEST_INTEGER: Final = 2**53 - 1
_DIGEST: Final = re.compile(r"[0-9a-f]{64}")


class Link(NamedTuple):
    """An entry as stored: its number, its bytes and the two digests."""

    sequence: int
    previous: str
    body: bytes
    digest: str


class Break(NamedTuple):
    """A place where the chain does not hold, and a sentence that says why."""

    sequence: int
    sentence: str


def canonical(body: Mapping[str, Any]) -> bytes:
    """Return the one RFC 8785 spelling of a body of facts.

    Parameters
    ----------
    body : Mapping
        Facts as None, bool, int, float, str, list, tuple and dict with string keys.

    Returns
    -------
    bytes
        UTF-8 JSON, keys sorted, without white space.

    Raises
    ------
    TypeError
        A value or key of another type. Decimals and times go in as strings, so that
        their digits and zone are kept as written.
    ValueError
        A float that is not finite, an integer of 2**53 or more either side of zero,
        or a string that UTF-8 cannot hold.

    References
    ----------
    RFC 8785, JSON Canonicalization Scheme (2020).
    """
    facts = dict(body)
    try:
        return rfc8785.dumps(facts)
    except (rfc8785.CanonicalizationError, UnicodeEncodeError):
        raise next(_unfit(facts, "body")) from None


def digest(previous: str, body: bytes) -> str:
    """Return the digest of an entry, chained to the one before it.

    Parameters
    ----------
    previous : str
        Digest of the entry before, `GENESIS` for the first.
    body : bytes
        Canonical bytes of the entry.

    Returns
    -------
    str
        SHA-256 over the 32 bytes of `previous` followed by `body`, in 64 lower-case
        hexadecimal digits.

    Raises
    ------
    ValueError
        `previous` is not 64 lower-case hexadecimal digits.

    References
    ----------
    FIPS 180-4, Secure Hash Standard (2015).
    """
    if not _DIGEST.fullmatch(previous):
        raise ValueError(
            f"previous digest {previous!r} is not 64 lower-case hexadecimal digits"
        )
    hashed = hashlib.sha256(bytes.fromhex(previous))
    hashed.update(body)
    return hashed.hexdigest()


def verify_chain(
    entries: Iterable[Link], *, sequence: int = 0, previous: str = GENESIS
) -> Iterator[Break]:
    """Yield every break of a chain, reading each entry once.

    A repeated or misplaced entry has no place in the chain: its own digest is
    checked, and the chain goes on from the entry before it.

    Parameters
    ----------
    entries : Iterable of Link
        Entries in the order they are stored, from the first or from just after a
        trusted entry.
    sequence : int
        Number of the trusted entry; 0 to verify from the first.
    previous : str
        Digest of the trusted entry; `GENESIS` to verify from the first.

    Yields
    ------
    Break
        Number of the entry and what is wrong there; none when the chain holds.
    """
    for entry in entries:
        if entry.sequence <= sequence:
            yield Break(entry.sequence, _misplaced(entry.sequence, sequence))
        else:
            if entry.sequence > sequence + 1:
                yield Break(entry.sequence, _gap(entry.sequence, sequence))
            if entry.previous != previous:
                yield Break(entry.sequence, _unlinked(entry.sequence, sequence))
            sequence, previous = entry.sequence, entry.digest
        if not _holds(entry):
            yield Break(entry.sequence, _altered(entry.sequence))


def _holds(entry: Link) -> bool:
    try:
        return digest(entry.previous, entry.body) == entry.digest
    except ValueError:
        return False


def _altered(sequence: int) -> str:
    return f"entry {sequence} was altered: its digest is not that of its stored bytes"


def _misplaced(sequence: int, last: int) -> str:
    return f"entry {sequence} comes after entry {last}: it is repeated or out of order"


def _unlinked(sequence: int, last: int) -> str:
    before = f"the digest of entry {last}" if last else "the start of the chain"
    return f"entry {sequence} does not follow {before}"


def _gap(sequence: int, last: int) -> str:
    first_missing, last_missing = last + 1, sequence - 1
    if first_missing == last_missing:
        return f"entry {first_missing} is missing before entry {sequence}"
    return (
        f"entries {first_missing} to {last_missing} are missing before entry {sequence}"
    )


def _unfit(value: object, where: str) -> Iterator[TypeError | ValueError]:
    """Yield a complaint for each part of the facts that JSON cannot hold."""
    match value:
        case dict():
            for key, item in value.items():
                yield from _unfit_key(key, where)
                yield from _unfit(item, f"{where}.{key}")
        case list() | tuple():
            for index, item in enumerate(value):
                yield from _unfit(item, f"{where}[{index}]")
        case _:
            yield from _unfit_scalar(value, where)


def _unfit_key(key: object, where: str) -> Iterator[TypeError | ValueError]:
    if isinstance(key, str):
        yield from _unfit_scalar(key, f"a key of {where}")
    else:
        yield TypeError(f"{where} has a key {key!r}: write every key as a string")


def _unfit_scalar(value: object, where: str) -> Iterator[TypeError | ValueError]:
    match value:
        case None | bool():
            return
        case str():
            if not _is_unicode(value):
                yield ValueError(f"{where} is {value!r}, which UTF-8 cannot hold")
        case int():
            if abs(value) > _LARGEST_INTEGER:
                yield ValueError(f"{where} is {value}: write so large a number as text")
        case float():
            if not math.isfinite(value):
                yield ValueError(f"{where} is {value}, which is not a finite number")
        case _:
            kind = type(value).__name__
            yield TypeError(f"{where} is a {kind}: write it as a string first")


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True
