"""Every model is a record or a thing, and says what of it may change."""

from records.models.base import Record, Thing
from records.models.guards import fixed_columns, guarded_models


def test_every_model_is_one_of_the_two_kinds():
    models = guarded_models()
    assert len(models) > 50
    assert [m for m in models if issubclass(m, Record) == issubclass(m, Thing)] == []


def test_a_record_fixes_every_column_and_a_thing_all_but_its_state():
    free = {model: free_columns(model) for model in guarded_models()}
    assert free == {model: state_columns(model) for model in free}
    assert [m for m, columns in free.items() if columns and issubclass(m, Record)] == []


def free_columns(model):
    return {f.column for f in model._meta.concrete_fields} - set(fixed_columns(model))


def state_columns(model):
    state = getattr(model, "state_fields", ())
    return {model._meta.get_field(name).column for name in state}
