"""What a page to sign shows: what is covered, what is missing, who may."""

import datetime as dt
from typing import Any

from records.models import Authority, Person, Shop, SignOff, Stage
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.signoffs.digest import Signature
from records.queries.subjects import called
from records.rules.authority import may
from records.rules.finding import Finding
from records.rules.gates.checks import RANK, kinds_open_to, last_work_of
from records.rules.gates.signing import ready_to_sign
from records.rules.gates.stage import next_to_log
from records.rules.readings.slots import Slot
from records.spelling.moments import when
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import reading_lines
from records.web.shared.pages import log_page, page_of, sign_page
from records.web.shared.parts import Action

Kind = Stage.CheckKind


def sign_page_of(
    progress: Progress, state: StageState, person: Person, now: dt.datetime
) -> dict[str, Any]:
    """Gather the page on which a stage of a thing is signed."""
    speaks_against = ready_to_sign(progress, state)
    barred = may(person, Authority.Act.SIGN, now.date())
    slot = next_to_log(state)
    return {
        "state": state,
        "thing": called(state.subject),
        "page": page_of(state.subject),
        "verdict": _verdict(state, speaks_against),
        "findings": speaks_against,
        "readings": reading_lines(state.current),
        "stale": _stale(state),
        "replaced": len(state.replaced),
        "rests_on": state.stage.get_evidence_display(),
        "signatures": [signature_line(s) for s in state.signatures],
        "step": _step(slot, state),
        "caution": state.stage.caution,
        "why_not": _why_not(speaks_against, barred),
    }


def open_kinds(
    progress: Progress, state: StageState, person: Person, now: dt.datetime
) -> tuple[list[Stage.CheckKind], str]:
    """List the kinds of check a person may claim and that suffice, and why."""
    delay = Shop.objects.values_list("same_person_delay_h", flat=True).get()
    free = kinds_open_to(person, progress, state, delay_h=delay, now=now)
    wanted = Kind(state.stage.check_kind)
    enough = [kind for kind in free if RANK[kind] >= RANK[wanted]]
    last = last_work_of(person, progress, state)
    why = f"This stage needs at least: {wanted.label}."
    if last is None:
        why += " You had no hand in it."
    else:
        free_at = when(last + dt.timedelta(hours=delay))
        why += f" You worked on it on {when(last)}; you may look again from {free_at}."
    return enough, why


def signature_line(signature: Signature) -> dict[str, Any]:
    """Spell a signature as a line."""
    signoff = signature.signoff
    return {
        "pk": signoff.pk,
        "name": signoff.printed_name,
        "about": f"{signoff.meaning} {signoff.get_check_kind_display().capitalize()}, "
        f"{when(signoff.happened_at)}.",
        "verdict": "void" if signature.void else "ok",
        "word": "void" if signature.void else "stands",
        "why": signature.void,
    }


def signoff_page(signoff: SignOff) -> dict[str, Any]:
    """Gather the page of one signature."""
    progress = progress_of(signoff.subject, signoff.stage.revision)
    state = progress.at(signoff.subject, signoff.stage.code)
    mine = [s for s in state.signatures if s.signoff == signoff] if state else []
    return {
        "signoff": signoff,
        "thing": called(signoff.subject),
        "page": page_of(signoff.subject),
        "line": signature_line(mine[0]) if mine else None,
        "again": sign_page(signoff.subject, signoff.stage),
        "facts": [
            ("Printed name", signoff.printed_name),
            ("Signed at", when(signoff.happened_at)),
            ("Meaning", signoff.meaning),
            ("Kind of check", signoff.get_check_kind_display()),
            ("Shown again by", signoff.get_method_display()),
            ("Digest of what was signed", _in_eights(signoff.digest)),
        ],
        "readings": reading_lines(state.readings) if state else [],
    }


def _in_eights(digest: str) -> str:
    """Part a digest into groups of eight, to be read out and compared."""
    return " ".join(digest[at : at + 8] for at in range(0, len(digest), 8))


def _verdict(state: StageState, findings: list[Finding]) -> Verdict:
    if state.signed is not None:
        return Verdict("ok", f"signed by {state.signed.printed_name}")
    if findings:
        return Verdict("waiting", f"{len(findings)} to do first")
    if state.signatures:
        return Verdict("void", "signature void: sign again")
    return Verdict("inside", "ready to sign")


def _stale(state: StageState) -> list[str]:
    return [
        f"{r.characteristic.name}, {r.entered} {r.unit}: {state.stale[r.pk]}"
        for r in state.readings
        if r.pk in state.stale
    ]


def _step(slot: Slot | None, state: StageState) -> Action | None:
    if slot is not None:
        return Action("Log what is missing", log_page(slot.thing, slot))
    return None if state.signed is None else Action("Back", page_of(state.subject))


def _why_not(findings: list[Finding], barred: list[Finding]) -> str:
    sentences = [f.sentence for f in barred]
    if findings:
        count = len(findings)
        sentences.append(
            "One thing is missing: see above."
            if count == 1
            else f"{count} things are missing: see above."
        )
    return " ".join(sentences)
