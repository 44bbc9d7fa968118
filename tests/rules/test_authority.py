"""Who may decide what, and from when until when."""

import datetime as dt

import pytest

from records.models import Authority, Person
from records.rules.authority import may
from tests import factories

DAY = dt.date(2026, 3, 2)
SIGN = Authority.Act.SIGN


def given(**kwargs):
    return factories.AuthorityFactory(act=SIGN, **kwargs).person


@pytest.mark.django_db
class TestMay:
    @pytest.mark.parametrize(
        ("from_on", "until_on", "allowed"),
        [
            (DAY, None, True),
            (DAY, DAY, True),
            (DAY + dt.timedelta(1), None, False),
            (DAY - dt.timedelta(9), DAY - dt.timedelta(1), False),
            (DAY - dt.timedelta(9), DAY, True),
        ],
    )
    def test_first_and_last_day_count(self, from_on, until_on, allowed):
        person = given(from_on=from_on, until_on=until_on)
        assert (may(person, SIGN, DAY) == []) is allowed

    def test_one_authority_is_not_another(self):
        person = given(from_on=DAY)
        [finding] = may(person, Authority.Act.RELEASE, DAY)
        assert "release propellers" in finding.sentence
        assert "2 Mar 2026" in finding.sentence
        assert finding.blocks

    def test_a_reader_decides_nothing_whatever_was_given(self):
        person = given(from_on=DAY, person__role=Person.Role.READER)
        assert "reader" in may(person, SIGN, DAY)[0].sentence

    def test_somebody_who_left_decides_nothing(self):
        person = given(from_on=DAY, person__is_active=False)
        assert may(person, SIGN, DAY)

    def test_asks_the_database_once(self, django_assert_num_queries):
        person = given(from_on=DAY)
        with django_assert_num_queries(1):
            may(person, SIGN, DAY)
