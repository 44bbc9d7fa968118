"""Every model is a record or a thing, and says what of it may change."""

from records.models.base import Correctable, Record, Thing
from records.models.guards import fixed_columns, guarded_models


def test_every_model_is_one_of_the_two_kinds():
    models = guarded_models()
    assert len(models) > 50
    assert [m for m in models if issubclass(m, Record) == issubclass(m, Thing)] == []


def test_only_state_and_what_a_correction_stands_beside_may_change():
    free = {model: free_columns(model) for model in guarded_models()}
    assert free == {model: state_columns(model) for model in free}
    records = [m for m, columns in free.items() if columns and issubclass(m, Record)]
    assert [m for m in records if not issubclass(m, Correctable)] == []


def free_columns(model):
    return {f.column for f in model._meta.concrete_fields} - set(fixed_columns(model))


def state_columns(model):
    names = set(getattr(model, "state_fields", ()))
    if issubclass(model, Correctable):
        names |= {*model.typed_fields, *model.derived_fields, "corrections"}
    return {model._meta.get_field(name).column for name in names}


def test_what_is_called_typed_is_a_field():
    for model in guarded_models():
        for name in getattr(model, "typed_fields", ()):
            assert model._meta.get_field(name).editable, (model, name)
