"""The shop's keys: made once, kept in files that only the service reads.

Two pairs under one name: an Ed25519 key seals facts, an ECDSA P-256 key with its
certificate signs PDFs (readers of PDF know P-256 better). The private parts never
enter the database; the public parts are given to anybody who asks.
"""

import datetime as dt
import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = "keys/seals"
CURRENT = "current"
PUBLIC = "public"
CERTIFICATE_YEARS = 40


@dataclass(frozen=True, slots=True)
class PublicKeys:
    """What a stranger needs to prove a paper genuine."""

    name: str
    jwk: dict[str, Any]
    certificate: str

    def as_json(self) -> str:
        """Spell the keys for a file."""
        facts = {"certificate": self.certificate, "jwk": self.jwk, "name": self.name}
        return json.dumps(facts, indent=1, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "PublicKeys":
        """Read the keys from a file's text.

        Raises
        ------
        ValueError
            When the text is not a file of public keys.
        """
        try:
            facts = json.loads(text)
            return cls(facts["name"], facts["jwk"], facts["certificate"])
        except (KeyError, TypeError, ValueError) as error:
            raise ValueError("this is not a file of the shop's public keys") from error


@dataclass(frozen=True, slots=True)
class Keys:
    """Both private keys, and what the public may have of them."""

    public: PublicKeys
    private_jwk: dict[str, Any]
    private_pem: str


def make_keys(data: Path, shop: str, moment: dt.datetime) -> Keys:
    """Make new keys and make them current; older ones stay, to prove older papers."""
    keys = _new_keys(shop, moment)
    folder = data / FOLDER
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    _write_private(folder / f"{keys.public.name}.json", _spelled(keys))
    pending = folder / f"{CURRENT}.new"
    pending.unlink(missing_ok=True)
    _write_private(pending, keys.public.name)
    pending.replace(folder / CURRENT)
    return keys


def current_keys(data: Path) -> Keys | None:
    """Read the current keys, or None when there are none (lost, or not yet made)."""
    current = data / FOLDER / CURRENT
    if not current.exists():
        return None
    path = data / FOLDER / f"{current.read_text()}.json"
    return _read(path) if path.exists() else None


def every_public_key(data: Path) -> list[PublicKeys]:
    """Read the public part of every key in the folder, also of those come alone."""
    own = [_read(path).public for path in sorted((data / FOLDER).glob("*.json"))]
    names = {public.name for public in own}
    alone = sorted((data / FOLDER / PUBLIC).glob("*.json"))
    others = [PublicKeys.from_json(path.read_text()) for path in alone]
    return own + [public for public in others if public.name not in names]


def keep_public_key(data: Path, public: PublicKeys) -> None:
    """Keep a public key without its private part, to prove papers of another book."""
    folder = data / FOLDER / PUBLIC
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path = folder / f"{public.name}.json"
    if not path.exists():
        _write_private(path, public.as_json())


def _new_keys(shop: str, moment: dt.datetime) -> Keys:
    from cryptography.hazmat.primitives.asymmetric import ec  # noqa: PLC0415
    from cryptography.hazmat.primitives.serialization import (  # noqa: PLC0415
        Encoding,
        NoEncryption,
        PrivateFormat,
    )
    from joserfc.jwk import OKPKey  # noqa: PLC0415

    seal = OKPKey.generate_key("Ed25519")
    name = seal.thumbprint()
    signing = ec.generate_private_key(ec.SECP256R1())
    pem = signing.private_bytes(
        Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()
    ).decode()
    certificate = _certificate(signing, shop, name, moment)
    public = PublicKeys(name, dict(seal.as_dict(private=False)), certificate)
    return Keys(public, dict(seal.as_dict(private=True)), pem)


def _certificate(signing: Any, shop: str, name: str, moment: dt.datetime) -> str:
    from cryptography import x509  # noqa: PLC0415
    from cryptography.hazmat.primitives import hashes  # noqa: PLC0415
    from cryptography.hazmat.primitives.serialization import Encoding  # noqa: PLC0415
    from cryptography.x509.oid import NameOID  # noqa: PLC0415

    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.COMMON_NAME, shop[:64]),
            x509.NameAttribute(NameOID.ORGANIZATIONAL_UNIT_NAME, name[:64]),
        ]
    )
    usage = x509.KeyUsage(
        digital_signature=True,
        content_commitment=True,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )
    built = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(signing.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(moment - dt.timedelta(days=1))
        .not_valid_after(moment + dt.timedelta(days=365 * CERTIFICATE_YEARS))
        .add_extension(usage, critical=True)
        .sign(signing, hashes.SHA256())
    )
    return built.public_bytes(Encoding.PEM).decode()


def _spelled(keys: Keys) -> str:
    facts = {
        "private_jwk": keys.private_jwk,
        "private_pem": keys.private_pem,
        "public": json.loads(keys.public.as_json()),
    }
    return json.dumps(facts, indent=1, sort_keys=True)


def _read(path: Path) -> Keys:
    facts = json.loads(path.read_text())
    public = PublicKeys.from_json(json.dumps(facts["public"]))
    return Keys(public, facts["private_jwk"], facts["private_pem"])


def _write_private(path: Path, text: str) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
