"""Where propellers are: in the shop, or with whom since when."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import F, OuterRef, Q, Subquery

from records.models import Ownership, Propeller

IN_SHOP = (
    Propeller.State.IN_WORK,
    Propeller.State.RELEASED,
    Propeller.State.RETURNED,
)


@dataclass(frozen=True, slots=True)
class Destination:
    """One propeller, its state, and its last owner if it was handed over."""

    pk: int
    serial: str
    state: str
    model: str
    blank: int
    blank_number: str
    owner: str
    handed_over_at: dt.datetime | None

    @property
    def in_shop(self) -> bool:
        """Tell whether the shop has it in its hands."""
        return self.state in IN_SHOP

    @property
    def state_name(self) -> str:
        """Spell the state in words."""
        return str(Propeller.State(self.state).label)


def destinations(condition: Q) -> list[Destination]:
    """Find where the propellers under a condition are, by serial: one query."""
    last = Ownership.objects.filter(propeller=OuterRef("pk"))
    last = last.order_by("-happened_at", "-pk")
    rows = (
        Propeller.objects.filter(condition)
        .annotate(
            owner_name=Subquery(last.values("owner__name")[:1]),
            handed_over_at=Subquery(last.values("happened_at")[:1]),
            model_name=F("revision__design__model"),
        )
        .order_by("serial", "pk")
        .values_list(
            "pk",
            "serial",
            "state",
            "model_name",
            "blank",
            "blank__number",
            "owner_name",
            "handed_over_at",
        )
    )
    return [Destination(*row[:6], row[6] or "", row[7]) for row in rows]
