"""Signing a stage off: who, when, what it means, what exactly was signed."""

import datetime as dt
from dataclasses import replace

from django.db.models import Model
from django.utils.timezone import localtime

from records.models import RefusedSignature, SignOff, Stage
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.subjects import called, kind_of, number_of
from records.rules.finding import Finding
from records.rules.gates.signing import may_be_signed
from records.services.ledger import Act, Entry
from records.services.refusal import Refusal, refuse_if_blocked


def sign_stage(
    *,
    act: Act,
    subject: Model,
    stage: Stage,
    meaning: str,
    check_kind: str,
    method: str,
    happened_at: dt.datetime,
    seen_digest: str = "",
) -> SignOff:
    """Sign a stage off for one thing, bound to the digest of what it covers.

    `method` says how the person has just shown who they are; `seen_digest` is what
    the page showed, and a change since then refuses. A refusal raises `Refusal` with
    every reason, and is itself written down.
    """
    signoff = SignOff(
        **{kind_of(subject): subject},
        stage=stage,
        happened_at=happened_at,
        meaning=meaning.strip(),
        check_kind=check_kind,
        printed_name=act.by.name,
        method=method,
    )
    try:
        return _sign(act, subject, signoff, seen_digest)
    except Refusal as refusal:
        refuse_signature(act=act, subject=subject, stage=stage, why=refusal.findings)
        raise


def refuse_signature(
    *, act: Act, subject: Model, stage: Stage, why: tuple[Finding, ...]
) -> RefusedSignature:
    """Write down that somebody tried to sign and was refused, and why."""
    # The form stays free to be sent again: only a signature takes its key.
    with Entry(replace(act, form_key=""), "refuse signature") as entry:
        entry.subject = number_of(subject)
        return entry.add(
            RefusedSignature(
                **{kind_of(subject): subject},
                stage=stage,
                happened_at=act.at,
                why="\n".join(f.sentence for f in why),
            )
        )


def _sign(act: Act, subject: Model, signoff: SignOff, seen_digest: str) -> SignOff:
    with Entry(act, "sign stage") as entry:
        entry.subject = number_of(subject)
        progress = progress_of(subject, signoff.stage.revision)
        state = _state(progress, subject, signoff.stage)
        signoff.stage, signoff.digest = state.stage, state.digest()
        refuse_if_blocked(
            may_be_signed(
                person=act.by,
                progress=progress,
                state=state,
                claimed=signoff.check_kind,
                meaning=signoff.meaning,
                happened_at=signoff.happened_at,
                now=act.at,
                day=localtime(act.at).date(),
                changed=bool(seen_digest) and seen_digest != signoff.digest,
            )
        )
        return entry.add(signoff)


def _state(progress: Progress, subject: Model, stage: Stage) -> StageState:
    state = progress.at(subject, stage.code)
    if state is None:
        raise Refusal([Finding(f"{stage.name} is not signed on {called(subject)}.")])
    return state
