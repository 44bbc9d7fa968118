"""Decisions by authority, each with what its kind asks for.

Use as is and repair only with the design's authority, and scrap made unusable, are what
21.137(h) and AS9100D 8.7 ask for (rules-and-standards, sections 1 and 5).
"""

import io

import pytest
from PIL import Image

from records.models import (
    Blank,
    Board,
    Disposition,
    GaugeChange,
    Lot,
    Propeller,
)
from records.rules.deviations.opening import Touched
from records.services.deviations.dispositions import dispose
from records.services.deviations.opening import close_deviation, open_deviation
from records.services.holds import release_hold
from records.services.ledger import Act
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db
WORDS = {
    "design_authority": "A. Draughtsman, letter of 3 March",
    "plain_words": "The tips run 2.1 mm apart; it may be felt as a slight shake.",
}


class Photo:
    """A photo as it was sent."""

    name = "sawn.jpg"

    def __init__(self):
        picture = io.BytesIO()
        Image.new("RGB", (8, 8), "brown").save(picture, "JPEG")
        self.data = picture.getvalue()


@pytest.fixture
def propeller(shop):
    blank = factories.glued_blank(3)
    return factories.PropellerFactory(serial="SN-031", blank=blank)


def opened(act, *things):
    return open_deviation(
        act=act,
        title="Tip split",
        things=[t if isinstance(t, Touched) else Touched(t) for t in things],
        required="whole",
        found="split",
        happened_at=act.at,
    )


def decide(act, deviation, kind, **kwargs):
    words = {"reason": "looked at by both", "happened_at": act.at}
    return dispose(act=act, deviation=deviation, kind=kind, **words | kwargs)


def refused(act, deviation, kind, **kwargs):
    with pytest.raises(Refusal) as refusal:
        decide(act, deviation, kind, **kwargs)
    assert not Disposition.objects.exists()
    return refusal.value.findings


@pytest.mark.parametrize("kind", ["use_as_is", "repair"])
def test_concession_names_authority_and_plain_words(act, propeller, kind):
    deviation = opened(act, propeller)
    findings = refused(act, deviation, kind)
    assert [f.field for f in findings] == ["design_authority", "plain_words"]
    disposition = decide(act, deviation, kind, **WORDS)
    assert disposition.plain_words == WORDS["plain_words"]
    assert disposition.disposed.get().subject.propeller == propeller


def test_decision_without_authority_is_refused(act, propeller):
    maker = Act(by=factories.PersonFactory(), at=act.at)
    (finding,) = refused(maker, opened(act, propeller), "use_as_is", **WORDS)
    assert "no authority to dispose of deviations" in finding.sentence


def test_decision_without_a_reason_is_refused(act, propeller):
    (finding,) = refused(act, opened(act, propeller), "repair", reason=" ", **WORDS)
    assert finding.field == "reason"


def test_one_person_is_recorded_as_one_person(act, propeller):
    finder = Act(by=factories.PersonFactory(), at=act.at)
    assert decide(act, opened(act, propeller), "repair", **WORDS).one_person
    assert not decide(act, opened(finder, propeller), "repair", **WORDS).one_person


class TestRework:
    def test_names_the_stages_that_are_repeated(self, act, propeller):
        stage = factories.StageFactory(revision=propeller.blank.route)
        deviation = opened(act, propeller)
        (finding,) = refused(act, deviation, "rework")
        assert finding.field == "repeat"
        disposition = decide(act, deviation, "rework", repeat=[stage])
        assert list(disposition.repeat.all()) == [stage]

    def test_stage_of_another_route_is_refused(self, act, propeller):
        stage = factories.StageFactory(name="Balance")
        (finding,) = refused(act, opened(act, propeller), "rework", repeat=[stage])
        assert finding.sentence == "Balance is not a stage of its route."

    def test_only_rework_repeats_stages(self, act, propeller):
        stage = factories.StageFactory(revision=propeller.blank.route)
        deviation = opened(act, propeller)
        (finding,) = refused(act, deviation, "repair", repeat=[stage], **WORDS)
        assert finding.sentence.startswith("Only rework repeats stages")


class TestScrap:
    def test_without_a_photo_is_refused(self, act, propeller):
        (finding,) = refused(act, opened(act, propeller), "scrap")
        assert finding.field == "photo"
        propeller.refresh_from_db()
        assert propeller.state == Propeller.State.IN_WORK

    def test_retires_the_serial_and_keeps_the_proof(self, act, propeller):
        disposition = decide(act, opened(act, propeller), "scrap", photo=Photo())
        propeller.refresh_from_db()
        assert propeller.state == Propeller.State.SCRAPPED
        assert disposition.proof.propeller == propeller
        assert disposition.proof.file.media_type == "image/jpeg"

    def test_a_scrapped_serial_cannot_be_scrapped_again(self, act, propeller):
        decide(act, opened(act, propeller), "scrap", photo=Photo())
        again = opened(act, propeller)
        with pytest.raises(Refusal, match="Propeller SN-031 is scrapped already"):
            decide(act, again, "scrap", photo=Photo())

    def test_blank_takes_its_propellers_in_the_shop_with_it(self, act, propeller):
        gone = factories.PropellerFactory(
            blank=propeller.blank, state=Propeller.State.DELIVERED
        )
        decide(act, opened(act, propeller.blank), "scrap", photo=Photo())
        for thing in (propeller, gone, propeller.blank):
            thing.refresh_from_db()
        assert propeller.blank.state == Blank.State.SCRAPPED
        assert propeller.state == Propeller.State.SCRAPPED
        assert gone.state == Propeller.State.DELIVERED

    def test_loose_lamination_is_void_with_its_deviation(self, act):
        lamination = factories.LaminationFactory()
        decide(act, opened(act, lamination), "scrap", photo=Photo())
        lamination.refresh_from_db()
        assert (lamination.state, lamination.void_reason) == (
            "void",
            "Scrapped by deviation D0001",
        )

    def test_laid_lamination_is_refused(self, act, propeller):
        lamination = propeller.blank.laminations.first()
        (finding,) = refused(act, opened(act, lamination), "scrap", photo=Photo())
        assert "is laid in a blank" in finding.sentence

    def test_board_is_refused_for_good_and_gauge_withdrawn(self, act):
        board, gauge = factories.BoardFactory(), factories.GaugeFactory()
        decide(act, opened(act, board, gauge), "scrap", photo=Photo())
        board.refresh_from_db()
        gauge.refresh_from_db()
        assert (board.state, gauge.state) == (Board.State.REFUSED, "withdrawn")
        assert GaugeChange.objects.get().reason == "Scrapped by deviation D0001"

    @pytest.mark.parametrize("kind", ["mix", "load", "coupon"])
    def test_what_is_in_the_part_cannot_be_scrapped_alone(self, act, propeller, kind):
        mix = propeller.blank.spreads.first().mix
        thing = {
            "mix": mix,
            "load": propeller.blank.loaded.get().load,
            "coupon": factories.CouponFactory(mix=mix),
        }[kind]
        (finding,) = refused(act, opened(act, thing), "scrap", photo=Photo())
        assert "Add the blanks that it reached" in finding.sentence

    def test_joint_cannot_be_scrapped_alone(self, act, propeller):
        joint = Touched(propeller.blank, joint=1)
        (finding,) = refused(act, opened(act, joint), "scrap", photo=Photo())
        assert finding.sentence.startswith("A joint can't be scrapped alone")

    def test_mix_thrown_away_unused_stays_held_and_closes(self, act):
        deviation = opened(act, factories.MixFactory())
        decide(act, deviation, "scrap", photo=Photo())
        assert close_deviation(act=act, deviation=deviation).state == "closed"
        assert deviation.holds.standing().exists()


class TestReturn:
    def test_closes_the_lot_to_use(self, act):
        lot = factories.LotFactory()
        decide(act, opened(act, lot), "return")
        lot.refresh_from_db()
        assert lot.state == Lot.State.RETURNED

    def test_only_lots_and_boards_go_back(self, act, propeller):
        (finding,) = refused(act, opened(act, propeller), "return")
        assert finding.sentence == (
            "Only a lot or a board goes back to a supplier, not propeller SN-031."
        )


class TestSeveralSubjects:
    def test_each_may_be_decided_by_itself(self, act, propeller):
        other = factories.PropellerFactory(serial="SN-032")
        deviation = opened(act, propeller, other)
        first, second = deviation.subjects.order_by("pk")
        decide(act, deviation, "scrap", subjects=[first], photo=Photo())
        decide(act, deviation, "use_as_is", **WORDS)
        other.refresh_from_db()
        assert second.disposed.get().disposition.kind == "use_as_is"
        assert other.state == Propeller.State.IN_WORK

    def test_decided_twice_is_refused(self, act, propeller):
        deviation = opened(act, propeller)
        decide(act, deviation, "repair", **WORDS)
        with pytest.raises(Refusal, match="decided on already"):
            decide(act, deviation, "repair", **WORDS)


def test_closed_deviation_takes_no_decision(act, propeller):
    deviation = opened(act, propeller)
    decide(act, deviation, "repair", **WORDS)
    release_hold(
        act=act, hold=deviation.holds.get(), reason="repaired", happened_at=act.at
    )
    close_deviation(act=act, deviation=deviation)
    with pytest.raises(Refusal, match="Deviation D0001 is closed"):
        decide(act, deviation, "repair", **WORDS)


def test_a_refused_scrap_keeps_no_photo_and_changes_nothing(act, propeller, tmp_path):
    maker = Act(by=factories.PersonFactory(), at=act.at)
    refused(maker, opened(act, propeller), "scrap", photo=Photo())
    propeller.refresh_from_db()
    assert propeller.state == Propeller.State.IN_WORK
    assert not (tmp_path / "files").exists()
