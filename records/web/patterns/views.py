"""Every part of the pages once, to look at as a stranger would."""

import datetime as dt
from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from records.rules.finding import Finding, warning
from records.spelling.quantities import (
    length,
    mass,
    pressure,
    temperature,
    torque,
    unbalance,
)
from records.web.patterns.forms import PatternForm
from records.web.patterns.tables import PatternTable
from records.web.shared.parts import Fact

VERDICTS = (
    ("inside", "the reading is within its limits"),
    ("outside", "it is beyond a limit"),
    ("undecided", "the uncertainty reaches over a limit"),
    ("no_limit", "nothing to judge by"),
    ("hold", "may not go on"),
    ("ok", "done, accepted, in force"),
    ("waiting", "something is still to come"),
    ("stale", "repeat: the part has changed since"),
    ("void", "ended, struck out"),
)
WRONG = {"moisture": "103", "unbalance": "-4,5", "blades": "two", "torque": "24 lb"}


def patterns(request: HttpRequest) -> HttpResponse:
    """Show every part."""
    form = PatternForm(WRONG)
    form.is_valid()
    now = timezone.now()
    context = {
        "verdicts": VERDICTS,
        "wrong_form": form,
        "form": PatternForm(auto_id="fresh_%s"),
        "facts": _facts(),
        "findings": [
            Finding("Joint 3 was closed after its working life: dispose of it first."),
            warning("The mix is 2 min from the end of its working life."),
        ],
        "actions": [
            ("Log a reading", "#", ""),
            ("Sign off", "#", "The coupon of mix M0007 has not been tested."),
        ],
        "table": PatternTable(),
        "deadline": now + dt.timedelta(minutes=12),
        "passed": now - dt.timedelta(minutes=3),
        "caution": "A ram press can crush a hand. Follow the press maker's "
        "instructions and the rules that hold where you work.",
    }
    return render(request, "patterns/patterns.html", context)


def _facts() -> list[Fact]:
    return [
        Fact("Length", length(Decimal("1720"))),
        Fact("Pressure at the glue line", pressure(1.034e6)),
        Fact("Bolt torque", torque(Decimal("24"))),
        Fact("Mass", mass(Decimal("3150"))),
        Fact("Static unbalance", unbalance(Decimal("120"))),
        Fact("Room", temperature(Decimal("21.5"))),
    ]
