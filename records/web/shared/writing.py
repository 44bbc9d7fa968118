"""Every screen that writes: show the form, call one service, say what was done."""

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from django.contrib import messages
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from records.services.ledger import Act
from records.services.refusal import AlreadyDone, Refusal
from records.web.shared.acts import act
from records.web.shared.context import home
from records.web.shared.forms import ShopForm

R = TypeVar("R")

UNPROCESSABLE = 422
BUSY = (
    "The book could not be written just now. Nothing was saved and nothing is "
    "lost: press the button again."
)
NOTHING_SENT = "Nothing arrived. Enter the form again and send it."
_SAVED = "saved_forms"
_KEPT = 20


def write(
    request: HttpRequest,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], R],
    *,
    template: str,
    then: Callable[[R], str],
    said: str | Callable[[R], str],
    context: Mapping[str, Any] | None = None,
) -> HttpResponse:
    """Show a form, or take it: one service call, a message, and the next page.

    Whatever is refused is shown at its field with everything that was typed, under
    status 422. A form that comes twice leads to where it led the first time.
    `said` gets the service's result as ``{0}``.
    """
    status = 200
    if request.method == "POST":
        status = UNPROCESSABLE
        if form.is_valid():
            answer = _take(request, form, do, then, said)
            if answer is not None:
                return answer
        elif not form.is_bound:
            messages.error(request, NOTHING_SENT)
    return render(request, template, {"form": form, **(context or {})}, status=status)


def _take(
    request: HttpRequest,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], R],
    then: Callable[[R], str],
    said: str | Callable[[R], str],
) -> HttpResponse | None:
    deed = act(request)
    try:
        result = do(deed, form.answers())
    except Refusal as refusal:
        put_findings(form, refusal)
        return None
    except AlreadyDone as done:
        messages.info(request, str(done))
        return redirect(_saved_before(request, deed))
    except OperationalError:
        form.add_error(None, BUSY)
        return None
    messages.success(request, said(result) if callable(said) else said.format(result))
    url = then(result)
    _remember(request, deed, url)
    return redirect(url)


def put_findings(form: ShopForm, refusal: Refusal) -> None:
    """Put each finding of a refusal at its field, or above the form."""
    for finding in refusal.findings:
        field = finding.field if finding.field in form.fields else None
        form.add_error(field, finding.sentence)


def _remember(request: HttpRequest, deed: Act, url: str) -> None:
    if deed.form_key:
        saved = dict(request.session.get(_SAVED, {}))
        saved[deed.form_key] = url
        request.session[_SAVED] = dict(list(saved.items())[-_KEPT:])


def _saved_before(request: HttpRequest, deed: Act) -> str:
    url = request.session.get(_SAVED, {}).get(deed.form_key)
    return str(url) if url else home()
