"""Hold points: what has to be signed before a later stage goes on."""

from records.models import Stage
from records.queries.builds.progress import Progress, StageState
from records.queries.subjects import called
from records.rules.finding import Finding, warning


def hold_points_open(progress: Progress, stage: Stage) -> list[StageState]:
    """List the hold points before a stage that nobody's signature stands for."""
    before = progress.before(stage.order)
    return [s for s in before if s.stage.hold_point and s.signed is None]


def hold_points_are_signed(progress: Progress, stage: Stage) -> list[Finding]:
    """Say which hold points are still open before a stage.

    While glue is wet they warn, and never block.
    """
    make = warning if stage.glue_is_wet else Finding
    return [
        make(
            f"Hold point {state.stage.name} of {called(state.subject)} is not signed "
            f"yet. Sign it before {stage.name}.",
            "characteristic",
        )
        for state in hold_points_open(progress, stage)
    ]
