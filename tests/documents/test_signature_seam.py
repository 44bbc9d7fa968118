"""Not a digit may change in the place of the signature itself.

Readers pass over them: without this check one digit in some forty of the envelope
could be changed unseen (found by trying every one).
"""

import io

import pytest
from pyhanko.pdf_utils.reader import PdfFileReader

from records.documents.keys import make_keys
from records.documents.paper import paper
from records.documents.pdf import render_pdf
from records.documents.pdf_signature import check_signature, sign_pdf
from records.documents.signature_seam import seam_is_clean
from tests.documents.conformity_sample import AT


@pytest.fixture(scope="module")
def keys(tmp_path_factory):
    return make_keys(tmp_path_factory.mktemp("keys"), "Test Airscrew Works", AT)


@pytest.fixture(scope="module")
def signed(keys):
    context = paper(title="T", shop="S")
    pdf = render_pdf("documents/paper.html", context, drawn_at=AT)
    return sign_pdf(pdf, keys, signer="Mara Holt", place="Millbrook")


def seam(pdf):
    signature = PdfFileReader(io.BytesIO(pdf)).embedded_regular_signatures[-1]
    start, length, end, _ = (int(n) for n in signature.byte_range)
    return start + length, end


def test_the_seam_is_clean_as_signed(signed, keys):
    assert seam_is_clean(signed, keys.public)


def test_every_digit_of_the_envelope_counts(signed, keys):
    """Every third: a changed digit never passes both, here and the signature."""
    start, end = seam(signed)
    for at in range(start + 1, end - 1, 3):
        changed = bytearray(signed)
        changed[at] = ord("1") if changed[at] == ord("0") else ord("0")
        if seam_is_clean(bytes(changed), keys.public):
            assert not check_signature(bytes(changed), keys.public).genuine, at


def test_another_shops_key_does_not_pack_the_same(signed, tmp_path):
    other = make_keys(tmp_path, "Another", AT)
    assert not seam_is_clean(signed, other.public)
