"""Screens where an action is noted as done, and looked at later."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from records.models import CorrectiveAction
from records.services.deviations.actions import check_effectiveness, finish_action
from records.web.deviations.forms import DoneForm, EffectForm
from records.web.deviations.views import write_about


def done(request: HttpRequest, pk: int) -> HttpResponse:
    """Note an action as done."""
    action = _find(pk)
    return write_about(
        request,
        action.deviation,
        DoneForm(request.POST or None),
        lambda act, a: finish_action(act=act, action=action, **a),
        said="Noted as done.",
        title="Note the action as done",
        means=action.what,
    )


def effect(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down whether an action worked."""
    action = _find(pk)
    return write_about(
        request,
        action.deviation,
        EffectForm(request.POST or None),
        lambda act, a: check_effectiveness(act=act, action=action, **a),
        said="Written down.",
        title="Did it work?",
        means=action.what,
    )


def _find(pk: int) -> CorrectiveAction:
    rows = CorrectiveAction.objects.select_related("deviation")
    return get_object_or_404(rows, pk=pk)
