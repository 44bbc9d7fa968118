"""The designs area as somebody at a desk meets it."""

import html
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Design, Revision
from records.web.designs.forms import COLUMNS, SECTIONS
from tests import factories

pytestmark = pytest.mark.django_db
ROW = {
    "radius_mm": "20 in",
    "angle_deg": "20.53",
    "angle_tolerance_deg": "0,5",
    "chord_mm": "140",
    "chord_tolerance_mm": "3",
    "thickness_mm": "7/8 in",
    "thickness_tolerance_mm": "0.25",
    "blank_width_mm": "160",
}


def text(response):
    plain = re.sub(r"<[^>]+>", " ", response.content.decode())
    return html.unescape(re.sub(r"\s+", " ", plain))


def station(row, **changes):
    return {f"stations-{row}-{k}": v for k, v in {**ROW, **changes}.items()}


@pytest.fixture
def design(shop):
    return factories.DesignFactory(model="TA-68")


@pytest.fixture
def given(design):
    """Give what a first revision needs."""
    return {
        "number": "A",
        "drawing": "Drawing 12",
        "reason": "First issue",
        "design_authority": "Design office",
        "basis": "experimental",
        "blades": "2",
        "hand": "right",
        "mounting": "tractor",
        "diameter_mm": "68 in",
        "pitch_mm": "48 in",
        "reference_station_mm": "25 1/2 in",
        "max_rpm": "2700",
        "max_power_kw": "75",
        "suited_to": "Suitability is the installer's decision.",
        "laminations": "6",
        "lamination_mm": "19",
        "blank_length_mm": "1760",
        "blank_width_mm": "170",
        "species": [str(factories.TimberFactory().pk)],
        "hub_thickness_mm": "110",
        "bore_mm": "40",
        "bolt_circle_mm": "4.75 in",
        "bolt_holes": "6",
        "bolt_hole_mm": "7/16 in",
        "bolt": "7/16 in",
        "torque_low_nm": "24",
        "torque_high_nm": "27",
        "torque_dry": "on",
        "torque_sequence": "Opposite pairs.",
        "retorque": "After the first flight.",
        "face_plate_mm": "165",
        "care": "Dry and flat.",
        "damage_limits": "Any crack across the grain.",
        **station(0),
    }


def issue_path(design):
    return f"/designs/{design.pk}/issue/"


def test_every_field_of_a_revision_is_asked_under_a_heading():
    asked = {name for _, names in SECTIONS for name in names}
    stored = {f.name for f in Revision._meta.get_fields() if not f.auto_created}
    assert asked == stored - {"design", "written_at", "written_by"}
    assert len(COLUMNS) == 8


def test_a_first_revision_is_issued_in_whatever_unit(signed_in, design, given):
    response = signed_in.post(issue_path(design), given, follow=True)
    assert "It is issued: revision A, frozen from now on." in text(response)
    revision = Revision.objects.get()
    assert str(revision.diameter_mm) == "1727.200"
    assert str(revision.bolt_hole_mm) == "11.112"  # 7/16 in to a micrometre
    station = revision.stations.get()
    assert str(station.radius_mm) == "508.000"
    assert str(station.angle_tolerance_deg) == "0.500"


def test_the_page_shows_both_unit_systems_and_what_is_computed(
    signed_in, design, given
):
    signed_in.post(issue_path(design), given)
    shown = text(signed_in.get(f"/designs/revisions/{Revision.objects.get().pk}/"))
    assert "1727.2 mm (68.000 in)" in shown
    assert "Pitch, computed" in shown
    # p = 2 pi r tan(beta) at 508 mm and 20.53 deg: 1195.29 mm
    assert "1195.29 mm" in shown
    assert "Area of one glued joint" in shown
    assert "Activity factor between the stations needs two stations" in shown


def test_the_next_revision_starts_from_the_one_before_it(signed_in, design, given):
    signed_in.post(issue_path(design), given)
    page = signed_in.get(issue_path(design)).content.decode()
    assert 'value="1727.2"' in page
    assert 'name="stations-0-angle_deg" value="20.53"' in page
    assert 'name="stations-7-angle_deg"' in page
    assert 'name="number" value' not in page
    assert 'value="experimental" required id="id_basis_2" checked' not in page


def test_a_refusal_keeps_everything_at_its_place(signed_in, design, given):
    bad = {
        **given,
        "blank_length_mm": "1700",
        **station(1, angle_deg="95"),
        **station(2, chord_mm=""),
    }
    response = signed_in.post(issue_path(design), bad)
    shown, page = text(response), response.content.decode()
    assert response.status_code == 422
    assert "Fill in the whole row." in shown
    assert 'value="1700"' in page
    bad |= station(2, radius_mm="600")
    response = signed_in.post(issue_path(design), bad)
    shown = text(response)
    assert "The blank is shorter than the propeller." in shown
    assert "Station 2, Angle, °: A blade angle lies between 0 and 90°" in shown
    assert not Revision.objects.exists()


def test_a_station_in_another_quantity_is_refused(signed_in, design, given):
    response = signed_in.post(
        issue_path(design), {**given, **station(0, radius_mm="20 psi")}
    )
    assert "psi is not a unit of length" in text(response)


def test_a_design_is_added_and_led_to_its_first_revision(signed_in, shop):
    response = signed_in.post("/designs/add/", {"model": "TA-70"})
    assert response.url == issue_path(Design.objects.get())


def test_a_design_goes_out_of_use_and_back(signed_in, design):
    path = f"/designs/{design.pk}/use/"
    for words in ("out of use", "in use"):
        signed_in.post(path, {"form_key": ""})
        assert words in text(signed_in.get(f"/designs/{design.pk}/"))


def test_without_authority_the_button_says_so(client, design):
    maker = factories.PersonFactory(name="Bo Maker")
    client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
    assert "Bo Maker has no authority" in text(client.get(issue_path(design)))


def test_a_superseded_revision_says_so(signed_in, design):
    old = factories.RevisionFactory(design=design, number="A")
    new = factories.RevisionFactory(design=design, number="B")
    assert "superseded" in text(signed_in.get(f"/designs/revisions/{old.pk}/"))
    assert "newest" in text(signed_in.get(f"/designs/revisions/{new.pk}/"))
    assert signed_in.get("/designs/revisions/9999/").status_code == 404
    assert signed_in.get("/designs/9999/").status_code == 404


def queries(client, path):
    with CaptureQueriesContext(connection) as context:
        assert client.get(path).status_code == 200
    return len(context)


def test_lists_and_pages_take_as_many_queries_for_20_rows(signed_in, design):
    factories.RevisionFactory(design=design)
    paths = ("/designs/", f"/designs/{design.pk}/")
    for path in paths:
        signed_in.get(path)
    few = [queries(signed_in, path) for path in paths]
    for n in range(19):
        factories.RevisionFactory()
        factories.RevisionFactory(design=design, number=f"R{n}")
    assert [queries(signed_in, path) for path in paths] == few


def test_a_revisions_page_takes_as_many_queries_for_many_stations(signed_in):
    few = factories.RevisionFactory()
    many = factories.RevisionFactory(
        stations=[(200 + 25 * n, "20", 100, 10, 150) for n in range(20)]
    )
    signed_in.get(f"/designs/revisions/{few.pk}/")
    assert queries(signed_in, f"/designs/revisions/{few.pk}/") == queries(
        signed_in, f"/designs/revisions/{many.pk}/"
    )
