"""Sign a PDF (PAdES, ETSI EN 319 142-1, level B-B) and check such a signature."""

import io
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

from records.documents.keys import Keys, PublicKeys
from records.documents.signature_seam import seam_is_clean

FIELD = "Shop"


@dataclass(frozen=True, slots=True)
class SignatureCheck:
    """What a PDF's signature proves: each part, and a sentence when it does not."""

    signed: bool
    untouched: bool
    by_this_shop: bool

    @property
    def genuine(self) -> bool:
        """Tell whether the whole file is as this shop signed it."""
        return self.signed and self.untouched and self.by_this_shop


def sign_pdf(pdf: bytes, keys: Keys, *, signer: str, place: str) -> bytes:
    """Add the shop's signature over the whole file, without a visible field."""
    from asn1crypto import keys as asn1_keys  # noqa: PLC0415
    from asn1crypto import pem, x509  # noqa: PLC0415
    from pyhanko.pdf_utils.incremental_writer import (  # noqa: PLC0415
        IncrementalPdfFileWriter,
    )
    from pyhanko.sign import signers  # noqa: PLC0415
    from pyhanko.sign.fields import SigSeedSubFilter  # noqa: PLC0415
    from pyhanko_certvalidator.registry import (  # noqa: PLC0415
        SimpleCertificateStore,
    )

    *_, certificate = pem.unarmor(keys.public.certificate.encode())
    *_, private = pem.unarmor(keys.private_pem.encode())
    hand = signers.SimpleSigner(
        signing_cert=x509.Certificate.load(certificate),
        signing_key=asn1_keys.PrivateKeyInfo.load(private),
        cert_registry=SimpleCertificateStore(),  # type: ignore[no-untyped-call]
    )
    about = signers.PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm="sha256",
        subfilter=SigSeedSubFilter.PADES,
        name=signer,
        location=place or None,
        reason="Issued by the shop",
    )
    writer = IncrementalPdfFileWriter(io.BytesIO(pdf))
    signed = _apart(lambda: signers.sign_pdf(writer, about, signer=hand))
    return bytes(signed.getbuffer())


def check_signature(pdf: bytes, public: PublicKeys) -> SignatureCheck:
    """Check that the file is whole since this shop signed it, without any network.

    Somebody else's signature proves nothing about the file here: it counts as
    signed, and no more.
    """
    from pyhanko.pdf_utils.reader import PdfFileReader  # noqa: PLC0415

    signed = False
    try:
        signatures = PdfFileReader(io.BytesIO(pdf)).embedded_regular_signatures
        signed = bool(signatures)
        ours = signed and _is_ours(signatures[-1], public)
        untouched = (
            ours
            and _is_untouched(signatures[-1], public)
            and seam_is_clean(pdf, public)
        )
    except Exception:  # a damaged file breaks its reader anywhere
        return SignatureCheck(signed, untouched=False, by_this_shop=False)
    return SignatureCheck(signed, untouched, by_this_shop=ours)


def _der(public: PublicKeys) -> bytes:
    from asn1crypto import pem  # noqa: PLC0415

    *_, der = pem.unarmor(public.certificate.encode())
    return bytes(der)


def _is_ours(signature: Any, public: PublicKeys) -> bool:
    return bool(signature.signer_cert.dump() == _der(public))


def _is_untouched(signature: Any, public: PublicKeys) -> bool:
    from asn1crypto import x509  # noqa: PLC0415
    from pyhanko.sign.validation import validate_pdf_signature  # noqa: PLC0415
    from pyhanko.sign.validation.status import (  # noqa: PLC0415
        SignatureCoverageLevel,
    )
    from pyhanko_certvalidator import ValidationContext  # noqa: PLC0415

    root = x509.Certificate.load(_der(public))
    context = ValidationContext(trust_roots=[root], allow_fetching=False)
    status = _apart(lambda: validate_pdf_signature(signature, context))
    whole = status.coverage == SignatureCoverageLevel.ENTIRE_FILE
    return bool(status.intact and status.valid and status.trusted and whole)


def _apart(work: Callable[[], Any]) -> Any:
    """Work in a thread of its own: pyHanko starts an event loop, and may find one."""
    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(work).result()
