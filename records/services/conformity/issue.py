"""Issue conformity records, replace and withdraw them; none is ever edited.

The number is reserved first, the paper is drawn outside any transaction, and all is
stored together in one short one, if the book still says what was drawn.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.conf import settings
from django.utils.timezone import localdate

from records import chain
from records.documents.conformity.record import draw_conformity, facts_digest
from records.documents.keys import Keys, current_keys
from records.documents.pdf import DrawingFailed
from records.documents.pdf_signature import sign_pdf
from records.documents.seal import seal_facts
from records.models import (
    Attachment,
    Authority,
    ConformityRecord,
    LedgerEntry,
    Propeller,
    Shop,
    Withdrawal,
)
from records.queries.conformity.facts import Issue, conformity_facts
from records.queries.conformity.register import newest_record
from records.queries.files import Damaged, read_kept
from records.rules.authority import may
from records.rules.files import PDF
from records.rules.finding import Finding
from records.rules.gates.issue import (
    KEYS_ARE_MISSING,
    record_may_be_issued,
    record_may_be_withdrawn,
)
from records.services.files import store_file
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import AlreadyDone, refuse, refuse_if_blocked
from records.services.tags import add_tag


@dataclass(frozen=True, slots=True)
class _Wish:
    propeller: Propeller
    reason: str
    place: str
    packing: str
    stamp: Attachment | None


def issue_conformity(
    *,
    act: Act,
    propeller: Propeller,
    reason: str = "",
    place: str = "",
    packing: str = "",
    stamp: Attachment | None = None,
) -> ConformityRecord:
    """Issue the conformity record of a released propeller. Needs the authority.

    The next issue of a serial replaces the one before and says why; the old one keeps
    its bytes. `place` is the shop's where it is empty. Raises `Refusal` when something
    speaks against the propeller, the keys are missing, the paper can't be drawn, or
    the book changed while it was.
    """
    keys = current_keys(settings.DATA)
    wish = _Wish(propeller, reason.strip(), place.strip(), packing.strip(), stamp)
    issue = _reserve(act, wish, keys)
    facts = conformity_facts(propeller, issue)
    seal, pdf = _drawn(facts, issue, keys)
    with Entry(act, "issue conformity record") as entry:
        entry.subject = issue.number
        refuse_if_blocked(_findings(act, replace(wish, place=issue.place), keys))
        if facts_digest(conformity_facts(propeller, issue)) != facts_digest(facts):
            raise refuse(
                f"The book changed while record {issue.number} was drawn. Nothing was "
                "issued; look at what changed, and issue it again."
            )
        file = store_file(entry, name=f"{issue.number}.pdf", media_type=PDF, data=pdf)
        return entry.add(
            ConformityRecord(
                number=issue.number,
                propeller=propeller,
                issue=issue.issue,
                replaces=issue.replaces,
                reason=issue.reason,
                issued_at=issue.issued_at,
                signer=issue.signer,
                facts=chain.canonical(facts).decode(),
                facts_digest=facts_digest(facts),
                seal=seal,
                ledger_head=issue.ledger_head,
                pdf=file,
            )
        )


def withdraw_conformity(
    *, act: Act, record: ConformityRecord, reason: str, happened_at: dt.datetime
) -> Withdrawal:
    """Take a record back, with the reason. Needs the authority; the paper stays."""
    with Entry(act, "withdraw conformity record") as entry:
        record = ConformityRecord.objects.with_related().get(pk=record.pk)
        entry.subject = record.number
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.RELEASE, localdate(act.at)),
                *record_may_be_withdrawn(record, reason, happened_at, act.at),
            ]
        )
        return entry.add(
            Withdrawal(record=record, happened_at=happened_at, reason=reason.strip())
        )


def _findings(act: Act, wish: _Wish, keys: Keys | None) -> list[Finding]:
    propeller = Propeller.objects.with_related().get(pk=wish.propeller.pk)
    return [
        *may(act.by, Authority.Act.RELEASE, localdate(act.at)),
        *record_may_be_issued(
            propeller, wish.reason, place=wish.place, sealable=keys is not None
        ),
    ]


def _reserve(act: Act, wish: _Wish, keys: Keys | None) -> Issue:
    """Take the number and the tag, so that drawing needs no lock."""
    taken = LedgerEntry.objects.filter(form_key=act.form_key).exclude(form_key="")
    if done := taken.first():
        raise AlreadyDone(done.sequence)
    # The form's key is taken when the record is stored: until then it may come again.
    with Entry(replace(act, form_key=""), "reserve record number") as entry:
        wish = replace(wish, place=wish.place or Shop.objects.get().place)
        refuse_if_blocked(_findings(act, wish, keys))
        number = next_number("conformity", act.at)
        entry.subject = number
        tag = add_tag(entry, wish.propeller)
        old = newest_record(wish.propeller)
    head = LedgerEntry.objects.head()
    return Issue(
        number=number,
        issue=old.issue + 1 if old else 1,
        issued_at=act.at.replace(microsecond=0),
        signer=act.by.name,
        place=wish.place,
        packing=wish.packing,
        tag_code=tag.code,
        ledger_head=head.digest if head else chain.GENESIS,
        ledger_sequence=head.sequence if head else 0,
        replaces=old,
        reason=wish.reason if old else "",
        stamp=wish.stamp,
    )


def _drawn(
    facts: Mapping[str, Any], issue: Issue, keys: Keys | None
) -> tuple[str, bytes]:
    """Seal the facts, draw the paper and sign it."""
    if keys is None:
        raise refuse(KEYS_ARE_MISSING)
    seal = seal_facts(chain.canonical(facts), keys.private_jwk, keys.public.name)
    try:
        photo = read_kept(issue.stamp.file) if issue.stamp else None
        pdf = draw_conformity(facts, seal, stamp_photo=photo)
    except (Damaged, DrawingFailed) as error:
        raise refuse(str(error)) from error
    return seal, sign_pdf(pdf, keys, signer=issue.signer, place=issue.place)
