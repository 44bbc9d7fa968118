"""Presses and their loads as somebody at a bench meets them."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from records.models import Blank, Press, PressLoad, PressSample
from tests import factories
from tests.factories import NOON
from tests.queries.deviations.test_decided import decide
from tests.web.seen import queries_of, text_of

pytestmark = pytest.mark.django_db
ROWS = 20


def page(name, *args):
    return reverse(f"pressing:{name}", args=args)


def local(moment):
    return timezone.localtime(moment).strftime("%Y-%m-%dT%H:%M")


def wet_blank(**kwargs):
    blank = factories.stacked_blank(3, state=Blank.State.GLUING, **kwargs)
    mix = factories.MixFactory()
    for joint in (1, 2):
        factories.JointSpreadFactory(blank=blank, joint=joint, mix=mix)
    return blank


@pytest.fixture
def load(shop):
    blank = wet_blank()
    load = factories.PressLoadFactory(on_at=NOON + dt.timedelta(minutes=20))
    factories.LoadedBlankFactory(load=load, blank=blank, verdict="inside")
    return load


def shown(load, minute, **kwargs):
    moment = load.on_at + dt.timedelta(minutes=minute)
    facts = {
        "at": local(moment),
        "entered": "180",
        "unit": "bar",
        "temperature_c": "20",
    }
    return facts | kwargs


class TestPresses:
    def test_a_press_is_added_and_put_away(self, signed_in, shop):
        given = {"name": "Long press", "kind": "rams", "rams": "4", "bore_mm": "63"}
        words = text_of(signed_in.post(page("add_press"), given, follow=True))
        assert "Long press is in the book." in words
        assert "4 of 63 mm" in words
        press = Press.objects.get()
        signed_in.post(page("press_in_use", press.pk), {"sent": "unticked"})
        assert "no more" in text_of(signed_in.get(page("presses")))

    def test_a_figure_that_is_missing_is_said_at_its_field(self, signed_in, shop):
        given = {"name": "Bag", "kind": "bag", "rams": "2"}
        answer = signed_in.post(page("add_press"), given)
        assert set(answer.context["form"].errors) == {"bag_area_ratio", "rams"}
        assert not Press.objects.exists()

    def test_a_name_twice_is_said_at_the_name(self, signed_in, shop):
        press = factories.PressFactory()
        given = {"name": press.name, "kind": "rams", "rams": "4", "bore_mm": "63"}
        answer = signed_in.post(page("add_press"), given)
        assert answer.context["form"].errors["name"]


class TestClosing:
    def given(self, *blanks, **kwargs):
        facts = {
            "press": factories.PressFactory().pk,
            "blanks": [blank.pk for blank in blanks],
            "on_at": local(NOON + dt.timedelta(minutes=20)),
        }
        return facts | kwargs

    def test_leads_to_the_load_and_says_what_to_hold(self, signed_in, shop):
        first, second = wet_blank(), wet_blank()
        answer = signed_in.post(
            page("load_press"), self.given(first, second), follow=True
        )
        assert answer.redirect_chain[-1][0] == page("load", "P0001")
        words = text_of(answer)
        assert "hold 1.00 MPa (145 psi) to 1.40 MPa (203 psi)" in words
        assert first.number in words
        assert answer.context["step"].label == "Enter what the gauge shows"

    def test_the_blank_asked_for_is_ticked_and_its_area_shown(self, signed_in, shop):
        blank = wet_blank()
        press = factories.PressFactory()
        answer = signed_in.get(f"{page('load_press')}?blank={blank.number}")
        assert answer.context["form"].initial == {"blanks": [blank.pk], "press": press}
        assert "mm²" in text_of(answer)
        assert "Caution." in text_of(answer)

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("press", "99999"),
            ("blanks", []),
            ("on_at", "2199-01-01T10:00"),
            ("glued_area_mm2", "27"),
            ("glued_area_mm2", "-5"),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, shop, field, typed):
        given = self.given(wet_blank(), **{field: typed})
        answer = signed_in.post(page("load_press"), given)
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not PressLoad.objects.exists()


class TestSampling:
    def test_the_glue_line_pressure_comes_back_at_once(self, signed_in, load):
        # Four 75 mm rams at 180 bar on 0.27 m2: p n (pi/4) d2 / A = 1.18 MPa.
        path = page("add_sample", load.number)
        words = text_of(signed_in.post(path, shown(load, 5), follow=True))
        assert "180 bar is 1.18 MPa (171 psi) at the glue line." in words
        assert "held" in words

    def test_units_are_those_of_the_press(self, signed_in, load):
        form = signed_in.get(page("add_sample", load.number)).context["form"]
        units = [unit for unit, _ in form.fields["unit"].choices]
        assert "psi" in units
        assert "N.m" not in units

    def test_unit_and_gauge_are_those_used_last_at_the_press(self, signed_in, load):
        gauge = factories.GaugeFactory(unit="psi")
        factories.PressSampleFactory(load=load, unit="psi", gauge=gauge)
        form = signed_in.get(page("add_sample", load.number)).context["form"]
        assert (form["unit"].value(), form["gauge"].value()) == ("psi", gauge.pk)

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("entered", "high"),
            ("entered", "-3"),
            ("unit", "mm"),
            ("temperature_c", "203"),
            ("at", "2026-03-02T10:00"),
            ("at", "2199-01-01T10:00"),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, load, field, typed):
        path = page("add_sample", load.number)
        answer = signed_in.post(path, shown(load, 5, **{field: typed}))
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not PressSample.objects.exists()

    def test_a_loggers_file_comes_in_whole(self, signed_in, load):
        rows = [f"{i};18{i % 10},5;20" for i in range(300)]
        text = "\n".join(["elapsed [min];pressure [bar];temperature [°C]", *rows])
        given = {
            "file": SimpleUploadedFile("press.csv", text.encode()),
            "unit": "bar",
            "temperature_unit": "degC",
        }
        path = page("import_samples", load.number)
        words = text_of(signed_in.post(path, given, follow=True))
        assert "300 samples are in the book." in words
        assert "All 300 samples" in words

    def test_every_bad_line_of_a_file_is_named(self, signed_in, load):
        text = "elapsed [min];pressure\n0;180\n1;high\n2;\n-5;180\n"
        given = {
            "file": SimpleUploadedFile("press.csv", text.encode()),
            "unit": "bar",
            "temperature_unit": "degC",
        }
        answer = signed_in.post(page("import_samples", load.number), given)
        errors = " ".join(answer.context["form"].errors["file"])
        for line in ("Line 3:", "Line 4:", "Line 5:"):
            assert line in errors
        assert not PressSample.objects.exists()

    def test_no_text_is_no_file(self, signed_in, load):
        given = {
            "file": SimpleUploadedFile("press.csv", b"\x00\x01"),
            "unit": "bar",
            "temperature_unit": "degC",
        }
        answer = signed_in.post(page("import_samples", load.number), given)
        assert answer.context["form"].errors["file"]

    def test_a_correction_keeps_the_old_figure_readable(self, signed_in, load):
        sample = factories.PressSampleFactory(load=load, entered="1800")
        given = {"entered": "180", "unit": "bar", "reason": "Decimal point"}
        path = page("correct_sample", sample.pk)
        assert 'value="1800"' in signed_in.get(path).content.decode()
        words = text_of(signed_in.post(path, given, follow=True))
        assert "1 corrected sample" in words
        assert "1800 bar, corrected to 180 bar" in words


class TestOpening:
    def test_the_earliest_opening_runs(self, signed_in, load):
        for minute in (0, 60):
            factories.PressSampleFactory(
                load=load, at=load.on_at + dt.timedelta(minutes=minute)
            )
        answer = signed_in.get(page("load", load.number))
        words = text_of(answer)
        # The factory's sheet: 16 h at 20 °C.
        assert "Earliest opening 3 Mar 2026, 04:20, if the stack stays as warm" in words
        assert "data-deadline" in answer.content.decode()
        assert answer.context["step"].label == "Open the press"

    def test_opened_too_early_is_said_and_taken(self, signed_in, load):
        for minute in (0, 240):
            factories.PressSampleFactory(
                load=load, at=load.on_at + dt.timedelta(minutes=minute)
            )
        given = {"off_at": local(load.on_at + dt.timedelta(minutes=240))}
        answer = signed_in.post(page("open_press", load.number), given, follow=True)
        assert "Opened with 25 % of the press time" in text_of(answer)
        assert answer.context["verdict"].word == "on hold"

    def test_off_before_on_is_said_at_its_field(self, signed_in, load):
        given = {"off_at": local(load.on_at - dt.timedelta(minutes=1))}
        answer = signed_in.post(page("open_press", load.number), given)
        assert answer.context["form"].errors["off_at"]
        load.refresh_from_db()
        assert load.off_at is None


class TestPage:
    def test_before_a_sample_nobody_knows(self, signed_in, load):
        answer = signed_in.get(page("load", load.number))
        assert answer.context["verdict"].word == "pressure not known"
        assert '<svg class="chart' not in answer.content.decode()

    def test_coming_up_is_no_failure(self, signed_in, load):
        factories.PressSampleFactory(load=load, glue_line_pa=400_000)
        answer = signed_in.get(page("load", load.number))
        assert answer.context["verdict"].word == "coming up to pressure"

    def test_a_dip_is_drawn_and_said(self, signed_in, load):
        for minute, pressure in ((0, 1.1e6), (60, 0.5e6), (120, 1.1e6)):
            factories.PressSampleFactory(
                load=load,
                at=load.on_at + dt.timedelta(minutes=minute),
                glue_line_pa=pressure,
            )
        answer = signed_in.get(page("load", load.number))
        assert "chart-dip" in answer.content.decode()
        assert "lowest 0.50 MPa (73 psi)" in text_of(answer)
        assert answer.context["verdict"].word == "not as the glue asks"
        decide(load=load)
        answer = signed_in.get(page("load", load.number))
        assert answer.context["verdict"].word == "accepted by a decision"

    def test_what_published_text_gives_for_the_wood_stands_beside(
        self, signed_in, load
    ):
        assert "AC 43.13-1B, 1-10" in text_of(signed_in.get(page("load", load.number)))


class TestLists:
    def test_loads_are_found_by_number_blank_and_press(self, signed_in, load):
        factories.LoadedBlankFactory()
        blank = load.loaded.get().blank
        for asked in (
            f"text={load.number}",
            f"text={blank.number}",
            f"press={load.press_id}",
        ):
            answer = signed_in.get(f"{page('loads')}?{asked}")
            rows = [row.record.number for row in answer.context["table"].rows]
            assert rows == [load.number], asked

    @pytest.mark.parametrize("name", ["loads", "presses"])
    def test_lists_export(self, signed_in, load, name):
        answer = signed_in.get(f"{page(name)}?export=csv")
        assert len(answer.getvalue().decode().splitlines()) == 2

    def test_samples_export_in_pascals(self, signed_in, load):
        factories.PressSampleFactory(load=load)
        path = page("samples", load.number)
        assert "1.18 MPa" in text_of(signed_in.get(path))
        lines = signed_in.get(f"{path}?export=csv").getvalue().decode()
        assert ",1178000.0,20.000," in lines
        assert "Correct" not in lines

    def test_no_page_takes_more_queries_for_more_rows(self, signed_in, load):
        factories.PressSampleFactory(load=load)
        paths = [
            page("loads"),
            page("presses"),
            page("load", load.number),
            page("samples", load.number),
            page("load_press"),
        ]
        few = [queries_of(signed_in, path) for path in paths]
        for minute in range(ROWS):
            factories.LoadedBlankFactory(load=load, blank=wet_blank())
            factories.LoadedBlankFactory()
            moment = load.on_at + dt.timedelta(minutes=minute + 6)
            factories.PressSampleFactory(load=load, at=moment)
        assert [queries_of(signed_in, path) for path in paths] == few
