"""What a signature covers, its digest, and whether the signature still stands."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from records import chain
from records.models import Reading, SignOff

CHANGED = "what it covers has changed since; it has to be signed again"


@dataclass(frozen=True, slots=True)
class Signature:
    """A sign-off, and why it is void: "" while it stands."""

    signoff: SignOff
    void: str


def digest_of(facts: Mapping[str, Any]) -> str:
    """Digest what a signature covers: SHA-256 of their RFC 8785 spelling."""
    return hashlib.sha256(chain.canonical(facts)).hexdigest()


def reading_facts(reading: Reading) -> dict[str, Any]:
    """Spell a reading as plain values, digit for digit."""
    return {
        "id": reading.pk,
        "characteristic": reading.characteristic.code,
        "blade": reading.blade,
        "station": str(reading.station) if reading.station else None,
        "joint": reading.joint,
        "point": reading.point,
        "entered": reading.entered,
        "unit": reading.unit,
        "verdict": reading.verdict,
        "gauge": reading.gauge.number if reading.gauge else None,
    }


def signature(signoff: SignOff, digest_now: str) -> Signature:
    """Hold a sign-off against the digest of what its stage holds now."""
    return Signature(signoff, "" if signoff.digest == digest_now else CHANGED)
