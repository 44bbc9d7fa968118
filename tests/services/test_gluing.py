"""Mixing and closing joints: warned and flagged, and only the impossible refused."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Blank, JointSpread, LedgerEntry, Lot, Mix
from records.services import gluing
from records.services.holds import hold
from records.services.refusal import Refusal
from tests import bulletin, factories
from tests.factories import DAY, NOON

Verdict = JointSpread.Verdict


@pytest.fixture
def sheet(shop):
    return factories.GlueSheetFactory()


@pytest.fixture
def lots(sheet):
    return {
        "resin_lot": factories.ResinLotFactory(material=sheet.adhesive),
        "hardener_lot": factories.HardenerLotFactory(material=sheet.hardener),
    }


@pytest.fixture
def weighed(sheet, lots):
    return {
        "sheet": sheet,
        **lots,
        "resin_g": Decimal("500.0"),
        "hardener_g": Decimal("100.0"),
        "mixed_at": NOON,
        "temperature_c": Decimal("20.0"),
    }


@pytest.fixture
def blank(shop):
    return factories.stacked_blank(laminations=5)


def minutes(number):
    return NOON + dt.timedelta(minutes=number)


def close(act, blank, mix, joint=1, *, spread=2, closed=8, **kwargs):
    return gluing.close_joint(
        act=act,
        blank=blank,
        joint=joint,
        mix=mix,
        spread_at=minutes(spread),
        closed_at=minutes(closed),
        **kwargs,
    )


def findings(refusal):
    return {f.field: f.sentence for f in refusal.value.findings}


class TestMixing:
    def test_a_mix_as_the_sheet_asks_has_its_life_and_no_flag(self, act, weighed):
        mix = gluing.mix_glue(act=act, **weighed)
        assert mix.flags == ""
        assert mix.parts == 20
        assert mix.working_life_min == 240
        assert mix.number == "M0001"
        assert LedgerEntry.objects.head().verb == "mix glue"

    def test_life_is_read_between_the_rows_of_a_published_table(self, act, shop):
        # 65 degF lies half-way between 7.5 h and 3.75 h: sqrt(7.5 * 3.75) = 5.303 h,
        # computed from the bulletin in shared/glue_manufacturer_bulletins.csv. The book
        # keeps tenths of a degree Celsius, which is worth 0.7 % here.
        sheet = bulletin.resorcinol_sheet()
        mix = gluing.mix_glue(
            act=act,
            sheet=sheet,
            resin_lot=factories.ResinLotFactory(material=sheet.adhesive),
            hardener_lot=factories.HardenerLotFactory(material=sheet.hardener),
            resin_g=Decimal(500),
            hardener_g=Decimal(100),
            mixed_at=NOON,
            temperature_c=Decimal("18.3"),
        )
        assert float(mix.working_life_min) == pytest.approx(5.303 * 60, rel=1e-2)
        # Its open and closed times begin at 70 degF only.
        assert "Longest open assembly time not known" in mix.flags

    def test_a_ratio_outside_the_sheet_is_flagged_and_taken(self, act, weighed):
        weighed["hardener_g"] = Decimal("130.0")
        mix = gluing.mix_glue(act=act, **weighed)
        assert "26 parts" in mix.flags
        assert "18 to 22" in mix.flags
        assert "Discard" in mix.flags

    def test_exactly_on_the_sheets_edge_is_no_deviation(self, act, weighed):
        weighed["hardener_g"] = Decimal("110.0")
        assert gluing.mix_glue(act=act, **weighed).flags == ""

    def test_a_temperature_outside_the_table_is_never_extrapolated(self, act, weighed):
        weighed["temperature_c"] = Decimal("12.0")
        mix = gluing.mix_glue(act=act, **weighed)
        assert mix.working_life_min is None
        assert "15 to 30 degC" in mix.flags

    def test_situation_12_an_expired_container_is_flagged(self, act, weighed):
        """Container passes its date between two mixes on the same day."""
        resin = factories.ResinLotFactory(
            material=weighed["sheet"].adhesive, expires_on=DAY
        )
        weighed["resin_lot"] = resin
        assert gluing.mix_glue(act=act, **weighed).flags == ""
        weighed["mixed_at"] = NOON + dt.timedelta(days=1)
        late = gluing.mix_glue(act=act, **weighed)
        assert f"Lot {resin} was usable until 2 Mar 2026" in late.flags

    def test_situation_12_an_unknown_container_number_is_a_value(self, act, weighed):
        weighed["resin_lot"] = factories.ResinLotFactory(
            material=weighed["sheet"].adhesive, supplier_lot="", expires_on=None
        )
        mix = gluing.mix_glue(act=act, **weighed)
        assert "The number on the container" in mix.flags
        assert "Nobody knows until when" in mix.flags

    def test_a_held_lot_is_flagged(self, act, weighed):
        hold(act=act, thing=weighed["resin_lot"], reason="Smells odd", happened_at=NOON)
        assert "Smells odd" in gluing.mix_glue(act=act, **weighed).flags

    def test_an_older_sheet_is_flagged(self, act, weighed, sheet):
        factories.GlueSheetFactory(
            adhesive=sheet.adhesive, hardener=sheet.hardener, revision=2
        )
        assert "sheet 2 is in the book" in gluing.mix_glue(act=act, **weighed).flags

    @pytest.mark.parametrize(
        "state", [Lot.State.REFUSED, Lot.State.WAITING, Lot.State.RETURNED]
    )
    def test_a_lot_that_was_not_accepted_is_refused(self, act, weighed, state):
        weighed["resin_lot"] = factories.ResinLotFactory(
            material=weighed["sheet"].adhesive, state=state
        )
        with pytest.raises(Refusal) as refusal:
            gluing.mix_glue(act=act, **weighed)
        assert "accepted lots only" in findings(refusal)["resin_lot"]
        assert not Mix.objects.exists()

    def test_another_glue_than_the_sheets_is_refused(self, act, weighed, lots):
        weighed["resin_lot"] = lots["hardener_lot"]
        weighed["hardener_lot"] = factories.HardenerLotFactory()
        with pytest.raises(Refusal) as refusal:
            gluing.mix_glue(act=act, **weighed)
        assert set(findings(refusal)) == {"resin_lot", "hardener_lot"}

    def test_a_hardener_is_named_where_the_sheet_has_one(self, act, weighed):
        weighed["hardener_lot"] = None
        with pytest.raises(Refusal, match="Name the lot of"):
            gluing.mix_glue(act=act, **weighed)

    def test_water_needs_no_lot(self, act, weighed):
        sheet = factories.GlueSheetFactory(hardener=None, parts_low=50, parts_high=65)
        weighed |= {
            "sheet": sheet,
            "resin_lot": factories.ResinLotFactory(material=sheet.adhesive),
            "hardener_lot": None,
            "hardener_g": Decimal(325),
        }
        mix = gluing.mix_glue(act=act, **weighed)
        assert mix.parts == 65
        assert mix.flags == ""

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("resin_g", Decimal(-500)),
            ("resin_g", Decimal(0)),
            ("hardener_g", Decimal(-1)),
            ("hardener_g", Decimal(100000)),
            ("temperature_c", Decimal(68)),
            ("humidity_pct", Decimal(103)),
            ("stirred_min", Decimal(-2)),
            ("mixed_at", dt.datetime(2099, 1, 1, tzinfo=dt.UTC)),
            ("mixed_at", dt.datetime(2025, 1, 1, tzinfo=dt.UTC)),
        ],
    )
    def test_what_can_not_be_is_refused_at_its_field(self, act, weighed, field, value):
        weighed[field] = value
        with pytest.raises(Refusal) as refusal:
            gluing.mix_glue(act=act, **weighed)
        fields = set(findings(refusal))
        early = field == "mixed_at" and value.year == 2025
        assert fields == ({"resin_lot", "hardener_lot"} if early else {field})
        assert not Mix.objects.exists()
        assert LedgerEntry.objects.head() is None


class TestClosing:
    def test_a_joint_in_time_is_inside_and_puts_the_blank_in_glue_up(self, act, blank):
        joint = close(act, blank, factories.MixFactory())
        assert (joint.verdict, joint.flags) == (Verdict.INSIDE, "")
        blank.refresh_from_db()
        assert blank.state == Blank.State.GLUING

    def test_situation_1_a_second_mix_in_the_middle_of_a_stack(self, act, blank):
        """Joints 1 and 2 with mix A, 3 with both, 4 with mix B."""
        first, second = factories.MixFactory.create_batch(2)
        for joint in (1, 2):
            close(act, blank, first, joint)
        close(act, blank, first, 3, side=JointSpread.Side.LOWER)
        close(act, blank, second, 3, side=JointSpread.Side.UPPER)
        close(act, blank, second, 4)
        standing = JointSpread.objects.standing().filter(blank=blank)
        result = {
            joint: set(standing.filter(joint=joint).values_list("mix", flat=True))
            for joint in (1, 2, 3, 4)
        }
        both = {first.pk, second.pk}
        assert result == {1: {first.pk}, 2: {first.pk}, 3: both, 4: {second.pk}}

    def test_situation_2_working_life_passed_is_flagged_and_taken(self, act, blank):
        joint = close(act, blank, factories.MixFactory(), spread=238, closed=241)
        assert joint.verdict == Verdict.OUTSIDE
        assert "4\xa0h 1\xa0min after mix" in joint.flags
        assert "4\xa0h." in joint.flags

    def test_situation_2_a_joint_open_too_long_is_flagged_and_taken(self, act, blank):
        joint = close(act, blank, factories.MixFactory(), spread=2, closed=13)
        assert joint.verdict == Verdict.OUTSIDE
        assert (
            "Open for 11\xa0min; the sheet allows 10\xa0min at 20\xa0°C." in joint.flags
        )

    def test_exactly_on_both_limits_is_inside(self, act, blank):
        joint = close(act, blank, factories.MixFactory(), spread=230, closed=240)
        assert joint.verdict == Verdict.INSIDE

    def test_open_time_of_the_published_bulletin(self, act, blank):
        # 10 min open at 70 degF: bulletin in shared/glue_manufacturer_bulletins.csv.
        sheet = bulletin.resorcinol_sheet()
        mix = factories.MixFactory(sheet=sheet, temperature_c="21.1")
        assert close(act, blank, mix, 1, closed=12).verdict == Verdict.INSIDE
        assert close(act, blank, mix, 2, closed=13).verdict == Verdict.OUTSIDE

    def test_outside_the_table_nobody_knows(self, act, blank):
        mix = factories.MixFactory(temperature_c=12, working_life_min=None)
        joint = close(act, blank, mix)
        assert joint.verdict == Verdict.UNKNOWN
        assert "not known" in joint.flags

    def test_a_stack_that_is_not_whole_is_flagged_and_taken(self, act, shop):
        blank = factories.BlankFactory(revision__laminations=5)
        joint = close(act, blank, factories.MixFactory())
        assert joint.verdict == Verdict.OUTSIDE
        assert "0 of 5 laminations are laid" in joint.flags

    def test_too_little_glue_is_flagged(self, act, blank):
        joint = close(act, blank, factories.MixFactory(), spread_g=Decimal("20.0"))
        assert joint.verdict == Verdict.OUTSIDE
        assert "g/m² on joint 1; the sheet asks for 240 to 350\xa0g/m²" in joint.flags

    def test_enough_glue_of_two_mixes_counts_together(self, act, blank):
        # About 0.27 m2 (drawing of the factory), so 70 g is about 260 g/m2.
        first, second = factories.MixFactory.create_batch(2)
        half = {"spread_g": Decimal("35.0")}
        close(act, blank, first, 1, side=JointSpread.Side.LOWER, **half)
        upper = close(act, blank, second, 1, side=JointSpread.Side.UPPER, **half)
        assert upper.verdict == Verdict.INSIDE

    def test_more_glue_than_was_mixed_is_flagged(self, act, blank):
        mix = factories.MixFactory(resin_g=100, hardener_g=20)
        close(act, blank, mix, 1, spread_g=Decimal("70.0"))
        joint = close(act, blank, mix, 2, spread_g=Decimal("70.0"))
        assert f"140\xa0g of mix {mix} is in joints; 120\xa0g was mixed." in joint.flags

    @pytest.mark.parametrize(
        ("wrong", "field"),
        [
            ({"joint": 0}, "joint"),
            ({"joint": 5}, "joint"),
            ({"spread": -1}, "spread_at"),
            ({"spread": 9}, "closed_at"),
            ({"closed": 60 * 24 * 365 * 50}, "closed_at"),
        ],
    )
    def test_what_can_not_be_is_refused_at_its_field(self, act, blank, wrong, field):
        with pytest.raises(Refusal) as refusal:
            close(act, blank, factories.MixFactory(), **wrong)
        assert field in findings(refusal)
        assert not JointSpread.objects.exists()
        blank.refresh_from_db()
        assert blank.state == Blank.State.STACKING

    def test_the_same_line_twice_is_refused(self, act, blank):
        mix = factories.MixFactory()
        close(act, blank, mix)
        with pytest.raises(Refusal, match="is in the book, closed at 12:08"):
            close(act, blank, mix)

    def test_a_scrapped_blank_takes_no_glue(self, act, shop):
        blank = factories.stacked_blank(3, state=Blank.State.SCRAPPED)
        with pytest.raises(Refusal, match="is scrapped"):
            close(act, blank, factories.MixFactory())

    def test_a_joint_entered_after_pressing_is_held_against_the_press(self, act, blank):
        factories.LoadedBlankFactory(blank=blank, load__on_at=minutes(90))
        joint = close(act, blank, factories.MixFactory(), spread=2, closed=8)
        assert joint.verdict == Verdict.OUTSIDE
        assert "waited 1\xa0h 22\xa0min for pressure" in joint.flags

    def test_a_joint_closed_after_pressing_is_flagged(self, act, blank):
        factories.LoadedBlankFactory(blank=blank, load__on_at=minutes(5))
        joint = close(act, blank, factories.MixFactory(), spread=2, closed=8)
        assert "closed after pressure went on" in joint.flags


class TestCorrecting:
    def correct(self, act, spread, **kwargs):
        answers = {
            "joint": spread.joint,
            "mix": spread.mix,
            "side": spread.side,
            "spread_at": spread.spread_at,
            "closed_at": spread.closed_at,
            "reason": "Clock misread",
        }
        return gluing.correct_joint(act=act, spread=spread, **(answers | kwargs))

    def test_the_old_line_stays_and_the_new_one_stands(self, act, blank):
        spread = close(act, blank, factories.MixFactory(), spread=2, closed=13)
        new = self.correct(act, spread, closed_at=minutes(11))
        assert new.verdict == Verdict.INSIDE
        spread.refresh_from_db()
        assert spread.verdict == Verdict.OUTSIDE
        assert list(JointSpread.objects.standing()) == [new]

    def test_another_joint_may_be_named(self, act, blank):
        spread = close(act, blank, factories.MixFactory())
        assert self.correct(act, spread, joint=2).joint == 2

    def test_a_line_is_corrected_once(self, act, blank):
        spread = close(act, blank, factories.MixFactory())
        self.correct(act, spread, closed_at=minutes(9))
        with pytest.raises(Refusal, match="corrected already"):
            self.correct(act, spread, closed_at=minutes(10))

    def test_a_correction_says_why(self, act, blank):
        spread = close(act, blank, factories.MixFactory())
        with pytest.raises(Refusal) as refusal:
            self.correct(act, spread, reason=" ")
        assert "reason" in findings(refusal)

    def test_a_correction_can_not_be_impossible(self, act, blank):
        spread = close(act, blank, factories.MixFactory())
        with pytest.raises(Refusal):
            self.correct(act, spread, closed_at=minutes(1))
        assert list(JointSpread.objects.standing()) == [spread]
