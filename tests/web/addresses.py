"""Every address of the program, with something real at the end of each."""

from dataclasses import dataclass
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse

from records.models import Authority, Person
from records.models.people import BenchDevice
from tests import factories


@dataclass(frozen=True)
class Address:
    """A named address and the view behind it."""

    name: str
    view: Any
    parameters: tuple[str, ...]

    @property
    def area(self):
        return self.name.partition(":")[0]

    def path(self, things):
        """Fill the address with things that exist."""
        given = {p: self._value(p, things) for p in self.parameters}
        return reverse(self.name, kwargs=given)

    def _value(self, parameter, things):
        for key in (f"{self.name}.{parameter}", f"{self.area}.{parameter}", parameter):
            if key in things:
                return things[key]
        raise AssertionError(
            f"{self.name} takes {parameter!r}: say in things() what to put there"
        )


def addresses():
    """Walk the resolver: every view that the program has."""
    return sorted(_walk(get_resolver().url_patterns, ()), key=lambda a: a.name)


def _walk(patterns, spaces, taken=()):
    for pattern in patterns:
        parameters = (*taken, *pattern.pattern.converters)
        if isinstance(pattern, URLResolver):
            inner = (*spaces, pattern.namespace) if pattern.namespace else spaces
            yield from _walk(pattern.url_patterns, inner, parameters)
        elif isinstance(pattern, URLPattern):
            assert pattern.name, f"{pattern} has no name"
            name = ":".join((*spaces, pattern.name))
            yield Address(name, pattern.callback, parameters)


def things():
    """Make one of everything, and say which parameter means which."""
    blank = factories.glued_blank()
    propeller = factories.PropellerFactory(blank=blank)
    lot = factories.LotFactory()
    board = factories.BoardFactory(lot=lot)
    lamination = factories.LaminationFactory(board=board)
    mix = factories.MixFactory()
    load = factories.PressLoadFactory()
    coupon = factories.CouponFactory(mix=mix)
    gauge = factories.CalibrationFactory().gauge
    stage = factories.StageFactory(revision=blank.route)
    tip = factories.CharacteristicFactory(stage=stage, per="blade")
    reading = factories.ReadingFactory(characteristic=tip, propeller=propeller, blade=1)
    signoff = factories.SignOffFactory(stage=stage, propeller=propeller)
    maker = factories.PersonFactory()
    device = BenchDevice.objects.create(
        name="tablet", digest="0" * 64, written_by=maker, written_at=factories.NOON
    )
    return {
        "login": maker.login,
        "token": "none",
        "conformity:key.name": "none",
        "kind": "blank",
        "number": blank.number,
        "serial": propeller.serial,
        "sequence": 1,
        "code": stage.code,
        "stage": stage.code,
        "blank": blank.number,
        "piece": blank.laminations.get(position=1).number,
        "position": 1,
        "gluing.pk": blank.spreads.get(joint=1).pk,
        "pressing:press_in_use.pk": load.press_id,
        "pressing.pk": factories.PressSampleFactory(load=load).pk,
        "lots.number": lot.number,
        "lots:supplier.pk": lot.supplier_id,
        "lots:change_supplier.pk": lot.supplier_id,
        "lots:material_use.pk": lot.material_id,
        "lots:sheet.pk": mix.sheet_id,
        "files:file.pk": factories.AttachmentFactory().pk,
        "boards.number": board.number,
        "boards:lamination.number": lamination.number,
        "boards:void.number": lamination.number,
        "gluing.number": mix.number,
        "pressing.number": load.number,
        "coupons.number": coupon.number,
        "gauges.number": gauge.number,
        "gauges:impact.pk": gauge.calibrations.get().pk,
        "files.pk": factories.StoredFileFactory().pk,
        "deviations.number": factories.DeviationFactory().number,
        "deviations:release.pk": factories.HoldFactory(lot=lot).pk,
        "deviations:done.pk": factories.CorrectiveActionFactory().pk,
        "deviations:effect.pk": factories.CorrectiveActionFactory().pk,
        "deviations:decide_as.kind": "rework",
        "trace:lot.number": lot.number,
        "trace:serial.number": propeller.serial,
        "people:end_authority.pk": Authority.objects.order_by("pk").first().pk,
        "people:end_device.pk": device.pk,
        "designs.pk": propeller.revision.pk,
        "designs:design.pk": propeller.revision.design_id,
        "designs:issue.pk": propeller.revision.design_id,
        "designs:use.pk": propeller.revision.design_id,
        "routes.pk": blank.route.route_id,
        "routes.revision": blank.route_id,
        "routes.characteristic": tip.pk,
        "routes.asked": tip.code,
        "readings.pk": reading.pk,
        "service.pk": factories.OwnerFactory().pk,
        "signoffs.pk": signoff.pk,
        "signoffs.kind": "propeller",
        "signoffs.number": propeller.serial,
    }


def person_of(role):
    """Make a person of a role; an owner has every authority."""
    if role == Person.Role.OWNER:
        return factories.owner()
    return factories.PersonFactory(role=role)
