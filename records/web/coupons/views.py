"""Screens about coupons: made, and broken at several ages."""

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from records.models import Coupon, CouponTest, Mix
from records.queries.coupons import coupons_listed, limits_for
from records.rules.coupons import failed_in_words
from records.services import coupons
from records.web.coupons import forms
from records.web.coupons.pages import coupon_page
from records.web.coupons.tables import CouponFilter, CouponTable
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

CAUTION = (
    "Eye protection: a coupon breaks with splinters. It speaks for its own glue line "
    "alone; what counts as enough is the shop's or its design approval's to set."
)


def coupon_list(request: HttpRequest) -> HttpResponseBase:
    """List every coupon."""
    return listing(
        request,
        CouponTable,
        coupons_listed(),
        filterset=CouponFilter,
        template="coupons/coupons.html",
        context={"why_not": why_not_write(request)},
    )


def coupon(request: HttpRequest, number: str) -> HttpResponse:
    """Show a coupon."""
    context = coupon_page(_find(number), why_not_write(request))
    return render(request, "coupons/coupon.html", context)


def make(request: HttpRequest) -> HttpResponse:
    """Put a coupon of a mix in the book."""
    mix = Mix.objects.filter(number=request.GET.get("mix", "")).first()
    return write(
        request,
        forms.CouponForm(request.POST or None, initial={"mix": mix}),
        lambda act, a: coupons.make_coupon(act=act, **a),
        template="coupons/make.html",
        then=lambda made: reverse("coupons:coupon", args=[made.number]),
        said="Coupon {0} is in the book. Write {0} on it and on its twin.",
        context={"mix": mix, "why_not": why_not_write(request)},
    )


def test(request: HttpRequest, number: str) -> HttpResponse:
    """Write down a test of a coupon."""
    this_coupon = _find(number)
    limits = limits_for(this_coupon.mix, timezone.now())
    return write(
        request,
        forms.TestForm(request.POST or None, request.FILES or None, limits=limits),
        lambda act, a: coupons.record_coupon_test(act=act, coupon=this_coupon, **a),
        template="coupons/test.html",
        then=lambda _: reverse("coupons:coupon", args=[this_coupon.number]),
        said=_tested,
        context={
            "coupon": this_coupon,
            "source": limits.source,
            "caution": CAUTION,
            "why_not": why_not_write(request),
        },
    )


def _find(number: str) -> Coupon:
    query = Coupon.objects.select_related("mix__sheet__adhesive")
    return get_object_or_404(query, number=number)


def _tested(made: CouponTest) -> str:
    if made.verdict == CouponTest.Verdict.PASSED:
        return f"Coupon {made.coupon} passed."
    return f"{failed_in_words(made)} Mix {made.coupon.mix} is on hold."
