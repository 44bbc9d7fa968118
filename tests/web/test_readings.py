"""The readings area as somebody at the bench meets it."""

import html as html_module
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Attachment, Reading, Shop
from records.queries.deviations.file import file_of
from tests import factories
from tests.rules.test_files import picture

pytestmark = pytest.mark.django_db
NOW = "2026-03-02T12:00"


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(serial="2026-001")


@pytest.fixture
def stage(propeller):
    return factories.StageFactory(
        revision=propeller.blank.route, code="shape", name="Shape", caution="Dust."
    )


@pytest.fixture
def track(stage):
    characteristic = factories.CharacteristicFactory(
        stage=stage, code="track", name="Track", how="With the pointer"
    )
    factories.LimitFactory(characteristic=characteristic, high="1.5")
    return characteristic


@pytest.fixture
def rule_gauge(shop):
    return factories.CalibrationFactory(gauge__number="G07").gauge


def log_path(kind, number, characteristic, **more):
    extra = "".join(f"&{k}={v}" for k, v in more.items())
    path = f"/readings/log/{kind}/{number}/"
    stage, code = characteristic.stage.code, characteristic.code
    return f"{path}?stage={stage}&characteristic={code}{extra}"


def text(response):
    plain = re.sub(r"<[^>]+>", " ", response.content.decode())
    return html_module.unescape(re.sub(r"\s+", " ", plain))


class TestLog:
    def test_the_field_shows_limit_source_unit_and_gauge(
        self, signed_in, track, rule_gauge
    ):
        shown = text(signed_in.get(log_path("propeller", "2026-001", track)))
        assert "Limit at most 1.5 mm (0.059 in): shop's practice" in shown
        assert "With the pointer." in shown
        assert "G07 Steel rule, 0 to 2000 mm, due 10 Jan 2030" in shown
        assert "Caution. Dust." in shown

    def test_units_of_the_dimension_can_be_chosen(self, signed_in, track):
        html = signed_in.get(log_path("propeller", "2026-001", track)).content.decode()
        assert '<option value="in">in</option>' in html
        assert '<option value="psi"' not in html

    def test_the_verdict_comes_back_at_once_with_the_next_step(
        self, signed_in, track, propeller
    ):
        path = log_path("propeller", "2026-001", track)
        given = {"entered": "1.20", "unit": "mm", "happened_at": NOW}
        response = signed_in.post(path, given, follow=True)
        shown = text(response)
        assert "1.20 mm (0.047 in) inside" in shown
        assert "limit at most 1.5 mm (0.059 in)" in shown
        assert "Sign Shape" in shown
        assert Reading.objects.get().propeller == propeller

    def test_what_is_outside_leads_to_a_deviation(self, signed_in, track):
        path = log_path("propeller", "2026-001", track)
        given = {"entered": "1.6", "unit": "mm", "happened_at": NOW}
        response = signed_in.post(path, given, follow=True)
        html = response.content.decode()
        reading = Reading.objects.get()
        assert "outside" in text(response)
        assert f"number=2026-001&amp;reading={reading.pk}" in html

    def test_a_photo_goes_with_the_reading_to_the_deviation(
        self, signed_in, track, propeller
    ):
        path = log_path("propeller", "2026-001", track)
        photo = SimpleUploadedFile("tip.jpg", picture(), "image/jpeg")
        given = {"entered": "1.6", "unit": "mm", "happened_at": NOW, "photo": photo}
        page = signed_in.post(path, given, follow=True).content.decode()
        kept = Attachment.objects.get()
        assert (kept.subject, kept.caption) == (propeller, "Track: 1.6")
        assert f'<img src="/files/{kept.pk}/" alt="Track: 1.6"' in page
        on_propeller = signed_in.get("/builds/propellers/2026-001/").content.decode()
        assert f'<img src="/files/{kept.pk}/"' in on_propeller
        about = factories.DeviationSubjectFactory(
            propeller=propeller, reading=kept.reading
        )
        assert file_of(about.deviation).photos == [kept]

    def test_a_photo_that_is_none_keeps_what_was_typed(self, signed_in, track):
        path = log_path("propeller", "2026-001", track)
        photo = SimpleUploadedFile("tip.jpg", b"no picture", "image/jpeg")
        given = {"entered": "1.62", "unit": "mm", "happened_at": NOW, "photo": photo}
        answer = signed_in.post(path, given)
        assert answer.status_code == 422
        assert 'value="1.62"' in answer.content.decode()
        assert not Reading.objects.exists()

    def test_the_glue_line_stands_beside_the_gauge(self, signed_in, stage, propeller):
        load = factories.LoadedBlankFactory(blank=propeller.blank).load
        press = factories.StageFactory(
            revision=stage.revision, scope="blank", code="press", evidence="press"
        )
        characteristic = factories.CharacteristicFactory(
            stage=press, on="load", unit="MPa", computed="glue_line_pressure"
        )
        path = log_path("load", load.number, characteristic)
        assert "At the glue line 1.00 MPa (145 psi)" in text(signed_in.get(path))
        given = {"entered": "18.3", "unit": "MPa", "happened_at": NOW}
        shown = text(signed_in.post(path, given, follow=True))
        # 4 rams of 75 mm on 0.27 m2 (closed form): 18.3 MPa is 1.20 MPa
        assert "18.3 MPa (2654 psi) inside at the glue line 1.20 MPa (174 psi)" in shown

    def test_a_difference_is_shown_beside_the_reading_it_comes_from(
        self, signed_in, stage
    ):
        tip = factories.CharacteristicFactory(stage=stage, per="blade", code="tip")
        spread = factories.CharacteristicFactory(
            stage=stage,
            name="Tip track",
            computed="range_of_blades",
            compares="tip",
            code="spread",
        )
        factories.LimitFactory(characteristic=spread, high="1.5")
        for blade, entered in ((1, "0.0"), (2, "1.2")):
            response = signed_in.post(
                log_path("propeller", "2026-001", tip, blade=blade),
                {"entered": entered, "unit": "mm", "blade": blade, "happened_at": NOW},
                follow=True,
            )
        assert "Tip track, computed 1.2 mm (0.047 in) inside" in text(response)

    def test_a_refusal_keeps_all_that_was_typed_at_its_field(
        self, signed_in, track, rule_gauge
    ):
        path = log_path("propeller", "2026-001", track)
        given = {
            "entered": "1,2x",
            "unit": "in",
            "gauge": str(rule_gauge.pk),
            "happened_at": "2126-03-02T12:00",
        }
        response = signed_in.post(path, given)
        html = response.content.decode()
        assert response.status_code == 422
        assert 'value="1,2x"' in html
        assert '<option value="in" selected>' in html
        assert "is not a number" in html
        assert "still to come" in html
        assert not Reading.objects.exists()

    def test_the_same_form_counts_once(self, signed_in, track):
        path = log_path("propeller", "2026-001", track)
        key = "00000000-0000-4000-8000-000000000001"
        given = {
            "entered": "1",
            "unit": "mm",
            "happened_at": NOW,
            "form_key": key,
        }
        first = signed_in.post(path, given)
        assert signed_in.post(path, given).url == first.url
        assert Reading.objects.count() == 1

    def test_yes_or_no_is_a_choice_and_words_are_an_area(self, signed_in, stage):
        characteristic = factories.CharacteristicFactory(
            stage=stage, kind="yes_no", unit=""
        )
        html = signed_in.get(
            log_path("propeller", "2026-001", characteristic)
        ).content.decode()
        assert 'type="radio" name="entered" value="yes"' in html
        note = factories.CharacteristicFactory(stage=stage, kind="note", unit="")
        html = signed_in.get(log_path("propeller", "2026-001", note)).content.decode()
        assert '<textarea name="entered"' in html

    def test_without_a_characteristic_it_asks_what_is_read(self, signed_in, track):
        shown = text(signed_in.get("/readings/log/propeller/2026-001/"))
        assert "What was read?" in shown
        assert "Log track" in shown

    def test_what_is_computed_is_computed_by_a_button(self, signed_in, stage):
        spread = factories.CharacteristicFactory(
            stage=stage, computed="range_of_points", compares="hub"
        )
        path = log_path("propeller", "2026-001", spread)
        assert "Compute it" in text(signed_in.get(path))
        response = signed_in.post(path, {"form_key": ""})
        assert "Too few readings" in text(response)

    @pytest.mark.parametrize(
        "path",
        [
            "/readings/log/propeller/9999/",
            "/readings/log/gauge/G01/",
            "/readings/log/house/1/",
            "/readings/9999/",
        ],
    )
    def test_what_is_not_there_is_not_found(self, signed_in, shop, path):
        assert signed_in.get(path).status_code == 404

    def test_a_reader_is_told_why_not(self, client, track):
        reader = factories.PersonFactory(role="reader")
        client.force_login(reader, backend="django.contrib.auth.backends.ModelBackend")
        shown = text(client.get(log_path("propeller", "2026-001", track)))
        assert "you look and write nothing" in shown

    def test_the_guarded_rule_says_how_sure_it_is(
        self, signed_in, track, rule_gauge, shop
    ):
        shop.decision_rule = Shop.DecisionRule.GUARDED
        shop.save()
        given = {
            "entered": "1.49",
            "unit": "mm",
            "gauge": str(rule_gauge.pk),
            "happened_at": NOW,
        }
        path = log_path("propeller", "2026-001", track)
        shown = text(signed_in.post(path, given, follow=True))
        assert "undecided" in shown
        assert "by the guarded rule, standard uncertainty 0.01 mm" in shown


class TestReading:
    def test_a_late_entry_shows_as_one(self, signed_in, track, propeller):
        reading = factories.ReadingFactory(
            characteristic=track,
            propeller=propeller,
            happened_at=factories.NOON.replace(hour=9),
        )
        shown = text(signed_in.get(f"/readings/{reading.pk}/"))
        assert "2 Mar 2026, 09:00, written 2 Mar 2026, 12:00: a late entry" in shown

    def test_a_correction_keeps_the_old_row_readable(self, signed_in, track):
        path = log_path("propeller", "2026-001", track)
        given = {"entered": "15", "unit": "mm", "happened_at": NOW}
        signed_in.post(path, given)
        old = Reading.objects.get()
        form = f"/readings/{old.pk}/correct/"
        assert "Correct 15 mm" in text(signed_in.get(form))
        refused = signed_in.post(form, {**given, "entered": "1.5", "reason": ""})
        assert refused.status_code == 422
        response = signed_in.post(
            form, {**given, "entered": "1.5", "reason": "Point left out"}, follow=True
        )
        shown = text(response)
        assert "1.5 mm (0.059 in) inside" in shown
        assert "15 mm" in shown
        assert "Point left out" in shown
        old_page = text(signed_in.get(f"/readings/{old.pk}/"))
        assert "A later row stands in its place." in old_page

    def test_a_reading_of_the_wrong_thing_is_withdrawn(
        self, signed_in, track, propeller
    ):
        reading = factories.ReadingFactory(characteristic=track, propeller=propeller)
        form = f"/readings/{reading.pk}/withdraw/"
        assert "Withdraw 1.0 mm" in text(signed_in.get(form))
        shown = text(signed_in.post(form, {"reason": "Other one"}, follow=True))
        assert "withdrawn" in shown
        assert not Reading.objects.standing().exists()


class TestGrid:
    @pytest.fixture
    def angle(self, stage):
        return factories.CharacteristicFactory(
            stage=stage,
            code="angle",
            name="Blade angle",
            unit="deg",
            per="station",
            nominal="angle",
        )

    PATH = "/readings/grid/2026-001/shape/"

    def names(self, html):
        return re.findall(r'name="(at_\d+_\d+_\d+)"', html)

    def test_stations_down_and_blades_across(self, signed_in, angle):
        html = signed_in.get(self.PATH).content.decode()
        assert len(self.names(html)) == 8
        assert "36.51 ± 0.5" in html
        assert 'aria-label="Blade angle, 258 mm, blade 1"' in html

    def test_what_is_filled_in_is_written_together_and_the_rest_is_left(
        self, signed_in, angle
    ):
        names = self.names(signed_in.get(self.PATH).content.decode())
        given = {
            names[0]: "36.4",
            names[1]: "37.2",
            f"unit_{angle.pk}": "deg",
            "happened_at": NOW,
        }
        response = signed_in.post(self.PATH, given, follow=True)
        html = response.content.decode()
        assert "2 readings are in the book; 1 not inside." in text(response)
        assert len(self.names(html)) == 6
        assert "Open a deviation" in text(response)

    def test_a_bad_cell_is_marked_and_nothing_is_written(self, signed_in, angle):
        names = self.names(signed_in.get(self.PATH).content.decode())
        given = {
            names[0]: "36.4",
            names[1]: "steep",
            f"unit_{angle.pk}": "deg",
            "happened_at": NOW,
        }
        response = signed_in.post(self.PATH, given)
        html = response.content.decode()
        assert response.status_code == 422
        assert f'name="{names[0]}" value="36.4"' in html
        marked = re.search(rf'name="{names[1]}"[^>]*aria-invalid="true"', html)
        assert marked
        assert "Blade angle, 258 mm, blade 2: &#x27;steep&#x27; is not a number" in html
        assert not Reading.objects.exists()

    def test_an_empty_grid_is_asked_for_something(self, signed_in, angle):
        given = {f"unit_{angle.pk}": "deg", "happened_at": NOW}
        assert "Fill in at least one place." in text(signed_in.post(self.PATH, given))

    def test_the_gauge_in_hand_is_offered(self, signed_in, angle):
        gauge = factories.GaugeFactory(unit="deg", range_high=90)
        factories.CalibrationFactory(gauge=gauge)
        html = signed_in.get(self.PATH).content.decode()
        assert f'<option value="{gauge.pk}" selected>' in html

    def test_open_hold_points_bar_the_button(self, signed_in, angle, stage):
        factories.StageFactory(revision=stage.revision, order=0, hold_point=True)
        assert "Hold points before this stage" in text(signed_in.get(self.PATH))

    def test_a_stage_without_blades_has_no_grid(self, signed_in, track):
        assert signed_in.get(self.PATH).status_code == 404

    def test_logging_without_a_blade_leads_to_the_grid(self, signed_in, angle):
        path = log_path("propeller", "2026-001", angle)
        assert signed_in.get(path).url == self.PATH
        one = log_path("propeller", "2026-001", angle, blade=1)
        assert signed_in.get(one).status_code == 200


def queries(client, path):
    with CaptureQueriesContext(connection) as context:
        assert client.get(path).status_code == 200
    return len(context)


def test_the_list_takes_as_many_queries_for_20_rows(signed_in, track, propeller):
    factories.ReadingFactory(characteristic=track, propeller=propeller)
    signed_in.get("/readings/")
    few = queries(signed_in, "/readings/")
    for _ in range(19):
        factories.ReadingFactory(gauge=factories.GaugeFactory())
    assert queries(signed_in, "/readings/") == few


@pytest.mark.parametrize(
    ("wanted", "count"),
    [
        ("?verdict=outside", 1),
        ("?rows=replaced", 1),
        ("?rows=standing", 2),
        ("?text=track", 3),
        ("?gauge=G07", 1),
    ],
)
def test_the_list_is_filtered(signed_in, track, propeller, wanted, count):
    about = {"characteristic": track, "propeller": propeller}
    gauge = factories.GaugeFactory(number="G07")
    old = factories.ReadingFactory(**about, gauge=gauge)
    factories.ReadingFactory(**about, corrects=old, reason="Slip")
    factories.ReadingFactory(**about, verdict="outside")
    table = signed_in.get(f"/readings/{wanted}").context["table"]
    assert len(table.rows) == count


def test_the_list_is_exported(signed_in, track, propeller):
    factories.ReadingFactory(characteristic=track, propeller=propeller)
    response = signed_in.get("/readings/?export=csv")
    rows = b"".join(response.streaming_content).decode().splitlines()
    assert rows[1].startswith("Track,propeller 2026-001,1.0 mm,inside,")


def test_a_readings_page_takes_as_many_queries_for_many(signed_in, track, propeller):
    reading = factories.ReadingFactory(characteristic=track, propeller=propeller)
    path = f"/readings/{reading.pk}/"
    signed_in.get(path)
    few = queries(signed_in, path)
    for _ in range(20):
        factories.ReadingFactory(characteristic=track, propeller=propeller)
    assert queries(signed_in, path) == few
