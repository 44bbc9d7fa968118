"""The shop's settings on a screen."""

from django.forms.models import model_to_dict
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from records.models import Authority, Shop
from records.rules.authority import may
from records.services.shop import change_shop
from records.web.shared import acts
from records.web.shared.writing import write
from records.web.shop.forms import ShopSettingsForm


def settings(request: HttpRequest) -> HttpResponse:
    """Show and change what the shop decides about itself."""
    shop = get_object_or_404(Shop)
    findings = may(acts.person(request), Authority.Act.MANAGE, timezone.localdate())
    return write(
        request,
        ShopSettingsForm(request.POST or None, initial=model_to_dict(shop)),
        lambda act, a: change_shop(act=act, **a),
        template="shop/shop.html",
        then=lambda _: reverse("shop:shop"),
        said="Settings saved.",
        context={"why_not": " ".join(f.sentence for f in findings)},
    )
