"""A signed PDF is genuine whole, and only whole, and only from this shop."""

import datetime as dt
import io

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from records.documents.keys import make_keys
from records.documents.pdf_signature import check_signature, sign_pdf

MOMENT = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def keys(tmp_path_factory):
    return make_keys(tmp_path_factory.mktemp("keys"), "Test Airscrew Works", MOMENT)


@pytest.fixture(scope="module")
def plain():
    writer = pypdf.PdfWriter()
    writer.add_blank_page(200, 200)
    file = io.BytesIO()
    writer.write(file)
    return file.getvalue()


@pytest.fixture(scope="module")
def signed(plain, keys):
    return sign_pdf(plain, keys, signer="A. Maker", place="Millbrook")


def test_a_signed_pdf_is_genuine(signed, keys):
    assert check_signature(signed, keys.public).genuine


def test_a_plain_pdf_is_not_signed(plain, keys):
    assert not check_signature(plain, keys.public).signed


def test_another_shop_s_key_does_not_make_it_genuine(signed, tmp_path):
    other = make_keys(tmp_path, "Another shop", MOMENT)
    check = check_signature(signed, other.public)
    assert check.signed
    assert not check.by_this_shop
    assert not check.genuine


def test_something_added_behind_the_signature_is_found(signed, keys):
    assert not check_signature(signed + b"\n% more", keys.public).genuine


def test_what_is_no_pdf_is_not_genuine(keys):
    assert not check_signature(b"not a pdf", keys.public).genuine
    assert not check_signature(b"", keys.public).genuine


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_one_changed_byte_is_found(signed, keys, data):
    """Wherever it is: outside the signature's own padding of zeros."""
    at = data.draw(st.integers(0, len(signed) - 1))
    changed = bytearray(signed)
    if changed[at : at + 1] == b"0":
        return
    changed[at] ^= 0x01
    assert not check_signature(bytes(changed), keys.public).genuine
