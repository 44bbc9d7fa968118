"""Seal facts with the shop's Ed25519 key, and prove a seal, on paper or off.

A seal is a detached JSON Web Signature (RFC 7515, appendix F) over the canonical
bytes of the facts (RFC 8785), with Ed25519 (RFC 8037, RFC 9864).
"""

from typing import Any

ALGORITHM = "Ed25519"


def seal_facts(facts: bytes, private_jwk: dict[str, Any], name: str) -> str:
    """Seal canonical bytes; the seal names its key.

    Parameters
    ----------
    facts : bytes
        Canonical JSON.
    private_jwk : dict
        The private key as a JSON Web Key.
    name : str
        The key's name, put in the header as `kid`.

    Returns
    -------
    str
        A detached JWS in compact form: two full stops with nothing between.

    References
    ----------
    RFC 7515 appendix F (2015); RFC 8037 (2017); RFC 9864 (2025).
    """
    from joserfc import jws  # noqa: PLC0415 - a third of a second to import
    from joserfc.jwk import OKPKey  # noqa: PLC0415

    key = OKPKey.import_key(dict(private_jwk))
    header = {"alg": ALGORITHM, "kid": name}
    whole = jws.serialize_compact(header, facts, key, algorithms=[ALGORITHM])
    head, _, signature = whole.split(".")
    return f"{head}..{signature}"


def seal_is_genuine(facts: bytes, seal: str, jwk: dict[str, Any]) -> bool:
    """Tell whether a seal was made over exactly these bytes with this key."""
    from joserfc import jws  # noqa: PLC0415
    from joserfc.errors import JoseError  # noqa: PLC0415
    from joserfc.jwk import OKPKey  # noqa: PLC0415
    from joserfc.util import urlsafe_b64encode  # noqa: PLC0415

    parts = seal.split(".")
    if len(parts) != 3 or parts[1]:  # noqa: PLR2004 - header, nothing, signature
        return False
    whole = f"{parts[0]}.{urlsafe_b64encode(facts).decode()}.{parts[2]}"
    try:
        jws.deserialize_compact(whole, OKPKey.import_key(jwk), algorithms=[ALGORITHM])
    except (JoseError, ValueError):
        return False
    return True
