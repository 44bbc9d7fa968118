"""A seal holds for exactly the sealed bytes and the shop's key, in any library."""

import datetime as dt
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jwcrypto import jwk, jws

from records.documents.keys import make_keys
from records.documents.seal import seal_facts, seal_is_genuine

FACTS = b'{"serial":"2026-001","track_mm":"0.8"}'


@pytest.fixture(scope="module")
def keys(tmp_path_factory):
    moment = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)
    return make_keys(tmp_path_factory.mktemp("keys"), "Test Airscrew Works", moment)


@pytest.fixture(scope="module")
def seal(keys):
    return seal_facts(FACTS, keys.private_jwk, keys.public.name)


def test_a_seal_is_genuine_for_its_facts_and_key(keys, seal):
    assert seal_is_genuine(FACTS, seal, keys.public.jwk)


def test_an_independent_library_agrees(keys, seal):
    """Checked with jwcrypto, which shares no code with joserfc."""
    token = jws.JWS()
    token.allowed_algs = ["Ed25519"]
    token.deserialize(seal)
    token.verify(jwk.JWK(**keys.public.jwk), detached_payload=FACTS)
    assert token.is_valid


def test_the_seal_names_its_key(keys, seal):
    token = jws.JWS()
    token.deserialize(seal)
    assert json.loads(token.objects["protected"])["kid"] == keys.public.name


def test_another_key_does_not_make_it_genuine(seal, tmp_path):
    moment = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)
    other = make_keys(tmp_path, "Another shop", moment)
    assert not seal_is_genuine(FACTS, seal, other.public.jwk)


@given(
    at=st.integers(0, len(FACTS) - 1),
    bit=st.integers(0, 7),
)
def test_one_changed_bit_is_found(keys, seal, at, bit):
    changed = bytearray(FACTS)
    changed[at] ^= 1 << bit
    assert not seal_is_genuine(bytes(changed), seal, keys.public.jwk)


@pytest.mark.parametrize("text", ["", ".", "..", "a..b", "a.b.c", "a.b.c.d", "ü..ü"])
def test_what_is_no_seal_is_not_genuine(keys, text):
    assert not seal_is_genuine(FACTS, text, keys.public.jwk)
