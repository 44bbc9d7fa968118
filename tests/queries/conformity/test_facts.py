"""The facts of a record: plain, canonical, the same for the same book, not private."""

import json

import pytest

from records import chain
from records.models import MaterialUse, ServiceEvent
from records.queries.conformity.facts import SCHEMA, conformity_facts
from tests import factories, finished
from tests.documents.conformity_sample import ISSUE

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def pen(made):
    return {"written_at": factories.NOON, "written_by": made.maker}


def test_they_have_one_canonical_spelling_and_come_back_the_same(made):
    facts = conformity_facts(made.propeller, ISSUE)
    assert facts["schema"] == SCHEMA
    spelled = chain.canonical(facts)
    assert json.loads(spelled) == facts
    assert chain.canonical(conformity_facts(made.propeller, ISSUE)) == spelled


def test_their_number_of_queries_does_not_grow(made, django_assert_max_num_queries):
    with django_assert_max_num_queries(50):
        conformity_facts(made.propeller, ISSUE)


def test_reports_of_owners_stay_in_the_shop_and_work_is_told(made):
    for kind, words in (("report", "He flew into a hedge"), ("work", "Tip glued")):
        ServiceEvent.objects.create(
            propeller=made.propeller,
            kind=kind,
            happened_at=factories.NOON,
            findings=words,
            **pen(made),
        )
    told = json.dumps(conformity_facts(made.propeller, ISSUE))
    assert "Tip glued" in told
    assert "hedge" not in told


def test_what_was_put_on_later_is_named_lot_or_mix(made):
    lot = factories.LotFactory(number="L0900", material__name="Brass sheet")
    mix = factories.MixFactory(number="M0900")
    for put_on in ({"lot": lot}, {"mix": mix}):
        MaterialUse.objects.create(
            propeller=made.propeller,
            happened_at=factories.NOON,
            place="edges",
            **put_on,
            **pen(made),
        )
    facts = conformity_facts(made.propeller, ISSUE)
    later = facts["construction"]["put_on_later"]
    assert [u["number"] for u in later] == ["L0900", "M0900"]
    assert later[0]["material"] == "Brass sheet"


def test_notices_in_force_are_told(made):
    notice = factories.m.Notice.objects.create(
        number="N001",
        title="Hub bolts",
        text="Check.",
        happened_at=factories.NOON,
        **pen(made),
    )
    factories.m.NoticeSerial.objects.create(
        notice=notice, propeller=made.propeller, **pen(made)
    )
    facts = conformity_facts(made.propeller, ISSUE)
    assert [n["number"] for n in facts["notices"]] == ["N001"]


def test_the_completion_is_the_last_stage_of_making(made):
    facts = conformity_facts(made.propeller, ISSUE)["propeller"]
    assert facts["completed_at"] < facts_release(made)
    assert facts["released_at"] is None


def facts_release(made):
    facts = conformity_facts(made.propeller, ISSUE)
    return facts["inspection"]["at"]


def test_a_reading_that_the_shop_adds_reaches_the_paper(made):
    stage = made.propeller.blank.route.stages.get(code="final-balance")
    spinner = factories.CharacteristicFactory(
        stage=stage, code="spinner", name="Spinner run-out", unit="mm"
    )
    factories.ReadingFactory(
        propeller=made.propeller, characteristic=spinner, entered="0.40", unit="mm"
    )
    facts = conformity_facts(made.propeller, ISSUE)
    [fact] = [f for f in facts["measured"]["further"] if f["name"] == spinner.name]
    assert (fact["entered"], fact["stage"]) == ("0.40", stage.name)
