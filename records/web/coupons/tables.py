"""List of coupons."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Coupon, CouponTest
from records.web.shared.columns import MomentColumn
from records.web.shared.tables import ShopTable

NOT_TESTED = "not tested yet"
WAITING = "waiting"


class CouponFilter(django_filters.FilterSet):
    """Find coupons by number or mix, or by their last test."""

    text = django_filters.CharFilter(label="Number of coupon or mix", method="by_text")
    last = django_filters.ChoiceFilter(
        label="Last test",
        choices=[(WAITING, NOT_TESTED), *CouponTest.Verdict.choices],
        method="by_last",
    )

    class Meta:
        model = Coupon
        fields: ClassVar[tuple[str, ...]] = ("text", "last")

    def by_text(
        self, coupons: QuerySet[Coupon], _name: str, text: str
    ) -> QuerySet[Coupon]:
        """Look for a text in the numbers of a coupon and its mix."""
        return coupons.filter(
            Q(number__icontains=text) | Q(mix__number__icontains=text)
        )

    def by_last(
        self, coupons: QuerySet[Coupon], _name: str, value: str
    ) -> QuerySet[Coupon]:
        """Keep those whose last test came to this, or that have none."""
        return coupons.filter(Q(last=None if value == WAITING else value))


class CouponTable(ShopTable):
    """Coupons, the last made first."""

    number = django_tables2.Column(
        verbose_name="Coupon", linkify=("coupons:coupon", {"number": A("number")})
    )
    mix = django_tables2.Column(
        order_by=("mix__number",), linkify=("gluing:mix", {"number": A("mix__number")})
    )
    made_at = MomentColumn(verbose_name="Made")
    tested = django_tables2.Column(verbose_name="Tests")
    last = django_tables2.Column(verbose_name="Last test", default=NOT_TESTED)

    class Meta(ShopTable.Meta):
        model = Coupon
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "mix",
            "wood",
            "made_at",
            "twin_place",
            "tested",
            "last",
        )

    def render_last(self, value: Any) -> str:
        """Say what the last test came to."""
        return str(CouponTest.Verdict(value).label)
