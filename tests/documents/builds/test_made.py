"""Tables of the build record: flags, void signatures and undecided deviations show."""

import pytest

from records.documents.builds.made import (
    deviations_table,
    signatures_table,
    uses_table,
)
from records.queries.builds.progress import progress_of
from records.queries.trace.history import where_from
from records.services.builds.propellers import change_material
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_a_void_signature_is_said_to_be_void(made):
    change_material(
        act=made.act,
        propeller=made.propeller,
        what="removed",
        place="tip",
        reason="dent",
        happened_at=made.act.at,
    )
    rows = signatures_table(progress_of(made.propeller)).rows
    states = {row[0]: row[-1] for row in rows}
    assert states["Final balance and track, propeller 2026-001"] == "VOID"
    assert states["Marking, propeller 2026-001"] == "stands"


def test_a_deviation_without_decision_is_said_to_be_undecided(made):
    deviation = factories.DeviationFactory(number="D0009")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=made.propeller)
    ((*_, decided, state),) = deviations_table(where_from(made.propeller)).rows
    assert (decided, state) == ("undecided", "open")


def test_what_was_put_on_later_names_its_lot(made):
    use = factories.MaterialUseFactory(propeller=made.propeller)
    ((number, _, place, *_),) = uses_table(where_from(made.propeller)).rows
    assert (number, place) == (use.lot.number, "leading edges")
