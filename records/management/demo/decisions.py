"""How this shop ends a deviation: its holds released, its number closed."""

from django.db.models import Q

from records.management.demo.workshop import INSPECTOR, Workshop
from records.models import Deviation, Hold, PressLoad
from records.services.deviations.opening import close_deviation
from records.services.holds import release_hold


def settle(
    workshop: Workshop, deviation: Deviation, load: PressLoad | None = None
) -> None:
    """Release the holds of a deviation, and of its press load, and close it."""
    about = Q(deviation=deviation)
    if load is not None:
        about |= Q(load=load)
    for hold in Hold.objects.standing().filter(about):
        act = workshop.act(INSPECTOR)
        release_hold(
            act=act,
            hold=hold,
            reason=f"Decided in {deviation.number}.",
            happened_at=act.at,
        )
    close_deviation(act=workshop.act(INSPECTOR), deviation=deviation)
