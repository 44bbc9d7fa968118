"""Release a propeller: only when nothing that was found speaks against it."""

from django.utils.timezone import localdate

from records.models import Authority, Propeller
from records.models.conformity import Release
from records.rules.authority import may
from records.rules.gates.release import release_findings
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def release_propeller(*, act: Act, propeller: Propeller) -> Release:
    """Release a propeller, in work or back from repair. Needs the authority.

    Raises `Refusal` with every reason at once: an unsigned stage, a reading that is
    missing, stale or outside, a gauge that was overdue, a hold, an open deviation.
    """
    with Entry(act, "release propeller") as entry:
        propeller = Propeller.objects.with_related().get(pk=propeller.pk)
        entry.subject = propeller.serial
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.RELEASE, localdate(act.at)),
                *release_findings(propeller),
            ]
        )
        entry.change(propeller, state=Propeller.State.RELEASED)
        return entry.add(
            Release(
                propeller=propeller,
                happened_at=act.at,
                printed_name=act.by.name,
            )
        )
