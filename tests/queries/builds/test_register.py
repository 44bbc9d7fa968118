import pytest

from records.models import Designation, MaterialChange, StageEvent
from records.queries.builds import register as builds
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def row(model, **kwargs):
    return model.objects.create(
        written_at=NOON, written_by=factories.PersonFactory(), **kwargs
    )


def test_the_list_counts_laminations_and_propellers():
    blank = factories.glued_blank(4)
    factories.LaminationFactory(
        blank=blank, position=2, state="void", void_reason="cracked"
    )
    factories.PropellerFactory.create_batch(2, blank=blank)
    [result] = builds.blanks_listed()
    assert (result.laid, result.made) == (4, 2)


def test_lists_take_one_query_however_long(django_assert_num_queries):
    for _ in range(5):
        factories.PropellerFactory(blank=factories.glued_blank(3))
    with django_assert_num_queries(2):
        assert [b.revision.design.model for b in builds.blanks_listed()]
        assert [p.blank.route.route.name for p in builds.propellers_listed()]


def test_a_stack_comes_from_the_bottom_up_without_its_gaps(django_assert_num_queries):
    blank = factories.BlankFactory()
    second = factories.LaminationFactory(blank=blank, position=2)
    first = factories.LaminationFactory(blank=blank, position=1)
    gap = factories.LaminationFactory(
        blank=blank, position=1, state="void", void_reason="knot"
    )
    with django_assert_num_queries(2):
        stack = builds.stack_of(blank)
        assert [x.board.lot.material.name for x in stack]
        assert [x.board.number for x in builds.voided_of(blank)] == [gap.board.number]
    assert stack == [first, second]


def test_free_laminations_are_good_and_lie_nowhere():
    free = factories.LaminationFactory()
    laid = factories.LaminationFactory(blank=factories.BlankFactory(), position=1)
    factories.LaminationFactory(state="void", void_reason="knot")
    assert list(builds.laminations_free()) == [free]
    assert set(builds.laminations_free(also=laid)) == {free, laid}


def test_species_allowed_are_named():
    allowed = factories.AllowedSpeciesFactory()
    assert builds.species_allowed(allowed.revision) == {
        allowed.material_id: allowed.material.name
    }


def test_loads_of_a_blank():
    [loaded] = builds.loads_of(factories.glued_blank(4))
    assert loaded.load.press.name


def test_what_happened_to_a_propeller_comes_in_order():
    propeller = factories.PropellerFactory()
    other = factories.RevisionFactory()
    before = propeller.revision
    given = row(
        Designation,
        propeller=propeller,
        before=before,
        after=other,
        happened_at=NOON,
        reason="Thin",
    )
    change = row(
        MaterialChange,
        propeller=propeller,
        happened_at=NOON,
        what="added",
        place="tip",
        reason="Repair",
    )
    stage = factories.StageFactory(revision=propeller.blank.route)
    event = row(
        StageEvent, stage=stage, propeller=propeller, kind="began", happened_at=NOON
    )
    assert builds.designations_of(propeller) == [given]
    assert builds.material_changes_of(propeller) == [change]
    assert builds.stage_events_of(propeller) == [event]
    assert builds.propellers_of(propeller.blank) == [propeller]
