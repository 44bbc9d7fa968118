"""A stranger with the paper and the public key can prove it, and finds any change.

Seals are checked against jwcrypto, signatures against pyHanko's own validation; both
are independent of the code that made them.
"""

import dataclasses
import io
import json
import random

import pytest
from asn1crypto import pem, x509
from jwcrypto import jwk, jws
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext

from records import chain
from records.documents.conformity.record import draw_conformity
from records.documents.genuine import examine
from records.documents.keys import make_keys
from records.documents.pdf import Enclosure, render_pdf
from records.documents.pdf_signature import sign_pdf
from records.documents.seal import seal_facts
from tests import finished
from tests.documents import conformity_sample, reading

pytestmark = pytest.mark.django_db
AT = conformity_sample.AT
built, facts = finished.built, conformity_sample.facts


@pytest.fixture(scope="module")
def keys(tmp_path_factory):
    return make_keys(tmp_path_factory.mktemp("keys"), "Test Airscrew Works", AT)


@pytest.fixture(scope="module")
def paper(keys, facts):
    seal = seal_facts(chain.canonical(facts), keys.private_jwk, keys.public.name)
    return sign_pdf(
        draw_conformity(facts, seal), keys, signer="Mara Holt", place="Millbrook"
    )


def attached(pdf, name):
    (data,) = reading.reader(pdf).attachments[name]
    return data


def test_the_paper_as_issued_is_genuine(paper, keys):
    result = examine(paper, [keys.public])
    assert result.genuine
    assert (result.number, result.serial) == ("CR00001", "2026-001")
    assert result.key == keys.public.name


def test_jwcrypto_agrees_with_the_seal(paper, keys):
    """RFC 7515 appendix F: a detached payload is put back before it is checked."""
    head, _, signature = attached(paper, "facts.jws").decode().split(".")
    token = jws.JWS()
    token.allowed_algs = ["EdDSA", "Ed25519"]
    token.deserialize(f"{head}..{signature}")
    token.detach_payload()
    token.verify(
        jwk.JWK(**keys.public.jwk), detached_payload=attached(paper, "facts.json")
    )
    assert token.is_valid


def test_pyhanko_finds_the_whole_file_signed_and_trusted(paper, keys):
    *_, der = pem.unarmor(keys.public.certificate.encode())
    trusted = ValidationContext(
        trust_roots=[x509.Certificate.load(der)], allow_fetching=False
    )
    (signature,) = PdfFileReader(io.BytesIO(paper)).embedded_regular_signatures
    status = validate_pdf_signature(signature, trusted)
    assert status.bottom_line
    assert status.coverage.name == "ENTIRE_FILE"


def test_one_changed_byte_anywhere_is_found(paper, keys):
    chance = random.Random(7)  # noqa: S311 - places in a file
    for _ in range(60):
        at = chance.randrange(len(paper))
        changed = bytearray(paper)
        changed[at] ^= 1 << chance.randrange(8)
        assert not examine(bytes(changed), [keys.public]).genuine, at


def test_bytes_added_at_the_end_are_found(paper, keys):
    assert not examine(paper + b"\n% more", [keys.public]).genuine


def test_another_shops_key_proves_nothing(paper, tmp_path):
    other = make_keys(tmp_path, "Another", AT)
    result = examine(paper, [other.public])
    assert not result.genuine
    assert "not among the shop's keys" in result.against[0]


def test_a_key_under_a_borrowed_name_proves_nothing(paper, keys, tmp_path):
    other = make_keys(tmp_path, "Another", AT).public
    borrowed = dataclasses.replace(other, name=keys.public.name)
    result = examine(paper, [borrowed])
    assert "not those that the shop sealed" in result.against[0]


def test_papers_of_an_old_key_stay_genuine_after_a_new_one(paper, keys, tmp_path):
    newer = make_keys(tmp_path, "Test Airscrew Works", AT)
    assert examine(paper, [newer.public, keys.public]).genuine


def test_changed_facts_with_the_old_seal_are_found(facts, keys):
    seal = seal_facts(chain.canonical(facts), keys.private_jwk, keys.public.name)
    other = json.loads(json.dumps(facts))
    other["design"]["max_rpm"] = 3200
    pdf = sign_pdf(draw_conformity(other, seal), keys, signer="X", place="Y")
    result = examine(pdf, [keys.public])
    assert result.against == ("The facts inside are not those that the shop sealed.",)


def test_the_right_facts_in_a_file_without_signature_are_not_enough(facts, keys):
    seal = seal_facts(chain.canonical(facts), keys.private_jwk, keys.public.name)
    result = examine(draw_conformity(facts, seal), [keys.public])
    assert result.against == ("The file carries no signature of the shop.",)


@pytest.mark.parametrize("data", [b"", b"hello", b"%PDF-1.7\n%%EOF", b"\x00" * 500])
def test_what_is_no_record_is_said_to_be_none(data, keys):
    result = examine(data, [keys.public])
    assert not result.genuine
    assert "no conformity record" in result.against[0]


def test_facts_that_are_no_facts_are_no_record(keys):
    pdf = render_pdf(
        "documents/paper.html",
        {"title": "x", "fonts": {}, "size": "A4"},
        drawn_at=AT,
        enclosures=[
            Enclosure("facts.json", "", b"[1"),
            Enclosure("facts.jws", "", b"a..b"),
        ],
    )
    assert not examine(pdf, [keys.public]).genuine
