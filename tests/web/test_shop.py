"""The settings page."""

from django.forms.models import model_to_dict

from records.models import Shop
from tests import factories

BACKEND = "django.contrib.auth.backends.ModelBackend"


def test_shows_and_saves_every_setting(signed_in, shop):
    given = model_to_dict(shop) | {"name": "New name", "units_first": "inch"}
    shown = signed_in.get("/shop/").context["form"]
    assert {n for n in shown.fields if n != "form_key"} == set(given)
    assert signed_in.post("/shop/", given).status_code == 302
    saved = Shop.objects.get()
    assert (saved.name, saved.units_first) == ("New name", "inch")


def test_a_wrong_pattern_is_said_at_its_field(signed_in, shop):
    given = model_to_dict(shop) | {"lot_pattern": "L"}
    response = signed_in.post("/shop/", given)
    assert response.status_code == 422
    assert "lot_pattern" in response.context["form"].errors
    assert Shop.objects.get().lot_pattern == "L{n:04}"


def test_says_why_somebody_else_may_not(client, shop):
    client.force_login(factories.PersonFactory(), backend=BACKEND)
    html = client.get("/shop/").content.decode()
    assert "has no authority" in html
    assert client.post("/shop/", model_to_dict(shop)).status_code == 422


def test_takes_a_handful_of_queries(signed_in, django_assert_max_num_queries):
    with django_assert_max_num_queries(5):
        signed_in.get("/shop/")
