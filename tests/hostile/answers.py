"""What may be typed into a field: what it asks for, or anything at all."""

import datetime as dt

from django import forms
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import QueryDict
from django.utils.datastructures import MultiValueDict
from hypothesis import strategies as st

from records.web.shared.fields import QuantityField, TextFileField
from tests.hostile.strings import STRINGS
from tests.hostile.uploads import photos, texts

MOST_CHOICES = 40
ANYTHING = st.one_of(
    st.sampled_from(STRINGS),
    # A browser sends UTF-8, in which half a character (category Cs) can't be written.
    st.text(st.characters(exclude_categories=["Cs"]), max_size=60),
)
NUMBERS = st.one_of(
    st.integers(-10, 5000).map(str),
    st.decimals(-(10**9), 10**9, places=3).map(str),
    st.sampled_from(["0", "1", "-1", "2 3/8", "10,3", "1e3", "0.0000001", "9" * 30]),
)
MOMENTS = st.one_of(
    st.datetimes(dt.datetime(2025, 1, 1), dt.datetime(2027, 1, 1)),  # noqa: DTZ001
    st.datetimes(),
).map(lambda at: at.strftime("%Y-%m-%dT%H:%M"))
DAYS = st.one_of(st.dates(dt.date(2025, 1, 1), dt.date(2027, 1, 1)), st.dates()).map(
    str
)
WORDS = st.one_of(
    st.text("abcdefgh ,.-0123456789", min_size=1, max_size=30),
    st.sampled_from(["L0001", "lot L0000", "mm", "N.m", "2026-001", "%", "A", "1"]),
)
FITTING = (
    (
        (forms.BooleanField, forms.NullBooleanField),
        st.sampled_from(["on", "true", "false", "unknown", ""]),
    ),
    (forms.DateTimeField, MOMENTS),
    (forms.DateField, DAYS),
    ((forms.IntegerField, forms.DecimalField, QuantityField), NUMBERS),
    (forms.UUIDField, st.uuids().map(str)),
)
FILES = {
    forms.FileField: [(f"{what}.jpg", data) for what, data in photos().items()],
    TextFileField: [(f"{what}.csv", data) for what, data in texts().items()],
}


def filled(form, anything):
    """Draw answers for a form: `anything` of ten fields get no matter what."""
    plain = {n: f for n, f in form.fields.items() if not is_file(f)}
    sent = {n: f for n, f in form.fields.items() if is_file(f)}
    lies = st.sampled_from([True] * anything + [False] * (10 - anything))
    each = {name: _values(field, lies) for name, field in plain.items()}
    files = {name: _file(field) for name, field in sent.items()}
    return st.tuples(st.fixed_dictionaries(each), st.fixed_dictionaries(files)).map(
        lambda drawn: (_data(form, drawn[0]), _files(form, drawn[1]))
    )


def is_file(field):
    """Tell whether a field takes a file."""
    return isinstance(field, forms.FileField)


def _values(field, lies):
    """Draw what one field's inputs send: a list of values for each of them."""
    if isinstance(field, forms.MultiValueField):
        inside = st.tuples(*(_values(f, lies) for f in field.fields))
        return inside.map(lambda parts: [v for part in parts for v in part[:1] or [""]])
    several = isinstance(field.widget, forms.SelectMultiple)
    fitting = st.lists(_fitting(field), max_size=4 if several else 1)
    lying = st.lists(ANYTHING, max_size=2)
    return lies.flatmap(lambda lie: lying if lie else fitting)


def _fitting(field):
    """Draw what a field asks for, by the first of its kinds that is known."""
    if isinstance(field, forms.ChoiceField | forms.ModelChoiceField):
        return _choice(field)
    for kinds, fitting in FITTING:
        if isinstance(field, kinds):
            return fitting
    return st.one_of(WORDS, NUMBERS)


def _choice(field):
    result = []
    for value, label in list(field.choices)[:MOST_CHOICES]:
        group = label if isinstance(label, list | tuple) else [(value, label)]
        result += [str(one) for one, _ in group]
    return st.sampled_from(result or [""])


def _file(field):
    kind = TextFileField if isinstance(field, TextFileField) else forms.FileField
    return st.one_of(st.none(), st.sampled_from(FILES[kind]))


def _data(form, drawn):
    data = QueryDict(mutable=True)
    for name, values in drawn.items():
        field, prefixed = form.fields[name], form.add_prefix(name)
        if isinstance(field, forms.MultiValueField):
            for number, value in enumerate(values):
                data.setlist(f"{prefixed}_{number}", [value])
        elif values:
            data.setlist(prefixed, values)
    return data


def _files(form, drawn):
    sent = {
        form.add_prefix(name): [SimpleUploadedFile(*file)]
        for name, file in drawn.items()
        if file is not None
    }
    return MultiValueDict(sent)
