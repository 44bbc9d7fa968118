"""Everything that speaks against a signature, at once."""

import datetime as dt

import pytest

from records.queries.builds.progress import progress_of
from records.rules.gates.signing import may_be_signed, ready_to_sign
from tests import factories

pytestmark = pytest.mark.django_db
NOW = factories.NOON + dt.timedelta(days=1)


@pytest.fixture
def characteristic(shop):
    return factories.CharacteristicFactory(name="Track")


@pytest.fixture
def propeller(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.PropellerFactory(blank=blank)


def against(propeller, person, **changes):
    progress = progress_of(propeller)
    [state] = progress.of(propeller)
    facts = {
        "claimed": "self",
        "meaning": "Inspected",
        "happened_at": factories.NOON,
        "now": NOW,
        "day": NOW.date(),
    }
    findings = may_be_signed(
        person=person, progress=progress, state=state, **{**facts, **changes}
    )
    return [f.sentence for f in findings]


def test_every_reason_comes_at_once(propeller, shop):
    person = factories.PersonFactory(name="Ada")
    findings = against(
        propeller,
        person,
        claimed="",
        meaning="",
        changed=True,
        happened_at=NOW + dt.timedelta(hours=1),
    )
    assert len(findings) == 6
    assert "Track is missing." in findings
    assert any("no authority to sign off stages" in s for s in findings)
    assert "Choose the kind of check." in findings


def test_a_whole_stage_and_a_person_with_authority_have_nothing_against(
    characteristic, propeller, owner
):
    factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    assert against(propeller, owner) == []


@pytest.mark.parametrize(("days", "good"), [(0, True), (-1, False)])
def test_authority_holds_through_its_last_day(
    characteristic, propeller, owner, days, good
):
    factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    owner.authorities.update(until_on=NOW.date() + dt.timedelta(days=days))
    assert (against(propeller, owner) == []) is good


def test_a_hold_on_what_it_is_made_of_stands_in_the_way(
    characteristic, propeller, owner
):
    factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    factories.HoldFactory(blank=propeller.blank, reason="Glue under question")
    [sentence] = against(propeller, owner)
    assert "Glue under question" in sentence


@pytest.mark.parametrize("kind", ["blank", "propeller"])
def test_what_is_scrapped_is_not_signed(characteristic, propeller, kind):
    thing = propeller.blank if kind == "blank" else propeller
    factories.StageFactory(
        revision=characteristic.stage.revision, scope="blank", order=9
    )
    thing.state = "scrapped"
    thing.save(update_fields=["state"])
    progress = progress_of(thing)
    findings = ready_to_sign(progress, progress.of(thing)[0])
    assert findings[0].sentence.endswith("is scrapped.")


def test_the_same_look_is_not_signed_twice_but_a_stronger_one_is(
    characteristic, propeller, owner
):
    factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=owner
    )
    [state] = progress_of(propeller).of(propeller)
    factories.SignOffFactory(
        stage=state.stage,
        propeller=propeller,
        digest=state.digest(),
        written_by=owner,
    )
    [sentence] = against(propeller, owner)
    assert "has signed" in sentence
    assert against(propeller, owner, claimed="later") == []
