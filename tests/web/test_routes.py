"""Routes and limits as somebody at a desk meets them."""

import html
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Characteristic, Limit, Route, RouteRevision, Stage
from records.services.routes import write_default_route
from tests import factories

pytestmark = pytest.mark.django_db


def text(response):
    plain = re.sub(r"<[^>]+>", " ", response.content.decode())
    return html.unescape(re.sub(r"\s+", " ", plain))


@pytest.fixture
def route(act):
    return write_default_route(act=act, name="Laminated").route


def newest(route):
    return RouteRevision.objects.filter(route=route).order_by("-number").first()


def test_a_new_shop_is_led_to_the_default_route(signed_in, shop):
    assert "Write the default route" in text(signed_in.get("/routes/"))
    response = signed_in.post("/routes/default/", {"name": "Laminated"}, follow=True)
    shown = text(response)
    assert "The default route is in the book." in shown
    assert "1. Timber receipt HOLD POINT" in shown
    assert "18. Release HOLD POINT" in shown


def test_every_limit_is_shown_with_where_it_came_from(signed_in, route):
    shown = text(signed_in.get(f"/routes/{route.pk}/"))
    assert "8 % to 12 % published text: FAA airframe handbook" in shown
    assert "at least 15 published text: AC 43.13-1B, Table 1-1" in shown
    assert "at least 21.1 °C (70.0 °F) maker's sheet" in shown
    assert "from the drawing, at each station" in shown
    assert "at the glue line, from the glue's sheet" in shown
    assert "Caution. Gloves, eye protection" in shown


def limit_path(code):
    return f"/routes/limits/{Characteristic.objects.get(code=code).pk}/"


def test_a_limit_is_set_as_a_new_one_and_its_history_stays(signed_in, route):
    path = limit_path("track")
    assert 'value="1.5"' in signed_in.get(path).content.decode()
    given = {
        "high": "1/16",
        "unit": "in",
        "source_kind": "published",
        "source": "A printed limit",
        "reason": "Closer",
    }
    shown = text(signed_in.post(path, given, follow=True))
    assert "at most 1.59 mm (0.0625 in)" in shown
    assert "at most 1.5 mm (0.059 in)" in shown
    assert [x.number for x in Limit.objects.filter(characteristic__code="track")] == [
        2,
        1,
    ]


def test_a_limit_may_be_one_designs_own(signed_in, route):
    revision = factories.RevisionFactory()
    given = {
        "high": "3",
        "unit": "mm",
        "source_kind": "drawing",
        "source": "Note 4",
        "reason": "Wide blade",
        "design_revision": str(revision.pk),
    }
    shown = text(signed_in.post(limit_path("track"), given, follow=True))
    assert f"only for {revision.design}, {revision}" in shown


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"high": ""}, "Give the least, the most, or both."),
        ({"high": "wide"}, "is not a number"),
        ({"source": ""}, "This is needed."),
        ({"high": "1.5"}, "This is the limit in force already."),
    ],
)
def test_a_bad_limit_is_said_and_nothing_changes(signed_in, route, changes, sentence):
    given = {
        "high": "2",
        "unit": "mm",
        "source_kind": "shop",
        "source": "Shop",
        "reason": "Why",
        **changes,
    }
    before = Limit.objects.count()
    response = signed_in.post(limit_path("track"), given)
    assert response.status_code == 422
    assert sentence in text(response)
    assert Limit.objects.count() == before


STAGE = {
    "place": "2",
    "code": "photo",
    "name": "Photograph",
    "scope": "board",
    "check_kind": "self",
    "reason": "Customers ask for it",
}


def test_a_stage_is_added_as_a_new_revision(signed_in, route):
    response = signed_in.post(f"/routes/{route.pk}/stages/add/", STAGE, follow=True)
    assert "Issued as revision 2." in text(response)
    codes = list(Stage.objects.of(newest(route).pk).values_list("code", flat=True))
    assert codes[:3] == ["timber-receipt", "photo", "board-inspection"]
    assert len(codes) == 19


def test_a_stage_is_moved_changed_and_keeps_what_it_asks(signed_in, route):
    old = Stage.objects.get(code="hub")
    path = f"/routes/{route.pk}/stages/hub/"
    assert 'value="Hub"' in signed_in.get(path).content.decode()
    given = {**STAGE, "place": "18", "code": "hub", "name": "Hub and bore"}
    signed_in.post(path, {**given, "scope": "propeller"})
    new = Stage.objects.get(revision=newest(route), code="hub")
    assert (new.order, new.name, new.hold_point) == (18, "Hub and bore", False)
    assert new.characteristics.count() == old.characteristics.count()


def test_a_stage_is_taken_out(signed_in, route):
    path = f"/routes/{route.pk}/stages/rest/"
    given = {**STAGE, "code": "rest", "name": "Rest", "take_out": "on"}
    signed_in.post(path, given)
    assert not Stage.objects.filter(revision=newest(route), code="rest").exists()
    assert RouteRevision.objects.count() == 2


ASKED = {
    "place": "1",
    "code": "colour",
    "name": "Colour",
    "on": "propeller",
    "kind": "note",
    "per": "once",
    "at_least": "1",
    "reason": "Customers ask for it",
}


def test_a_reading_is_added_changed_and_taken_out(signed_in, route):
    stage = f"/routes/{route.pk}/stages/finish/"
    signed_in.post(f"{stage}add/", ASKED)
    characteristic = Characteristic.objects.get(
        stage__revision=newest(route), code="colour"
    )
    assert (characteristic.order, characteristic.kind) == (1, "note")
    signed_in.post(f"{stage}colour/", {**ASKED, "name": "Colour code"})
    characteristic = Characteristic.objects.get(
        stage__revision=newest(route), code="colour"
    )
    assert characteristic.name == "Colour code"
    signed_in.post(f"{stage}colour/", {**ASKED, "take_out": "on"})
    left = Characteristic.objects.filter(stage__revision=newest(route))
    assert not left.filter(code="colour").exists()


def test_a_changed_reading_keeps_its_limit(signed_in, route):
    path = f"/routes/{route.pk}/stages/final-balance/track/"
    given = {
        **ASKED,
        "place": "4",
        "code": "track",
        "name": "Track of the tips",
        "kind": "measured",
        "unit": "mm",
        "computed": "range_of_blades",
        "compares": "tip",
        "required": "on",
    }
    response = signed_in.post(path, given)
    assert response.status_code == 302
    characteristic = Characteristic.objects.get(
        stage__revision=newest(route), code="track"
    )
    assert (
        characteristic.limits.get().high
        == Limit.objects.filter(characteristic__code="track").first().high
    )


def test_a_bad_plan_is_refused_with_everything_kept(signed_in, route):
    given = {**ASKED, "code": "coats", "kind": "measured", "unit": "furlong"}
    path = f"/routes/{route.pk}/stages/finish/add/"
    response = signed_in.post(path, given)
    assert response.status_code == 422
    assert "two of its readings have the same code" in text(response)
    assert "say in which unit it is measured" in text(response)
    assert 'value="furlong"' in response.content.decode()
    assert RouteRevision.objects.count() == 1


def test_an_earlier_revision_is_shown_and_not_changed(signed_in, route):
    first = newest(route)
    signed_in.post(f"/routes/{route.pk}/stages/add/", STAGE)
    response = signed_in.get(f"/routes/revisions/{first.pk}/")
    assert "superseded" in text(response)
    assert b"Change this stage" not in response.content


def test_an_empty_route_is_begun_stage_by_stage(signed_in, shop):
    response = signed_in.post("/routes/add/", {"name": "Repair"})
    route = Route.objects.get()
    assert response.url == f"/routes/{route.pk}/stages/add/"
    assert "No stage yet." in text(signed_in.get(f"/routes/{route.pk}/"))
    signed_in.post(response.url, {**STAGE, "place": "1"})
    assert Stage.objects.get().name == "Photograph"


def test_a_route_goes_out_of_use(signed_in, route):
    signed_in.post(f"/routes/{route.pk}/use/", {"form_key": ""})
    assert "out of use" in text(signed_in.get(f"/routes/{route.pk}/"))


@pytest.mark.parametrize(
    "path",
    [
        "/routes/9999/",
        "/routes/revisions/9999/",
        "/routes/limits/9999/",
        "/routes/{}/stages/nothing/",
        "/routes/{}/stages/hub/nothing/",
        "/routes/{}/stages/nothing/add/",
    ],
)
def test_what_is_not_there_is_not_found(signed_in, route, path):
    assert signed_in.get(path.format(route.pk)).status_code == 404


def test_without_authority_nothing_is_changed(client, route):
    maker = factories.PersonFactory(name="Bo Maker")
    client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
    assert "Bo Maker has no authority" in text(client.get(limit_path("track")))
    response = client.post(f"/routes/{route.pk}/stages/add/", STAGE)
    assert response.status_code == 422
    assert RouteRevision.objects.count() == 1


def queries(client, path):
    with CaptureQueriesContext(connection) as context:
        assert client.get(path).status_code == 200
    return len(context)


def test_pages_take_as_many_queries_for_many_stages(signed_in, shop):
    def with_stages(count):
        revision = factories.RouteRevisionFactory()
        for _ in range(count):
            stage = factories.StageFactory(revision=revision)
            factories.LimitFactory(characteristic__stage=stage)
        return f"/routes/{revision.route_id}/"

    few, many = with_stages(1), with_stages(20)
    signed_in.get(few)
    assert queries(signed_in, few) == queries(signed_in, many)


def test_the_list_takes_as_many_queries_for_20_rows(signed_in, shop):
    factories.RouteRevisionFactory()
    signed_in.get("/routes/")
    few = queries(signed_in, "/routes/")
    for _ in range(19):
        factories.RouteRevisionFactory()
    assert queries(signed_in, "/routes/") == few


def test_a_limits_page_takes_as_many_queries_for_a_long_history(signed_in, route):
    path = limit_path("track")
    signed_in.get(path)
    few = queries(signed_in, path)
    characteristic = Characteristic.objects.get(code="track")
    for n in range(2, 21):
        factories.LimitFactory(characteristic=characteristic, number=n)
    assert queries(signed_in, path) == few
