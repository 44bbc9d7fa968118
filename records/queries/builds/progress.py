"""Stages of a build with their readings and signatures, in a constant count of queries.

Lots, boards and glue serve builds of several routes and outlive their revisions: their
readings and signatures count wherever a stage has that code.
"""

from dataclasses import dataclass

from django.db.models import Model

from records.models import Reading, RouteRevision
from records.queries.builds.stage_rows import Rows
from records.queries.builds.stage_state import StageState
from records.queries.provenance.loading import provenance_of
from records.queries.provenance.made_of import Key, Provenance
from records.queries.routes.revisions import stages_with_characteristics

__all__ = ["Progress", "StageState", "progress_of", "stages_of"]


@dataclass(frozen=True, slots=True)
class Progress:
    """Every stage of a thing and of all it was made of, in the route's order."""

    provenance: Provenance
    route: RouteRevision | None
    states: list[StageState]
    readings: dict[tuple[str, Key], list[Reading]]

    def of(self, subject: Model) -> list[StageState]:
        """Keep the stages signed on this very thing."""
        return [s for s in self.states if s.subject == subject]

    def at(self, subject: Model, code: str) -> StageState | None:
        """Find one stage of a thing by its code."""
        return next((s for s in self.of(subject) if s.stage.code == code), None)

    def before(self, order: int) -> list[StageState]:
        """Keep the stages that come before a place in the route."""
        return [s for s in self.states if s.stage.order < order]


def progress_of(thing: Model, route: RouteRevision | None = None) -> Progress:
    """Gather every stage of a thing and of what it was made of.

    `route` is the plan to read a lot, a board or a loose lamination by; a blank and
    a propeller have their own.
    """
    provenance = provenance_of(thing, route)
    plans = provenance.routes if provenance.blank or route is None else [route]
    if not plans:
        return Progress(provenance, None, [], {})
    plan = plans[0]
    stages = stages_with_characteristics(plan)
    rows = Rows(provenance, stages)
    states = [
        rows.state(stage, subject)
        for stage in stages
        for subject in provenance.things(stage.scope)
    ]
    return Progress(provenance, plan, states, rows.readings)


def stages_of(thing: Model, route: RouteRevision | None = None) -> list[StageState]:
    """Give the stages signed on a thing: those of its own scope."""
    return progress_of(thing, route).of(thing)
