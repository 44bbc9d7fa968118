"""The records that a stage rests on: there, and good."""

import pytest

from records.models import CouponTest, JointSpread, Lamination
from records.queries.builds.progress import progress_of
from records.rules.gates.evidence import evidence_is_there
from tests import factories

pytestmark = pytest.mark.django_db
AGREED = {"design_authority": "Design office", "plain_words": "As it is."}


@pytest.fixture
def blank(db):
    return factories.glued_blank(laminations=3)


def findings(blank, evidence, thing=None, scope="blank"):
    stage = factories.StageFactory(revision=blank.route, scope=scope, evidence=evidence)
    thing = thing or blank
    state = progress_of(thing).at(thing, stage.code)
    return [f.sentence for f in evidence_is_there(state)]


def accept(**about):
    deviation = factories.DeviationFactory(state="closed")
    subject = factories.DeviationSubjectFactory(deviation=deviation, **about)
    row = factories.DispositionFactory(deviation=deviation, kind="use_as_is", **AGREED)
    factories.DisposedSubjectFactory(disposition=row, subject=subject)


def test_a_stage_may_rest_on_its_readings_only(blank):
    assert findings(blank, "") == []


@pytest.mark.parametrize(
    ("state", "good"),
    [("accepted", True), ("used_up", True), ("waiting", False), ("refused", False)],
)
def test_a_lot_is_accepted(blank, state, good):
    lot = factories.LotFactory(state=state)
    assert (findings(blank, "lot_check", lot, "lot") == []) is good


@pytest.mark.parametrize(
    ("state", "good"), [("usable", True), ("sawn", True), ("waiting", False)]
)
def test_a_board_is_accepted(blank, state, good):
    board = factories.BoardFactory(state=state)
    assert (findings(blank, "board_check", board, "board") == []) is good


def test_every_place_of_the_stack_is_laid(blank):
    assert findings(blank, "stack") == []
    lamination = blank.laminations.get(position=2)
    lamination.state, lamination.void_reason = Lamination.State.VOID, "Crack"
    lamination.save(update_fields=["state", "void_reason"])
    assert findings(blank, "stack") == ["No lamination is laid in place 2."]


def test_every_joint_is_closed_on_both_faces(blank):
    assert findings(blank, "joints") == []
    bare = factories.stacked_blank(laminations=3)
    assert findings(bare, "joints") == ["Joint 1, 2 is not closed yet."]
    mix = factories.MixFactory()
    for joint, side in ((1, "lower"), (1, "upper"), (2, "lower")):
        factories.JointSpreadFactory(blank=bare, joint=joint, mix=mix, side=side)
    assert findings(bare, "joints") == ["Joint 2 is not closed yet."]


def spread(blank, **changes):
    old = blank.spreads.get(joint=2, corrected_by=None)
    return factories.JointSpreadFactory(
        blank=blank, joint=2, mix=old.mix, corrects=old, reason="Times", **changes
    )


def test_a_flagged_joint_is_disposed_of_by_name(blank):
    spread(blank, verdict=JointSpread.Verdict.OUTSIDE, flags="Open for 25 min.")
    [sentence] = findings(blank, "joints")
    assert sentence.startswith("Joint 2 is flagged and not disposed of. Open for 25")
    accept(blank=blank)
    assert len(findings(blank, "joints")) == 1
    accept(blank=blank, joint=2)
    assert findings(blank, "joints") == []


@pytest.mark.parametrize(("flags", "good"), [("", True), ("Not in the table.", False)])
def test_unknown_is_a_value_but_a_flag_is_answered(blank, flags, good):
    spread(blank, verdict=JointSpread.Verdict.UNKNOWN, flags=flags)
    assert (findings(blank, "joints") == []) is good


def test_the_press_is_opened(blank):
    assert findings(blank, "press") == []
    again = factories.LoadedBlankFactory(blank=blank).load
    assert findings(blank, "press") == [f"Press load {again} is not opened yet."]
    [sentence] = findings(factories.stacked_blank(laminations=3), "press")
    assert sentence.endswith("has not been in the press.")


def coupon_test(mix, verdict):
    return CouponTest.objects.create(
        coupon=factories.CouponFactory(mix=mix),
        happened_at=factories.NOON,
        method="chisel",
        wood_failure_pct=90,
        least_wood_failure_pct=75,
        verdict=verdict,
        written_by=factories.PersonFactory(),
        written_at=factories.NOON,
    )


def test_a_coupon_of_every_mix_has_passed(blank):
    mix = blank.spreads.first().mix
    second = spread(blank, verdict="inside")
    other = factories.MixFactory()
    factories.JointSpreadFactory(
        blank=blank, joint=2, mix=other, corrects=second, reason="Second mix"
    )
    coupon_test(mix, "passed")
    assert findings(blank, "coupon") == [f"Mix {other} has no coupon yet."]
    factories.CouponFactory(mix=other)
    assert findings(blank, "coupon") == [f"Mix {other} has no coupon that passed yet."]
    coupon_test(other, "passed")
    assert findings(blank, "coupon") == []


def test_a_twin_that_passes_does_not_undo_a_failure_but_a_decision_does(blank):
    mix = blank.spreads.first().mix
    failed = coupon_test(mix, "failed")
    coupon_test(mix, "passed")
    assert findings(blank, "coupon") == [
        f"A coupon of mix {mix} failed and is not disposed of."
    ]
    accept(coupon=failed.coupon)
    assert findings(blank, "coupon") == []


def test_without_glue_there_is_no_coupon(blank):
    bare = factories.stacked_blank(laminations=3)
    assert findings(bare, "coupon") == ["No mix is in the joints yet."]
