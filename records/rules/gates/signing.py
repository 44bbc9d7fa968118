"""May this stage be signed now, by this person, as this kind of check: the reasons."""

import datetime as dt

from django.db.models import Model

from records.models import Authority, Blank, Person, Propeller, Shop
from records.queries.builds.progress import Progress, StageState
from records.queries.subjects import called
from records.rules.authority import may
from records.rules.finding import Finding
from records.rules.gates.checks import RANK, Kind, check_is_honest
from records.rules.gates.stage import missing
from records.rules.holds import held
from records.rules.moments import already_happened

SCRAPPED = {Blank.State.SCRAPPED, Propeller.State.SCRAPPED}


def may_be_signed(
    *,
    person: Person,
    progress: Progress,
    state: StageState,
    claimed: str,
    meaning: str,
    happened_at: dt.datetime,
    now: dt.datetime,
    day: dt.date,
    changed: bool = False,
) -> list[Finding]:
    """Say everything that speaks against a signature, its person and its kind."""
    findings = ready_to_sign(progress, state) + may(person, Authority.Act.SIGN, day)
    if changed:
        findings.append(
            Finding(
                "What this covers has changed since the page was opened. Look again."
            )
        )
    if not meaning.strip():
        findings.append(Finding("Say what your signature means.", "meaning"))
    findings += already_happened(happened_at, now)
    if claimed not in Kind.values:
        return [*findings, Finding("Choose the kind of check.", "check_kind")]
    delay = Shop.objects.values_list("same_person_delay_h", flat=True).get()
    findings += check_is_honest(
        person=person,
        progress=progress,
        state=state,
        claimed=claimed,
        delay_h=delay,
        now=now,
    )
    return findings + _not_twice(person, state, claimed)


def ready_to_sign(progress: Progress, state: StageState) -> list[Finding]:
    """Say what is missing of the stage itself, whoever signs: holds included."""
    return [
        *_scrapped(state.subject),
        *missing(progress, state),
        *held(state.subject),
    ]


def _scrapped(thing: Model) -> list[Finding]:
    if isinstance(thing, Blank | Propeller) and thing.state in SCRAPPED:
        return [Finding(f"{called(thing).capitalize()} is scrapped.")]
    return []


def _not_twice(person: Person, state: StageState, claimed: str) -> list[Finding]:
    """Let a later look be added, but not the same one by the same person again."""
    standing = [s.signoff for s in state.signatures if not s.void]
    mine = [s for s in standing if s.written_by_id == person.pk]
    if any(RANK[Kind(s.check_kind)] >= RANK[Kind(claimed)] for s in mine):
        sentence = f"{person.name} has signed {state.stage.name} already, as it stands."
        return [Finding(sentence)]
    return []
