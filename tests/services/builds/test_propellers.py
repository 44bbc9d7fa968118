"""Propellers from blanks: serials once, designs that fit, and rework noted."""

import datetime as dt

import pytest

from records.models import Blank, Designation, MaterialChange, Propeller
from records.queries.builds.progress import stages_of
from records.services.builds import propellers as builds
from records.services.holds import hold
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON

State = Propeller.State


@pytest.fixture
def blank(shop):
    return factories.glued_blank(laminations=4)


def other_pitch(blank, **kwargs):
    """Make a revision of another pitch that allows what lies in a blank."""
    revision = factories.RevisionFactory(laminations=4, pitch_mm=1100, **kwargs)
    for material in blank.revision.species.all():
        factories.AllowedSpeciesFactory(revision=revision, material=material)
    return revision


def fields(refusal):
    return {f.field for f in refusal.value.findings}


class TestStarting:
    def test_a_propeller_gets_the_next_serial_and_the_planned_design(self, act, blank):
        propeller = builds.start_propeller(act=act, blank=blank)
        assert propeller.serial == f"{act.at.year}-001"
        assert propeller.revision == blank.revision
        blank.refresh_from_db()
        assert blank.state == Blank.State.SHAPED

    def test_situation_8_one_stack_split_in_two(self, act, blank):
        """Planned for one pitch, finished as another; one stack, two propellers."""
        first = builds.start_propeller(act=act, blank=blank)
        second = builds.start_propeller(
            act=act, blank=blank, revision=other_pitch(blank), serial="TA 7-B"
        )
        assert first.blank == second.blank == blank
        assert first.revision != second.revision
        assert second.serial == "TA 7-B"

    @pytest.mark.parametrize("typed", ["TA-7", "ta-7", " TA-7 "])
    def test_a_serial_is_never_used_twice(self, act, blank, typed):
        factories.PropellerFactory(serial="TA-7", state=State.SCRAPPED)
        with pytest.raises(Refusal, match="No serial is ever used twice") as refusal:
            builds.start_propeller(act=act, blank=blank, serial=typed)
        assert fields(refusal) == {"serial"}
        assert Propeller.objects.count() == 1

    def test_a_number_that_was_typed_before_is_passed_over(self, act, blank):
        factories.PropellerFactory(serial=f"{act.at.year}-001")
        propeller = builds.start_propeller(act=act, blank=blank)
        assert propeller.serial == f"{act.at.year}-002"

    @pytest.mark.parametrize("typed", ["TA/7", "7?", "-7", "x" * 41, "é1"])
    def test_a_serial_can_be_stamped_and_scanned(self, act, blank, typed):
        with pytest.raises(Refusal) as refusal:
            builds.start_propeller(act=act, blank=blank, serial=typed)
        assert fields(refusal) == {"serial"}

    @pytest.mark.parametrize(
        "state",
        [Blank.State.STACKING, Blank.State.GLUING, Blank.State.PRESSED, "scrapped"],
    )
    def test_only_from_a_blank_out_of_the_press(self, act, shop, state):
        blank = factories.stacked_blank(4, state=state)
        with pytest.raises(Refusal, match="out of the press"):
            builds.start_propeller(act=act, blank=blank)

    def test_not_from_a_held_blank(self, act, blank):
        hold(act=act, thing=blank, reason="Press leaked", happened_at=NOON)
        with pytest.raises(Refusal, match="Press leaked"):
            builds.start_propeller(act=act, blank=blank)

    def test_not_to_a_design_with_other_laminations_or_woods(self, act, blank):
        revision = factories.RevisionFactory(laminations=6)
        with pytest.raises(Refusal) as refusal:
            builds.start_propeller(act=act, blank=blank, revision=revision)
        assert fields(refusal) == {"revision"}
        assert len(refusal.value.findings) == 2


class TestDesignating:
    def designate(self, act, propeller, revision, **kwargs):
        answers = {"reason": "Blade came out thin", "happened_at": NOON}
        return builds.designate(
            act=act, propeller=propeller, revision=revision, **(answers | kwargs)
        )

    def test_situation_8_finished_as_another_pitch(self, act, blank):
        propeller = factories.PropellerFactory(blank=blank)
        revision = other_pitch(blank)
        designation = self.designate(act, propeller, revision)
        propeller.refresh_from_db()
        assert propeller.revision == revision
        assert (designation.before, designation.after) == (blank.revision, revision)

    def test_it_is_not_designated_as_what_it_is(self, act, blank):
        propeller = factories.PropellerFactory(blank=blank)
        with pytest.raises(Refusal, match="already"):
            self.designate(act, propeller, blank.revision)

    @pytest.mark.parametrize("state", [State.RELEASED, State.DELIVERED])
    def test_it_comes_back_before_it_is_changed(self, act, blank, state):
        propeller = factories.PropellerFactory(blank=blank, state=state)
        with pytest.raises(Refusal, match="Take it back for repair first"):
            self.designate(act, propeller, other_pitch(blank))

    def test_a_scrapped_one_stays_what_it_was(self, act, blank):
        propeller = factories.PropellerFactory(blank=blank, state=State.SCRAPPED)
        with pytest.raises(Refusal, match="Nothing is done to it any more"):
            self.designate(act, propeller, other_pitch(blank))
        assert not Designation.objects.exists()

    def test_it_has_a_reason(self, act, blank):
        propeller = factories.PropellerFactory(blank=blank)
        with pytest.raises(Refusal) as refusal:
            self.designate(act, propeller, other_pitch(blank), reason="")
        assert fields(refusal) == {"reason"}
        propeller.refresh_from_db()
        assert propeller.revision == blank.revision


class TestChangingMaterial:
    def change(self, act, propeller, **kwargs):
        answers = {
            "what": MaterialChange.What.REMOVED,
            "place": "blade 2, back",
            "reason": "Heavy after the first balance",
            "happened_at": NOON,
        }
        return builds.change_material(
            act=act, propeller=propeller, **(answers | kwargs)
        )

    def test_situation_9_what_was_removed_is_noted(self, act, shop):
        propeller = factories.PropellerFactory()
        change = self.change(act, propeller)
        assert str(change) == "material removed: blade 2, back"

    def test_situation_9_readings_before_it_go_stale(self, act, shop):
        """Any removal after a balance or shape reading asks for it again."""
        propeller = factories.PropellerFactory()
        stage = factories.StageFactory(
            revision=propeller.blank.route, code="balance", goes_stale=True
        )
        reading = factories.ReadingFactory(
            characteristic=factories.CharacteristicFactory(stage=stage, unit="g.mm"),
            propeller=propeller,
            happened_at=NOON,
        )
        [before] = stages_of(propeller)
        assert before.current == [reading]
        self.change(act, propeller, happened_at=NOON + dt.timedelta(hours=1))
        [after] = stages_of(propeller)
        assert after.current == []
        assert reading.pk in after.stale

    def test_not_in_the_future(self, act, shop):
        propeller = factories.PropellerFactory()
        with pytest.raises(Refusal, match="still to come"):
            self.change(act, propeller, happened_at=act.at + dt.timedelta(days=1))

    def test_not_on_one_that_is_with_its_owner(self, act, shop):
        propeller = factories.PropellerFactory(state=State.DELIVERED)
        with pytest.raises(Refusal, match="Take it back"):
            self.change(act, propeller)


class TestNoting:
    def note(self, act, stage, subject, kind, at=NOON):
        return builds.note_stage(
            act=act, stage=stage, subject=subject, kind=kind, happened_at=at
        )

    def test_a_rest_begins_and_ends(self, act, shop):
        propeller = factories.PropellerFactory()
        rest = factories.StageFactory(revision=propeller.blank.route)
        self.note(act, rest, propeller, "began")
        ended = self.note(act, rest, propeller, "ended", NOON + dt.timedelta(days=7))
        assert list(propeller.events.all())[1] == ended

    def test_it_ends_after_it_began(self, act, shop):
        blank = factories.BlankFactory()
        rest = factories.StageFactory(revision=blank.route, scope="blank")
        with pytest.raises(Refusal, match="Note the beginning first"):
            self.note(act, rest, blank, "ended")
        self.note(act, rest, blank, "began")
        with pytest.raises(Refusal, match="Note the beginning first"):
            self.note(act, rest, blank, "ended", NOON - dt.timedelta(hours=1))

    def test_not_at_a_stage_of_another_route(self, act, shop):
        propeller = factories.PropellerFactory()
        with pytest.raises(Refusal, match="another route"):
            self.note(act, factories.StageFactory(), propeller, "note")

    def test_not_at_a_stage_of_something_else(self, act, shop):
        blank = factories.BlankFactory()
        stage = factories.StageFactory(revision=blank.route, scope="propeller")
        with pytest.raises(Refusal, match="belongs to a propeller"):
            self.note(act, stage, blank, "note")
