"""The conformity record: from its facts to the bytes of an archival PDF.

The same facts, seal and photo give the same bytes, as long as this code is the same.
"""

import base64
import datetime as dt
import hashlib
import json
from collections.abc import Mapping
from typing import Any, Final

from records import chain
from records.documents.conformity.declared import deviations, statement
from records.documents.conformity.form import (
    construction,
    heading,
    identity,
    mounting,
)
from records.documents.conformity.measured import measured
from records.documents.conformity.owner import link, log_sheet, owner_part
from records.documents.form import Cell, Section
from records.documents.paper import paper, size_for
from records.documents.pdf import Enclosure, render_pdf
from records.documents.spelling import Speller, as_frozen, in_groups
from records.documents.tags.qr import qr_data_uri

FACTS_NAME: Final = "facts.json"
SEAL_NAME: Final = "facts.jws"


def facts_digest(facts: Mapping[str, Any]) -> str:
    """Digest facts: SHA-256 over their RFC 8785 spelling, 64 hexadecimal digits."""
    return hashlib.sha256(chain.canonical(facts)).hexdigest()


def key_name(seal: str) -> str:
    """Read the name of the key from a seal; "" where there is none."""
    head = seal.split(".", 1)[0]
    padded = head + "=" * (-len(head) % 4)
    try:
        return str(json.loads(base64.urlsafe_b64decode(padded))["kid"])
    except (KeyError, TypeError, ValueError):
        return ""


def draw_conformity(
    facts: Mapping[str, Any], seal: str, *, stamp_photo: bytes | None = None
) -> bytes:
    """Draw a conformity record as PDF/A-3a, with its facts and their seal attached.

    Parameters
    ----------
    facts : Mapping
        As `records.queries.conformity.facts` gives them.
    seal : str
        Detached signature over the canonical facts.
    stamp_photo : bytes, optional
        JPEG of the marking, where the facts name one.
    """
    record = facts["record"]
    issued_at = dt.datetime.fromisoformat(record["issued_at"])
    serial = facts["propeller"]["serial"]
    sheet = paper(
        title=f"Conformity record {record['number']}, propeller {serial}",
        shop=facts["maker"]["name"],
        size=size_for(record["units_first"]),
        about=f"{record['number']} · issue {record['issue']} · serial {serial}",
    )
    picture = qr_data_uri(link(facts))
    with as_frozen(facts):
        context = {
            **sheet,
            "sections": _sections(facts, stamp_photo),
            "owner_sections": [owner_part(facts, picture), log_sheet()],
            "record": record,
            "serial": serial,
            "model": facts["design"]["model"],
            "issued_on": Speller(facts).day(record["issued_at"]),
            "proof": _proof(facts, seal),
        }
    return render_pdf(
        "documents/conformity.html",
        context,
        drawn_at=issued_at,
        enclosures=[
            Enclosure(FACTS_NAME, "Facts of this record", chain.canonical(facts)),
            Enclosure(SEAL_NAME, "Seal over the facts", seal.encode()),
        ],
    )


def _sections(facts: Mapping[str, Any], stamp_photo: bytes | None) -> list[Section]:
    photo = [_stamp(facts, stamp_photo)] if stamp_photo else []
    return [
        heading(facts),
        identity(facts),
        *photo,
        construction(facts),
        mounting(facts),
        measured(facts),
        deviations(facts),
        statement(facts),
    ]


def _stamp(facts: Mapping[str, Any], photo: bytes) -> Section:
    data = base64.b64encode(photo).decode()
    caption = facts["stamp_photo"]["caption"]
    taken = Speller(facts).day(facts["stamp_photo"]["taken_at"])
    return Section(
        "",
        [
            [
                Cell(
                    "4",
                    "Photo of the marking",
                    [caption, f"Taken {taken}"],
                    picture=f"data:image/jpeg;base64,{data}",
                )
            ]
        ],
    )


def _proof(facts: Mapping[str, Any], seal: str) -> list[tuple[str, str]]:
    ledger = facts["ledger"]
    return [
        ("Facts, SHA-256", in_groups(facts_digest(facts))),
        (f"Ledger, entry {ledger['sequence']}", in_groups(ledger["digest"])),
        ("Sealed with key", key_name(seal) or "not sealed"),
        ("Check this paper at", f"{facts['tag']['address'].rstrip('/')}/check/"),
    ]
