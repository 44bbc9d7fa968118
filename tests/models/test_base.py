"""Every model is a record or a thing, and says what of it may change."""

import pytest

from records.models.base import Record, Thing
from records.models.guards import fixed_columns, guarded_models

MODELS = [pytest.param(m, id=m.__name__) for m in guarded_models()]


@pytest.mark.parametrize("model", MODELS)
def test_it_is_one_of_the_two_kinds(model):
    assert issubclass(model, Record) != issubclass(model, Thing)


@pytest.mark.parametrize("model", MODELS)
def test_a_record_fixes_every_column_and_a_thing_all_but_its_state(model):
    columns = {f.column for f in model._meta.concrete_fields}
    state = set(getattr(model, "state_fields", ()))
    free = columns - set(fixed_columns(model))
    assert free == {model._meta.get_field(name).column for name in state}
    assert not issubclass(model, Record) or not free
