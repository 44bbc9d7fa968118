"""Coupons as somebody at a bench meets them."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from records.models import Coupon, CouponTest, Hold
from records.queries.coupons import WOOD_FAILURE
from tests import factories
from tests.models.test_coupons import broken
from tests.queries.deviations.test_decided import decide
from tests.queries.test_coupons import characteristic
from tests.web.seen import queries_of, text_of

pytestmark = pytest.mark.django_db
ROWS = 20


def page(name, *args):
    return reverse(f"coupons:{name}", args=args)


def local(moment):
    return timezone.localtime(moment).strftime("%Y-%m-%dT%H:%M")


def broken_now(**kwargs):
    facts = {
        "wood_failure_pct": "80",
        "method": "chisel",
        "happened_at": local(timezone.now()),
        "least_wood_failure_pct": "75",
    }
    return facts | kwargs


@pytest.fixture
def coupon(shop):
    return factories.CouponFactory()


class TestMaking:
    def test_leads_to_the_coupon_with_its_number(self, signed_in, shop):
        mix = factories.MixFactory()
        given = {
            "mix": mix.pk,
            "wood": "Yellow birch",
            "made_at": local(timezone.now()),
            "twin_place": "shelf 2",
        }
        path = f"{page('make')}?mix={mix.number}"
        assert signed_in.get(path).context["form"].initial["mix"] == mix
        answer = signed_in.post(path, given, follow=True)
        assert answer.redirect_chain[-1][0] == page("coupon", "C0001")
        words = text_of(answer)
        assert "Write C0001 on it and on its twin." in words
        assert "not tested yet" in words
        assert answer.context["step"].label == "Test it"

    @pytest.mark.parametrize(
        ("field", "typed"),
        [("mix", "9999"), ("wood", ""), ("made_at", "2020-01-01T10:00")],
    )
    def test_a_slip_changes_nothing(self, signed_in, shop, field, typed):
        given = {
            "mix": factories.MixFactory().pk,
            "wood": "Birch",
            "made_at": local(timezone.now()),
        }
        answer = signed_in.post(page("make"), given | {field: typed})
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Coupon.objects.exists()


class TestTesting:
    def test_a_pass_is_said_with_its_limit(self, signed_in, coupon):
        answer = signed_in.post(page("test", coupon.number), broken_now(), follow=True)
        words = text_of(answer)
        assert f"Coupon {coupon} passed." in words
        assert "at least 75 %: shop's practice: stated with the test" in words

    def test_a_failure_holds_the_mix_and_asks_for_a_deviation(self, signed_in, coupon):
        given = broken_now(wood_failure_pct="20")
        answer = signed_in.post(page("test", coupon.number), given, follow=True)
        words = text_of(answer)
        assert f"Mix {coupon.mix} is on hold." in words
        assert answer.context["verdict"].word == "on hold"
        assert answer.context["step"].label == "Open a deviation"
        assert Hold.objects.get().mix == coupon.mix

    def test_where_the_route_has_a_limit_none_is_asked_for(self, signed_in, coupon):
        blank = factories.glued_blank(3, mix=coupon.mix)
        characteristic(blank.route, WOOD_FAILURE, "%", low=85)
        answer = signed_in.get(page("test", coupon.number))
        assert "least_wood_failure_pct" not in answer.context["form"].fields
        words = text_of(answer)
        assert "At least 85 %." in words
        assert "Limits from shop's practice" in words
        signed_in.post(page("test", coupon.number), broken_now())
        assert CouponTest.objects.get().verdict == "failed"

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("wood_failure_pct", "103"),
            ("wood_failure_pct", "most"),
            ("least_wood_failure_pct", ""),
            ("happened_at", "2199-01-01T10:00"),
            ("method", ""),
            ("load_n", "-3"),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, coupon, field, typed):
        given = broken_now(area_mm2="1935.5", load_n="25000", note="dusty")
        answer = signed_in.post(page("test", coupon.number), given | {field: typed})
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert "dusty" in answer.content.decode()
        assert not CouponTest.objects.exists()


class TestPage:
    def test_early_fail_and_late_pass_stand_beside_each_other(self, signed_in, coupon):
        broken(coupon, "failed")
        broken(coupon, "passed")
        answer = signed_in.get(page("coupon", coupon.number))
        assert len(answer.context["tests"]) == 2
        assert answer.context["verdict"].detail == "passed once; a decision is needed"
        decide(coupon=coupon)
        answer = signed_in.get(page("coupon", coupon.number))
        assert answer.context["verdict"].word == "accepted by a decision"

    def test_it_says_what_it_speaks_for_and_how_old_it_was(self, signed_in, coupon):
        blank = factories.glued_blank(3, mix=coupon.mix)
        test = broken(coupon, "passed")
        words = text_of(signed_in.get(page("coupon", coupon.number)))
        assert f"Blank {blank} joints 1, 2" in words
        assert "at an age of 0 s" in words
        assert test.method in words


class TestList:
    def test_coupons_are_found_by_number_and_last_test(self, signed_in, coupon):
        tested = factories.CouponFactory()
        broken(tested, "failed")
        for sought, result in (
            (f"text={coupon.mix.number}", coupon),
            ("last=waiting", coupon),
            ("last=failed", tested),
        ):
            answer = signed_in.get(f"{page('coupons')}?{sought}")
            rows = [row.record.number for row in answer.context["table"].rows]
            assert rows == [result.number], sought

    def test_the_list_exports(self, signed_in, coupon):
        broken(coupon, "passed")
        answer = signed_in.get(f"{page('coupons')}?export=csv")
        assert ",1,passed" in answer.getvalue().decode()

    def test_no_page_takes_more_queries_for_more_rows(self, signed_in, coupon):
        paths = [page("coupons"), page("coupon", coupon.number)]
        broken(coupon, "passed")
        factories.glued_blank(3, mix=coupon.mix)
        few = [queries_of(signed_in, path) for path in paths]
        for _ in range(ROWS):
            broken(coupon, "passed")
            factories.CouponFactory()
        factories.glued_blank(3, mix=coupon.mix)
        assert [queries_of(signed_in, path) for path in paths] == few


def test_a_twin_is_tested_again_at_a_later_age(signed_in, coupon):
    for days in (1, 8):
        moment = coupon.made_at + dt.timedelta(days=days)
        given = broken_now(happened_at=local(moment))
        signed_in.post(page("test", coupon.number), given)
    words = text_of(signed_in.get(page("coupon", coupon.number)))
    assert "at an age of 24 h" in words
    assert "at an age of 8 d" in words
