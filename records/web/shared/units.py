"""Which units the shop reads first, on every page of it."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from records.models import Shop
from records.spelling.quantities import METRIC
from records.spelling.quantities import units_first


class UnitsMiddleware:
    """Spells quantities as the shop has chosen; asks the shop only if one is spelled."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer with the shop's units first."""

        def chosen() -> str:
            shop = shop_of(request)
            return shop.units_first if shop else METRIC

        with units_first(chosen):
            return self.get_response(request)


def shop_of(request: HttpRequest) -> Shop | None:
    """Give the shop's row, read once a request."""
    kept = vars(request)
    if "shop" not in kept:
        kept["shop"] = Shop.objects.first()
    shop: Shop | None = kept["shop"]
    return shop
