"""From the last signature to the owner, and back again."""

import datetime as dt
from decimal import Decimal

from django.conf import settings

from records.documents.keys import current_keys, make_keys
from records.management.demo.workshop import KEEPER, Workshop
from records.models import ConformityRecord, Propeller
from records.services import tags
from records.services.conformity import issue as conformity
from records.services.conformity import release
from records.services.service import events as service


class Papers:
    """Releases propellers, prints their records, hands them over."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop

    def seal_with(self, shop: str) -> None:
        """Make the shop's keys if it has none yet."""
        if current_keys(settings.DATA) is None:
            make_keys(settings.DATA, shop, self.workshop.clock.now)

    def release(self, propeller: Propeller) -> ConformityRecord:
        """Release a propeller whose stages are all signed, and print its record."""
        release.release_propeller(act=self.workshop.act(KEEPER), propeller=propeller)
        propeller.refresh_from_db()
        tags.tag_for(act=self.workshop.act(), thing=propeller)
        return conformity.issue_conformity(
            act=self.workshop.act(KEEPER, minutes=20),
            propeller=propeller,
            packing="Sealed bag in a crate; keep it in the bag until it is fitted.",
        )

    def reissue(self, propeller: Propeller) -> ConformityRecord:
        """Print a record again that the owner lost."""
        return conformity.issue_conformity(
            act=self.workshop.act(KEEPER, minutes=20),
            propeller=propeller,
            reason="The owner lost the paper; nothing else has changed.",
            packing="Already with its owner.",
        )

    def hand_over(self, propeller: Propeller, owner: str, aircraft: str) -> None:
        """Hand a propeller over to somebody new."""
        somebody = service.add_owner(
            act=self.workshop.act(KEEPER),
            name=owner,
            address="an invented address",
            contact=f"{owner.split(maxsplit=1)[0].lower()}@owner.example",
        )
        act = self.workshop.act(KEEPER)
        service.hand_over(
            act=act,
            propeller=propeller,
            owner=somebody,
            happened_at=act.at,
            aircraft=aircraft,
            carrier="Crate, by road",
        )
        propeller.refresh_from_db()

    def come_back(self, propeller: Propeller, findings: str) -> None:
        """Take a propeller back for work."""
        act = self.workshop.act(KEEPER)
        service.record_service_event(
            act=act,
            propeller=propeller,
            kind="returned",
            happened_at=act.at - dt.timedelta(hours=1),
            findings=findings,
            hours=Decimal("41.5"),
        )
