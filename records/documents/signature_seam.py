"""The one place in a signed PDF that its signature can't cover: its own."""

import io

from records.documents.keys import PublicKeys


def seam_is_clean(pdf: bytes, public: PublicKeys) -> bool:
    """Tell whether the signature's own place in the file is as it was written.

    A signature can't cover itself: readers pass over its padding, the case of its
    digits, and what its envelope says twice. So the envelope is packed once more from
    what was signed, and held against the file byte by byte.
    """
    try:
        return _is_as_packed(pdf, public)
    except Exception:  # a damaged file breaks its reader anywhere
        return False


def _is_as_packed(pdf: bytes, public: PublicKeys) -> bool:
    from pyhanko.pdf_utils.reader import PdfFileReader  # noqa: PLC0415

    signature = PdfFileReader(io.BytesIO(pdf)).embedded_regular_signatures[-1]
    start, length, end, _ = (int(n) for n in signature.byte_range)
    room = (end - start - length - 2) // 2
    packed = _packed(bytes(signature.pkcs7_content), public).ljust(room, b"\0")
    written = b"<" + packed.hex().upper().encode() + b">"
    return pdf[start + length : end] == written


def _packed(content: bytes, public: PublicKeys) -> bytes:
    """Pack what was signed, and the signature, into an envelope as the shop does."""
    from asn1crypto import cms, core, pem, x509  # noqa: PLC0415

    *_, der = pem.unarmor(public.certificate.encode())
    certificate = x509.Certificate.load(der)
    signer_info = cms.ContentInfo.load(content)["content"]["signer_infos"][0]
    sha256 = {"algorithm": "sha256", "parameters": core.Null()}
    signer = {
        "version": "v1",
        "sid": cms.SignerIdentifier(
            name="issuer_and_serial_number",
            value=cms.IssuerAndSerialNumber(
                {
                    "issuer": certificate.issuer,
                    "serial_number": certificate.serial_number,
                }
            ),
        ),
        "digest_algorithm": sha256,
        "signed_attrs": signer_info["signed_attrs"],
        "signature_algorithm": {"algorithm": "sha256_ecdsa"},
        "signature": signer_info["signature"].native,
    }
    data = {
        "version": "v1",
        "digest_algorithms": [sha256],
        "encap_content_info": {"content_type": "data"},
        "certificates": [certificate],
        "signer_infos": [signer],
    }
    whole = {"content_type": "signed_data", "content": cms.SignedData(data)}
    return bytes(cms.ContentInfo(whole).dump())
