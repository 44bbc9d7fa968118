"""The digest of what a signature covers."""

import hashlib

import pytest

from records.queries.signoffs.digest import CHANGED, digest_of, reading_facts, signature
from tests import factories


def test_the_digest_is_sha256_of_the_canonical_spelling():
    # RFC 8785: keys sorted, no white space.
    facts = {"stage": "hub", "readings": []}
    spelled = b'{"readings":[],"stage":"hub"}'
    assert digest_of(facts) == hashlib.sha256(spelled).hexdigest()


def test_the_order_of_keys_changes_nothing_but_a_value_does():
    assert digest_of({"a": 1, "b": 2}) == digest_of({"b": 2, "a": 1})
    assert digest_of({"a": 1}) != digest_of({"a": 2})


@pytest.mark.django_db
def test_a_signature_stands_while_the_digest_is_the_same():
    signoff = factories.SignOffFactory(digest="a" * 64)
    assert signature(signoff, "a" * 64).void == ""
    assert signature(signoff, "b" * 64).void == CHANGED


@pytest.mark.django_db
@pytest.mark.parametrize(
    "change",
    [
        {"entered": "1.1"},
        {"unit": "in"},
        {"blade": 2},
        {"point": "root"},
        {"verdict": "outside"},
    ],
)
def test_whatever_was_read_is_covered(change):
    reading = factories.ReadingFactory()
    before = reading_facts(reading)
    for name, value in change.items():
        setattr(reading, name, value)
    assert reading_facts(reading) != before


@pytest.mark.django_db
def test_station_and_gauge_are_covered_by_name():
    station = factories.RevisionFactory().stations.get(radius_mm=645)
    gauge = factories.GaugeFactory()
    facts = reading_facts(factories.ReadingFactory(station=station, gauge=gauge))
    assert (facts["station"], facts["gauge"]) == ("645 mm", gauge.number)
