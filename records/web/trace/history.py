"""The history of one serial: what a scan of its tag leads to."""

from typing import Any

from django.urls import reverse

from records.models import Hold, Propeller
from records.queries.builds.progress import progress_of
from records.queries.provenance import tables_written
from records.queries.provenance.tables import tables_of
from records.queries.service.life import Life, life_of
from records.queries.trace.history import History, where_from
from records.rules.gates.stage import next_stage
from records.spelling.moments import when
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import reading_lines
from records.web.shared.hold_steps import hold_findings, hold_step
from records.web.shared.pages import log_page, page_of, trace_page, usual_actions
from records.web.shared.parts import Action, Fact
from records.web.shared.steps import stage_step
from records.web.trace import lines
from records.web.trace.timeline import timeline

SHAPES = {
    Propeller.State.IN_WORK: "waiting",
    Propeller.State.RETURNED: "waiting",
    Propeller.State.RETIRED: "void",
    Propeller.State.SCRAPPED: "void",
}
ENDED = (Propeller.State.RETIRED, Propeller.State.SCRAPPED)


def history_page(propeller: Propeller, why_not: str) -> dict[str, Any]:
    """Gather the history of a propeller; `why_not` says why nothing may be written."""
    history, life = where_from(propeller), life_of(propeller)
    written = history.written
    tables = [
        *tables_of(history.made, written),
        tables_written.deviations(written),
        tables_written.signatures(written),
    ]
    return {
        "propeller": propeller,
        "verdict": _verdict(propeller, history.holds),
        "findings": hold_findings(history.holds, propeller),
        "step": hold_step(history.holds, why_not) or _next(propeller, why_not),
        "facts": _facts(propeller, history, life),
        "timeline": timeline(history, life),
        "sections": [lines.section_of(table) for table in tables],
        "stages": lines.readings_by_stage(written.readings),
        "replaced": reading_lines(
            [reading for reading in written.readings if not lines.stands(reading)]
        ),
        "actions": _actions(propeller, why_not),
    }


def _verdict(propeller: Propeller, holds: list[Hold]) -> Verdict:
    state = Propeller.State(propeller.state)
    if holds:
        return Verdict("hold", f"on hold, {state.label}")
    return Verdict(SHAPES.get(state, "ok"), str(state.label))


def _next(propeller: Propeller, why_not: str) -> Action | None:
    if propeller.state in ENDED:
        return None
    stage = next_stage(progress_of(propeller), propeller)
    if stage is None:
        return Action("The propeller's page", page_of(propeller))
    return stage_step(stage, propeller, why_not)


def _facts(propeller: Propeller, history: History, life: Life) -> list[Fact]:
    owner = life.ownerships[-1] if life.ownerships else None
    record = life.records[-1] if life.records else None
    revision = propeller.revision
    return [
        Fact("Design", f"{revision.design} {revision}"),
        Fact("Blank", propeller.blank.number),
        Fact("Timber lots", _numbers(history.made.timber_lots)),
        Fact("Glue lots", _numbers(history.made.glue_lots)),
        Fact("Gauges used", _numbers(history.gauges)),
        Fact("Conformity record", record.number if record else "none issued"),
        Fact(
            "With", f"{owner.owner} since {when(owner.happened_at)}" if owner else "us"
        ),
    ]


def _numbers(things: list[Any]) -> str:
    return ", ".join(thing.number for thing in things) or "none known"


def _actions(propeller: Propeller, why_not: str) -> list[Action]:
    use = reverse("trace:use", args=["propeller", propeller.serial])
    here = trace_page(propeller)
    return [
        Action("The propeller's page", page_of(propeller), ""),
        Action("Log a reading", log_page(propeller), why_not),
        Action("Note material put on", use, why_not),
        Action("The blank's sisters", trace_page(propeller.blank), ""),
        *(action for action in usual_actions(propeller, why_not) if action[1] != here),
    ]
