"""Is this paper genuine? Told from the file alone, with the shop's public keys.

No database and no network: the PDF carries its facts and their seal, and is signed as
a whole. Whoever has the public keys can ask, also when the shop is gone.
"""

import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from records.documents.conformity.record import (
    FACTS_NAME,
    SEAL_NAME,
    facts_digest,
    key_name,
)
from records.documents.keys import PublicKeys
from records.documents.pdf_signature import check_signature
from records.documents.seal import seal_is_genuine

MOST_BYTES: Final = 20 * 2**20


@dataclass(frozen=True, slots=True)
class Examination:
    """What was found of a paper: the record it is, and every reason against it."""

    number: str
    serial: str
    facts_digest: str
    key: str
    against: tuple[str, ...]

    @property
    def genuine(self) -> bool:
        """Tell whether the whole file is as the shop issued it."""
        return not self.against


def examine(pdf: bytes, public_keys: Sequence[PublicKeys]) -> Examination:
    """Hold a PDF against the shop's public keys, old ones too.

    Parameters
    ----------
    pdf : bytes
        The file, as it is.
    public_keys : Sequence of PublicKeys
        Every key that the shop ever signed with.

    Returns
    -------
    Examination
        Genuine only when the seal over the attached facts and the signature over the
        whole file are good, made with one and the same key of the shop.
    """
    attached = _attached(pdf)
    facts, seal = attached.get(FACTS_NAME), attached.get(SEAL_NAME)
    if facts is None or seal is None:
        return _not_one_of_ours()
    name = key_name(seal.decode("ascii", errors="replace"))
    public = next((key for key in public_keys if key.name == name), None)
    against = list(_against_facts(facts, seal, public))
    if public is not None:
        against += _against_file(pdf, public)
    return Examination(*_named(facts), name, tuple(against))


def _against_facts(
    facts: bytes, seal: bytes, public: PublicKeys | None
) -> Sequence[str]:
    if public is None:
        return ["It was sealed with a key that is not among the shop's keys given."]
    if not seal_is_genuine(facts, seal.decode("ascii", errors="replace"), public.jwk):
        return ["The facts inside are not those that the shop sealed."]
    return []


def _against_file(pdf: bytes, public: PublicKeys) -> Sequence[str]:
    check = check_signature(pdf, public)
    if not check.signed:
        return ["The file carries no signature of the shop."]
    if check.by_this_shop and not check.untouched:
        return ["The file was changed after the shop signed it."]
    if not check.by_this_shop:
        return ["The file was not signed with the shop's key."]
    return []


def _attached(pdf: bytes) -> dict[str, bytes]:
    """Read the files in a PDF; nothing from what is no PDF or is broken."""
    from pyhanko.pdf_utils.reader import PdfFileReader  # noqa: PLC0415 - half a second

    try:
        tree = PdfFileReader(io.BytesIO(pdf)).root["/Names"]["/EmbeddedFiles"]
        names = tree["/Names"] if "/Names" in tree else tree["/Kids"][0]["/Names"]
        return {
            str(names[i + 1]["/UF"]): bytes(names[i + 1]["/EF"]["/F"].data)
            for i in range(0, len(names), 2)
        }
    except Exception:  # a damaged file breaks its reader anywhere
        return {}


def _named(facts: bytes) -> tuple[str, str, str]:
    """Read which record and serial the facts speak of, and their digest."""
    try:
        read: dict[str, Any] = json.loads(facts)
        number = str(read["record"]["number"])
        serial = str(read["propeller"]["serial"])
        digest = facts_digest(read)
    except (KeyError, TypeError, ValueError):
        return "", "", ""
    return number, serial, digest


def _not_one_of_ours() -> Examination:
    sentence = (
        "The file carries no sealed facts: it is no conformity record, or damaged."
    )
    return Examination("", "", "", "", (sentence,))
