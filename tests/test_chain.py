"""The digest chain: canonical bytes, digests, and every kind of break."""

import datetime as dt
import hashlib
import json
import math
import struct
import uuid
from decimal import Decimal
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.chain import GENESIS, Break, Link, canonical, digest, verify_chain

FACTS = st.dictionaries(
    st.text(),
    st.recursive(
        st.none()
        | st.booleans()
        | st.integers(-(2**53) + 1, 2**53 - 1)
        | st.floats(allow_nan=False, allow_infinity=False)
        | st.text(),
        lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
        max_leaves=8,
    ),
    max_size=5,
)


def chain_of(*bodies):
    links, previous = [], GENESIS
    for sequence, body in enumerate(bodies, start=1):
        made = digest(previous, body)
        links.append(Link(sequence, previous, body, made))
        previous = made
    return links


FIVE = chain_of(b'{"a":1}', b'{"a":2}', b'{"a":3}', b'{"a":4}', b'{"a":5}')


def altered(entry):
    return f"entry {entry} was altered: its digest is not that of its stored bytes"


# RFC 8785, 3.2.2 and 3.2.4: the sample object and its bytes. Read as quoted in the
# test files of the rfc8785 package 0.1.4 (values.json).
def test_sample_object_of_rfc_8785():
    body = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 1e-27],
        "string": '\u20ac$\u000f\u000aA\'\u0042"\\\\"/',
        "literals": [None, True, False],
    }
    assert canonical(body) == bytes.fromhex(
        "7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c226e756d626572"
        "73223a5b3333333333333333332e333333333333332c31652b33302c342e352c302e303032"
        "2c31652d32375d2c22737472696e67223a22e282ac245c75303030665c6e412742"
        "5c225c5c5c5c5c222f227d"
    )


# RFC 8785, 3.2.3: the sorting example (from memory; the same keys with two more are
# in weird.json of the rfc8785 package 0.1.4).
def test_keys_sort_by_utf_16_code_units_as_in_rfc_8785():
    body = {
        "\u20ac": "Euro Sign",
        "\r": "Carriage Return",
        "\ufb33": "Hebrew Letter Dalet With Dagesh",
        "1": "One",
        "\U0001f600": "Emoji: Grinning Face",
        "\u0080": "Control",
        "\u00f6": "Latin Small Letter O With Diaeresis",
    }
    assert list(json.loads(canonical(body)).values()) == [
        "Carriage Return",
        "One",
        "Control",
        "Latin Small Letter O With Diaeresis",
        "Euro Sign",
        "Emoji: Grinning Face",
        "Hebrew Letter Dalet With Dagesh",
    ]


# Reference test data of the scheme's author: french.json and unicode.json, as quoted
# in the rfc8785 package 0.1.4.
def test_locale_and_unicode_normalisation_play_no_part():
    french = {
        "peach": "This sorting order",
        "p\u00e9ch\u00e9": "is wrong according to French",
        "p\u00eache": "but canonicalization MUST",
        "sin": "ignore locale",
    }
    assert list(json.loads(canonical(french))) == list(french)
    unnormalised = {"Unnormalized Unicode": "A\u030a"}
    assert canonical(unnormalised) == b'{"Unnormalized Unicode":"A\xcc\x8a"}'


# RFC 8785, appendix B, as quoted in the tests of the rfc8785 package 0.1.4.
@pytest.mark.parametrize(
    ("ieee", "spelt"),
    [
        ("0000000000000000", "0"),
        ("8000000000000000", "0"),
        ("0000000000000001", "5e-324"),
        ("8000000000000001", "-5e-324"),
        ("7fefffffffffffff", "1.7976931348623157e+308"),
        ("ffefffffffffffff", "-1.7976931348623157e+308"),
        ("4340000000000000", "9007199254740992"),
        ("c340000000000000", "-9007199254740992"),
        ("4430000000000000", "295147905179352830000"),
        ("44b52d02c7e14af5", "9.999999999999997e+22"),
        ("44b52d02c7e14af6", "1e+23"),
        ("44b52d02c7e14af7", "1.0000000000000001e+23"),
        ("444b1ae4d6e2ef4e", "999999999999999700000"),
        ("444b1ae4d6e2ef4f", "999999999999999900000"),
        ("444b1ae4d6e2ef50", "1e+21"),
        ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
        ("3eb0c6f7a0b5ed8d", "0.000001"),
        ("41b3de4355555553", "333333333.3333332"),
        ("41b3de4355555554", "333333333.33333325"),
        ("41b3de4355555555", "333333333.3333333"),
        ("41b3de4355555556", "333333333.3333334"),
        ("41b3de4355555557", "333333333.33333343"),
        ("becbf647612f3696", "-0.0000033333333333333333"),
        ("43143ff3c1cb0959", "1424953923781206.2"),
    ],
)
def test_numbers_are_spelt_as_in_rfc_8785_appendix_b(ieee, spelt):
    (number,) = struct.unpack(">d", bytes.fromhex(ieee))
    assert canonical({"n": number}) == f'{{"n":{spelt}}}'.encode()


# RFC 8785, appendix B: NaN and Infinity must be an error.
@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_not_finite_are_refused(number):
    with pytest.raises(ValueError, match=r"^body\.n is -?(nan|inf), which is not a"):
        canonical({"n": number})


@pytest.mark.parametrize("sign", [1, -1])
def test_integers_are_taken_below_2_to_the_53_and_refused_from_it(sign):
    # RFC 8785 3.2.2.3 and RFC 7493: 2**53 - 1 is the largest safe integer.
    largest = sign * (2**53 - 1)
    assert canonical({"n": largest}) == f'{{"n":{largest}}}'.encode()
    with pytest.raises(ValueError, match=rf"^body\.n is {largest + sign}: write so"):
        canonical({"n": largest + sign})


@pytest.mark.parametrize(
    "value",
    [
        Decimal("1.10"),
        dt.datetime(2031, 5, 1, 8, tzinfo=dt.UTC),
        dt.date(2031, 5, 1),
        dt.time(8),
        dt.timedelta(1),
        uuid.UUID(int=1),
        b"bytes",
        {1},
        MappingProxyType({}),
        object(),
    ],
    ids=lambda value: type(value).__name__,
)
def test_values_that_json_has_no_spelling_for_are_named_and_refused(value):
    kind = type(value).__name__
    sentence = rf"^body\.gauge\[1\]\.shown is a {kind}: write it as a string first$"
    with pytest.raises(TypeError, match=sentence):
        canonical({"fine": 1, "gauge": [None, {"ok": "", "shown": value}]})


def test_only_the_unfit_value_is_complained_of():
    fine = {"none": None, "yes": True, "text": "a", "dict": {"a": 2**53 - 1}}
    body = {**fine, "list": [1.5, 1 - 2**53], "at": dt.date.min}
    with pytest.raises(TypeError, match=r"^body\.at is a date"):
        canonical(body)


@pytest.mark.parametrize("key", [1, None, ("a",), b"a"])
def test_keys_that_are_not_strings_are_refused(key):
    with pytest.raises(TypeError, match=r"^body\.a has a key .+: write every key as"):
        canonical({"a": {key: 1}})


def test_lone_surrogates_are_refused_in_values_and_in_keys():
    with pytest.raises(ValueError, match=r"^body\.a is '\\udead', which UTF-8 cannot"):
        canonical({"a": "\udead"})
    with pytest.raises(ValueError, match=r"^a key of body is '\\udead', which UTF-8"):
        canonical({"\udead": 1})


def test_a_read_only_mapping_and_tuples_are_taken():
    assert canonical(MappingProxyType({"b": (1, 2), "a": {}})) == b'{"a":{},"b":[1,2]}'


@given(FACTS)
def test_canonical_bytes_hold_the_facts_and_are_their_own_canonical_form(facts):
    # RFC 8785 3.2.2.3: every JSON number is a double.
    spelt = canonical(facts)
    read_back = json.loads(spelt, parse_int=float)
    assert read_back == facts
    assert canonical(read_back) == spelt


@given(FACTS)
def test_order_of_writing_does_not_matter(facts):
    assert canonical(dict(reversed(facts.items()))) == canonical(facts)


def test_digest_is_sha_256_of_previous_digest_and_body():
    # FIPS 180-4: 32 zero bytes and an empty body, by hashlib as one string.
    assert digest(GENESIS, b"") == hashlib.sha256(bytes(32)).hexdigest()
    first = digest(GENESIS, b"abc")
    assert first == hashlib.sha256(bytes(32) + b"abc").hexdigest()
    second = digest(first, b"def")
    assert second == hashlib.sha256(bytes.fromhex(first) + b"def").hexdigest()


@pytest.mark.parametrize(
    "previous", ["", "0" * 63, "0" * 65, "g" * 64, "AB" * 32, " " + "0" * 63]
)
def test_digest_refuses_a_previous_that_is_not_one(previous):
    with pytest.raises(ValueError, match="is not 64 lower-case hexadecimal digits"):
        digest(previous, b"")


def test_a_chain_that_holds_has_no_breaks():
    assert list(verify_chain([])) == []
    assert list(verify_chain(FIVE)) == []


def test_a_changed_body_breaks_its_own_entry_only():
    chain = [*FIVE[:2], FIVE[2]._replace(body=b'{"a":9}'), *FIVE[3:]]
    assert list(verify_chain(chain)) == [Break(3, altered(3))]


def test_a_rewritten_entry_breaks_the_next():
    body = b'{"a":9}'
    forged = FIVE[2]._replace(body=body, digest=digest(FIVE[2].previous, body))
    chain = [*FIVE[:2], forged, *FIVE[3:]]
    assert list(verify_chain(chain)) == [
        Break(4, "entry 4 does not follow the digest of entry 3")
    ]


def test_a_changed_previous_breaks_link_and_digest():
    chain = [FIVE[0], FIVE[1]._replace(previous="f" * 64), *FIVE[2:]]
    assert list(verify_chain(chain)) == [
        Break(2, "entry 2 does not follow the digest of entry 1"),
        Break(2, altered(2)),
    ]


@pytest.mark.parametrize("unreadable", ["", "not a digest", FIVE[0].digest.upper()])
def test_an_unreadable_digest_is_a_break_not_a_crash(unreadable):
    chain = [FIVE[0], FIVE[1]._replace(previous=unreadable), *FIVE[2:]]
    assert list(verify_chain(chain)) == [
        Break(2, "entry 2 does not follow the digest of entry 1"),
        Break(2, altered(2)),
    ]


def test_a_chain_must_begin_at_the_genesis():
    entry = Link(1, "f" * 64, b"{}", digest("f" * 64, b"{}"))
    assert list(verify_chain([entry])) == [
        Break(1, "entry 1 does not follow the start of the chain")
    ]


def test_one_missing_entry_is_a_gap():
    assert list(verify_chain([*FIVE[:2], *FIVE[3:]])) == [
        Break(4, "entry 3 is missing before entry 4"),
        Break(4, "entry 4 does not follow the digest of entry 2"),
    ]


def test_missing_first_entries_are_a_gap():
    assert list(verify_chain(FIVE[2:])) == [
        Break(3, "entries 1 to 2 are missing before entry 3"),
        Break(3, "entry 3 does not follow the start of the chain"),
    ]


def test_renumbering_after_a_removal_does_not_hide_it():
    chain = [FIVE[0], *(e._replace(sequence=e.sequence - 1) for e in FIVE[2:])]
    assert list(verify_chain(chain)) == [
        Break(2, "entry 2 does not follow the digest of entry 1")
    ]


def test_a_repeated_number_is_a_break_and_the_chain_goes_on():
    body = b'{"a":9}'
    twin = Link(2, FIVE[0].digest, body, digest(FIVE[0].digest, body))
    chain = [*FIVE[:2], twin, *FIVE[2:]]
    assert list(verify_chain(chain)) == [
        Break(2, "entry 2 comes after entry 2: it is repeated or out of order")
    ]


def test_an_entry_out_of_order_is_judged_for_itself():
    chain = [*FIVE[:4], FIVE[1]._replace(body=b"{}"), FIVE[4]]
    assert list(verify_chain(chain)) == [
        Break(2, "entry 2 comes after entry 4: it is repeated or out of order"),
        Break(2, altered(2)),
    ]


def test_every_break_is_reported():
    chain = [
        FIVE[0]._replace(body=b"{}"),
        FIVE[1],
        FIVE[1],
        FIVE[3],
        FIVE[4]._replace(digest="0" * 64),
    ]
    assert [result.sequence for result in verify_chain(chain)] == [1, 2, 4, 4, 5]


def test_verifying_can_start_after_a_trusted_entry():
    held = list(verify_chain(FIVE[3:], sequence=3, previous=FIVE[2].digest))
    assert held == []
    assert list(verify_chain(FIVE[3:], sequence=3, previous=FIVE[1].digest)) == [
        Break(4, "entry 4 does not follow the digest of entry 3")
    ]


def test_entries_are_read_one_at_a_time():
    read = []

    def stored():
        for entry in [FIVE[0]._replace(body=b"{}"), *FIVE[1:]]:
            read.append(entry.sequence)
            yield entry

    breaks = verify_chain(stored())
    assert next(breaks).sequence == 1
    assert read == [1]


@given(
    st.lists(st.binary(min_size=1), min_size=1, max_size=6),
    st.randoms(use_true_random=False),
)
def test_changing_any_one_byte_is_found_at_its_entry(bodies, random):
    chain = chain_of(*bodies)
    at = random.randrange(len(chain))
    body = bytearray(chain[at].body)
    body[random.randrange(len(body))] ^= random.randrange(1, 256)
    chain[at] = chain[at]._replace(body=bytes(body))
    assert list(verify_chain(chain)) == [Break(at + 1, altered(at + 1))]


@given(st.lists(st.binary(min_size=1), min_size=2, max_size=6), st.data())
def test_swapping_two_entries_never_passes(bodies, data):
    chain = chain_of(*bodies)
    at = data.draw(st.integers(0, len(chain) - 2))
    chain[at], chain[at + 1] = chain[at + 1], chain[at]
    assert list(verify_chain(chain))
