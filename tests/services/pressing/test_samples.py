"""Samples: the pressure at the glue line, dips held, and a logger's file whole."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Gauge, Hold, PressSample, Shop
from records.queries.pressing.history import press_history
from records.queries.reach.holds import holds_on
from records.services.pressing import loads as pressing
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON

ON = NOON + dt.timedelta(minutes=30)


@pytest.fixture
def load(shop):
    """A load of one blank: four 63 mm rams on 1830 x 152 mm."""
    blank = factories.stacked_blank(4, state="pressed")
    factories.JointSpreadFactory(blank=blank)
    load = factories.PressLoadFactory(
        press__rams=4,
        press__bore_mm=63,
        glued_area_mm2=1830 * 152,
        pressure_low_pa=400_000,
        pressure_high_pa=600_000,
    )
    factories.LoadedBlankFactory(load=load, blank=blank)
    return load


@pytest.fixture
def gauge(shop):
    gauge = factories.GaugeFactory(unit="bar", range_high=400)
    factories.CalibrationFactory(gauge=gauge)
    return gauge


def at(minute):
    return ON + dt.timedelta(minutes=minute)


def sample(act, load, minute, entered="100", unit="bar", **kwargs):
    return pressing.add_sample(
        act=act, load=load, at=at(minute), entered=entered, unit=unit, **kwargs
    )


def fields(refusal):
    return {f.field for f in refusal.value.findings}


class TestTyping:
    def test_the_pressure_at_the_glue_line_comes_back_at_once(self, act, load):
        # 10 MPa on 4 rams of 63 mm over 1830 x 152 mm is 0.44827 MPa: closed form in
        # shared check values, p = p_gauge n (pi/4) d2 / A.
        result = sample(act, load, 1, "10", "MPa")
        assert result.glue_line_pa == pytest.approx(448_270, rel=1e-4)
        assert (result.entered, result.unit) == ("10", "MPa")

    def test_it_is_kept_as_it_was_typed(self, act, load):
        assert sample(act, load, 1, " 100,50 ").entered == "100,50"

    @pytest.mark.parametrize(
        ("wrong", "field"),
        [
            ({"entered": "high"}, "entered"),
            ({"entered": ""}, "entered"),
            ({"entered": "-5"}, "entered"),
            ({"unit": "mm"}, "unit"),
            ({"unit": "lbf.ft"}, "unit"),
            ({"temperature_c": Decimal(203)}, "temperature_c"),
            ({"minute": -1}, "at"),
            ({"minute": 60 * 24 * 365 * 50}, "at"),
        ],
    )
    def test_what_can_not_be_is_refused_at_its_field(self, act, load, wrong, field):
        with pytest.raises(Refusal) as refusal:
            sample(act, load, **({"minute": 1} | wrong))
        assert fields(refusal) == {field}
        assert not PressSample.objects.exists()

    def test_not_after_pressure_went_off(self, act, load):
        load = factories.PressLoadFactory(off_at=at(60))
        with pytest.raises(Refusal, match="Pressure went off"):
            sample(act, load, 61)

    def test_one_sample_a_moment(self, act, load):
        sample(act, load, 1)
        with pytest.raises(Refusal, match="Correct it if it is not right"):
            sample(act, load, 1, "101")

    def test_screws_show_a_torque(self, act, shop):
        # 20 screws M16, K 0.2, 40 N.m on 0.25 m2 is 1 MPa: closed form.
        load = factories.PressLoadFactory(
            press__kind="screws",
            press__rams=20,
            press__bore_mm=16,
            press__nut_factor="0.2",
            glued_area_mm2=250_000,
        )
        result = sample(act, load, 1, "40", "N.m")
        assert result.glue_line_pa == pytest.approx(1e6)
        with pytest.raises(Refusal):
            sample(act, load, 2, "40", "bar")


class TestGauges:
    def test_a_gauge_in_date_is_named(self, act, load, gauge):
        result = sample(act, load, 1, gauge=gauge)
        assert (result.gauge, result.flags) == (gauge, "")

    def test_a_withdrawn_gauge_is_refused(self, act, load, gauge):
        Gauge.objects.filter(pk=gauge.pk).update(state=Gauge.State.WITHDRAWN)
        gauge.refresh_from_db()
        with pytest.raises(Refusal, match="withdrawn") as refusal:
            sample(act, load, 1, gauge=gauge)
        assert fields(refusal) == {"gauge"}

    def test_an_unfit_gauge_is_flagged_where_the_shop_says_so(self, act, load, shop):
        Shop.objects.update(overdue_gauge=Shop.OverdueGauge.FLAG)
        gauge = factories.GaugeFactory(unit="bar")
        assert "never been calibrated" in sample(act, load, 1, gauge=gauge).flags

    def test_a_gauge_of_another_quantity_is_refused(self, act, load, shop):
        Shop.objects.update(overdue_gauge=Shop.OverdueGauge.FLAG)
        with pytest.raises(Refusal, match="reads mm"):
            sample(act, load, 1, gauge=factories.GaugeFactory())


class TestDips:
    def test_a_dip_holds_the_load_once_and_every_blank_in_it(self, act, load):
        for minute, shown in ((0, 100), (10, 60), (20, 100), (30, 50), (40, 100)):
            sample(act, load, minute, str(shown))
        hold = Hold.objects.get(load=load)
        assert "Pressure below" in hold.reason
        assert hold.happened_at == at(0)
        blank = load.loaded.get().blank
        assert holds_on("blank", blank.pk) == [hold]

    def test_pumping_up_is_no_dip(self, act, load):
        for minute, shown in ((0, 20), (2, 70), (4, 100)):
            sample(act, load, minute, str(shown))
        assert not Hold.objects.exists()

    def test_once_cured_a_drop_does_not_matter(self, act, load):
        for minute in (0, 960):
            sample(act, load, minute, temperature_c=Decimal(20))
        sample(act, load, 970, "0")
        assert not Hold.objects.exists()
        [dip] = press_history(load).dips
        assert not dip.matters


class TestCorrecting:
    def test_the_old_figure_stays(self, act, load):
        first = sample(act, load, 1, "1000")
        new = pressing.correct_sample(
            act=act, sample=first, entered="100", unit="bar", reason="Decimal point"
        )
        assert list(PressSample.objects.standing()) == [new]
        assert new.at == first.at
        first.refresh_from_db()
        assert first.entered == "1000"

    def test_it_is_corrected_once_and_with_a_reason(self, act, load):
        first = sample(act, load, 1)
        answers = {"act": act, "sample": first, "entered": "101", "unit": "bar"}
        with pytest.raises(Refusal) as refusal:
            pressing.correct_sample(**answers, reason=" ")
        assert fields(refusal) == {"reason"}
        pressing.correct_sample(**answers, reason="Misread")
        with pytest.raises(Refusal, match="corrected already"):
            pressing.correct_sample(**answers, reason="Again")


def log(*lines):
    return "time;pressure [bar];temperature [°C]\n" + "\n".join(lines)


class TestImporting:
    def read(self, act, load, text, **kwargs):
        return pressing.import_samples(
            act=act, load=load, text=text, **({"unit": "bar"} | kwargs)
        )

    def test_several_hundred_rows_come_in_whole(
        self, act, load, gauge, django_assert_max_num_queries
    ):
        rows = [f"{at(i):%Y-%m-%d %H:%M:%S};100,{i % 10};21,5" for i in range(600)]
        with django_assert_max_num_queries(60):
            result = self.read(act, load, log(*rows), gauge=gauge)
        assert len(result) == PressSample.objects.filter(gauge=gauge).count() == 600
        assert result[7].entered == "100,7"
        assert result[0].temperature_c == Decimal("21.5")
        assert not Hold.objects.exists()

    def test_every_bad_line_is_named_and_none_comes_in(self, act, load):
        rows = [f"{at(i):%Y-%m-%d %H:%M:%S};100;20" for i in range(20)]
        rows[2] = rows[1]  # line 4: the moment of line 3
        rows[5] = "2026-03-02 12:00;100;20"  # line 7: before pressure on
        rows[6] = "2026-03-02 12:01;100;20"  # line 8
        rows[9] = f"{at(9):%Y-%m-%d %H:%M:%S};high;20"
        rows[12] = f"{at(12):%Y-%m-%d %H:%M:%S};-3;20"
        rows[15] = f"{at(15):%Y-%m-%d %H:%M:%S};100;400"
        with pytest.raises(Refusal) as refusal:
            self.read(act, load, log(*rows))
        said = [f.sentence for f in refusal.value.findings]
        assert fields(refusal) == {"file"}
        assert [s.split(":")[0] for s in said] == [
            "Line 4",
            "Lines 7 to 8",
            "Line 11",
            "Line 14",
            "Line 17",
        ]
        assert not PressSample.objects.exists()

    def test_a_moment_that_is_in_the_book_is_a_bad_line(self, act, load):
        sample(act, load, 1)
        with pytest.raises(Refusal, match="Line 2: There is a sample"):
            self.read(act, load, log(f"{at(1):%Y-%m-%d %H:%M:%S};100;20"))

    def test_fahrenheit_is_converted(self, act, load):
        text = log(f"{at(1):%Y-%m-%d %H:%M:%S};100;68").replace("°C", "°F")
        [result] = self.read(act, load, text, temperature_unit="degF")
        assert result.temperature_c == 20

    @pytest.mark.parametrize(
        ("chosen", "field"),
        [
            ({"unit": "psi"}, "unit"),
            ({"temperature_unit": "degF"}, "temperature_unit"),
        ],
    )
    def test_a_heading_with_another_unit_is_refused(self, act, load, chosen, field):
        with pytest.raises(Refusal, match="heading says") as refusal:
            self.read(act, load, log(f"{at(1):%Y-%m-%d %H:%M:%S};100;20"), **chosen)
        assert fields(refusal) == {field}

    def test_a_wrong_unit_and_no_heading_are_said(self, act, load):
        with pytest.raises(Refusal) as refusal:
            self.read(act, load, "x", unit="mm", temperature_unit="bar")
        assert fields(refusal) == {"unit", "temperature_unit"}
        with pytest.raises(Refusal, match="No heading"):
            self.read(act, load, "x")

    def test_situation_3_a_leak_in_the_file_holds_the_load(self, act, load):
        """Power cut or leak during press: taken from the logger, load on hold."""
        shown = [100] * 30 + [40] * 15 + [100] * 30
        rows = [f"{at(i):%Y-%m-%d %H:%M:%S};{p};20" for i, p in enumerate(shown)]
        self.read(act, load, log(*rows))
        history = press_history(load)
        [dip] = history.dips
        assert (dip.start, dip.end) == (at(29), at(45))
        assert history.longest_below_s == 16 * 60
        assert Hold.objects.get().happened_at == at(29)
