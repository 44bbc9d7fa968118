"""What may be handed to a service: by the type it asks for, and by its name."""

import copy
import dataclasses
import datetime as dt
import enum
import inspect
import types
import typing
from collections.abc import Iterable, Sequence
from decimal import Decimal

from django.apps import apps
from django.db import models
from django.db.models import Model
from hypothesis import strategies as st

from records.models import (
    Attachment,
    Calibration,
    GlueSheet,
    Hold,
    Lot,
    Owner,
    Reading,
    Revision,
    Shop,
    SignOff,
    Station,
    Supplier,
)
from records.queries.routes.plans import default_plan
from records.queries.subjects import MODELS
from records.services.files import Sent
from records.services.ledger import Act
from records.web.shared.uploads import Upload
from tests import factories
from tests.hostile.answers import ANYTHING, WORDS
from tests.hostile.uploads import photos

MOST_ROWS = 60
# Whose columns a service takes as further keywords.
FIELDS = {
    "issue_revision": Revision,
    "calibrate_gauge": Calibration,
    "receive_lot": Lot,
    "write_glue_sheet": GlueSheet,
    "change_supplier": Supplier,
    "change_owner": Owner,
    "change_shop": Shop,
}
# Where only what may be changed is taken.
STATE = {
    name: FIELDS[name].state_fields for name in ("change_supplier", "change_owner")
}
# What a service gives a new row itself.
OWN = {"receive_lot": {"number", "state"}, "write_glue_sheet": {"revision"}}
PEN = {"id", "written_at", "written_by"}
# What a service's `subject` or `thing` may be, where it is not anything with a number.
SUBJECTS = {
    "log_reading": Reading.subject_kinds,
    "log_grid": Reading.subject_kinds,
    "compute_range": Reading.subject_kinds,
    "sign_stage": SignOff.subject_kinds,
    "refuse_signature": SignOff.subject_kinds,
    "attach_file": Attachment.subject_kinds,
    "hold": Hold.subject_kinds,
}
MOMENTS = st.one_of(
    st.integers(-60 * 24 * 60, 60 * 24 * 60).map(
        lambda minutes: factories.NOON + dt.timedelta(minutes=minutes)
    ),
    st.datetimes(timezones=st.just(dt.UTC)),
)
DAYS = st.one_of(st.dates(dt.date(2026, 1, 1), dt.date(2026, 6, 1)), st.dates())
DECIMALS = st.one_of(
    st.decimals(-100, 5000, places=2),
    st.decimals(-(10**12), 10**12, places=6),
    st.sampled_from([Decimal(0), Decimal("-0.0"), Decimal("1e30"), Decimal("1e-30")]),
)
WHOLE = st.one_of(
    st.integers(-3, 60), st.sampled_from([2**31, 2**63, -(2**63) - 1, 10**40])
)
PLAIN = {
    str: st.one_of(ANYTHING, WORDS),
    bool: st.booleans(),
    int: WHOLE,
    Decimal: DECIMALS,
    dt.datetime: MOMENTS,
    dt.date: DAYS,
    type(None): st.none(),
    Sent: st.sampled_from([Upload(n, d) for n, d in photos().items()]),
}


class Hand:
    """Draws arguments from what is in the book."""

    def __init__(self, act):
        self.acts = st.sampled_from(
            [dataclasses.replace(act, by=by) for by in [act.by, *_some_people(act)]]
        )
        self.keys = {}
        self.choices = _choices_by_name()

    def for_service(self, service):
        """Draw every argument that a service takes."""
        hints = typing.get_type_hints(service)
        name_of, drawn, more = service.__name__, {}, st.just({})
        for name, parameter in inspect.signature(service).parameters.items():
            if parameter.kind is parameter.VAR_KEYWORD:
                taken = {*drawn, *OWN.get(name_of, ())}
                more = self._columns(FIELDS[name_of], taken, STATE.get(name_of))
            elif hints[name] is Model:
                drawn[name] = self._things(SUBJECTS.get(name_of, MODELS))
            else:
                drawn[name] = self._of(hints[name], name)
        return st.tuples(st.fixed_dictionaries(drawn), more).map(
            lambda pair: {**pair[1], **pair[0]}
        )

    def _of(self, kind, name=""):
        if kind is Act:
            return self.acts
        if name in self.choices and kind is str:
            return st.one_of(st.sampled_from(self.choices[name]), PLAIN[str])
        if kind in PLAIN:
            return PLAIN[kind]
        if isinstance(kind, type):
            return self._of_class(kind)
        return self._of_form(kind, name)

    def _of_class(self, kind):
        if kind is Model:
            return self._things(Reading.subject_kinds)
        if issubclass(kind, Model):
            return self._rows(kind)
        if issubclass(kind, enum.Enum):
            return st.sampled_from(list(kind))
        assert dataclasses.is_dataclass(kind), f"say in {__name__} how to draw a {kind}"
        hints = typing.get_type_hints(kind)
        return st.builds(kind, **{n: self._of(h, n) for n, h in hints.items()})

    def _of_form(self, kind, name):
        origin, inside = typing.get_origin(kind), typing.get_args(kind)
        if origin in (typing.Union, types.UnionType):
            return st.one_of([self._of(one, name) for one in inside])
        if origin is dict:
            return self._columns(Station, {"revision"})
        if origin is tuple and inside[-1] is not Ellipsis:
            return st.tuples(*(self._of(one, name) for one in inside))
        if origin in (list, tuple, Sequence, Iterable):
            if inside[0] == dict[str, typing.Any] and name == "stages":
                return plans()
            return st.lists(self._of(inside[0], name), max_size=5)
        raise AssertionError(f"say in {__name__} how to draw a {kind}")

    def _rows(self, model):
        if model not in self.keys:
            result = model._default_manager.order_by("-pk").values_list("pk", flat=True)
            self.keys[model] = list(result[:MOST_ROWS])
        assert self.keys[model], f"the world has no {model.__name__}"
        # A row is read anew for each example: a service that refused has changed it.
        return st.sampled_from(self.keys[model]).map(
            lambda pk: model._default_manager.get(pk=pk)
        )

    def _things(self, kinds):
        return st.one_of([self._rows(MODELS[kind]) for kind in kinds])

    def _columns(self, model, taken, only=None):
        """Draw columns of a row: the needed ones always, the others now and then."""
        needed, optional = {}, {}
        for field in model._meta.concrete_fields:
            if field.name in {*taken, *PEN} or (only and field.name not in only):
                continue
            may_be_left = only or field.null or field.blank or field.has_default()
            (optional if may_be_left else needed)[field.name] = self._column(field)
        return st.fixed_dictionaries(needed, optional=optional)

    def _column(self, field):
        if field.is_relation:
            return self._rows(field.related_model)
        if field.choices:
            return st.sampled_from([value for value, _ in field.flatchoices])
        for kind, plain in (
            (models.DecimalField, Decimal),
            (models.BooleanField, bool),
            (models.IntegerField, int),
            (models.DateTimeField, dt.datetime),
            (models.DateField, dt.date),
        ):
            if isinstance(field, kind):
                return PLAIN[plain]
        return PLAIN[str]


def plans():
    """Draw plans of a route: the default one, with things changed here and there."""
    changes = st.lists(
        st.tuples(st.integers(0, 99), st.integers(0, 99), st.one_of(ANYTHING, WHOLE)),
        max_size=3,
    )
    return changes.map(_changed_plan)


def _changed_plan(changes):
    plan = copy.deepcopy(default_plan())
    for which, what, value in changes:
        stage = plan[which % len(plan)]
        rows = [stage, *stage["characteristics"]]
        row = rows[what % len(rows)]
        plain = [k for k, v in row.items() if isinstance(v, str)]
        if plain and isinstance(value, str):
            row[plain[what % len(plain)]] = value
    return plan


def _choices_by_name():
    """Gather what the tables allow in columns of a name: `kind`, `unit`, `state` ..."""
    result = {}
    for model in apps.get_app_config("records").get_models():
        for field in model._meta.concrete_fields:
            if field.choices:
                result.setdefault(field.name, set()).update(
                    str(value) for value, _ in field.flatchoices
                )
    return {name: sorted(values) for name, values in result.items()}


def _some_people(act):
    return type(act.by).objects.order_by("role", "pk").distinct()[:6]
