"""The invented shop before its first build: people, gauges, materials, designs."""

import datetime as dt
from decimal import Decimal
from typing import Final

from records.management.demo.clock import Clock
from records.management.demo.drawings import PULLER, PUSHER
from records.models import (
    Authority,
    Design,
    Gauge,
    GlueSheet,
    Lot,
    Material,
    Person,
    Press,
    Revision,
    RouteRevision,
    Stage,
    Supplier,
)
from records.services import designs, gauges, lots, routes, shop
from records.services.ledger import Act
from records.services.people import accounts as people
from records.services.pressing import loads as pressing

PASSWORD: Final = "wind over the marsh"  # noqa: S105 - printed on purpose
KEEPER, MAKER, INSPECTOR = "ines", "bram", "maud"

GAUGES = (
    ("G01", "Pin moisture meter", "%", "5", "40", "0.1", "0.3"),
    ("G02", "Bench scale", "g", "0", "15000", "0.5", "1"),
    ("G03", "Vernier caliper", "mm", "0", "300", "0.02", "0.03"),
    ("G04", "Long caliper and rule", "mm", "0", "1600", "0.1", "0.1"),
    ("G05", "Propeller protractor", "deg", "0", "90", "0.02", "0.05"),
    ("G06", "Press gauge", "MPa", "0", "25", "0.1", "0.2"),
    ("G07", "Balance stand with weights", "g.mm", "-60000", "60000", "10", "60"),
    ("G08", "Track pointer", "mm", "-20", "20", "0.05", "0.05"),
)


class Workshop:
    """What every build of the demo uses, and who does what."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.people: dict[str, Person] = {}
        self.gauges: dict[str, Gauge] = {}
        self.woods: dict[str, Material] = {}
        self.timber: dict[str, Lot] = {}
        self.designs: dict[str, Revision] = {}
        self.supplier: Supplier
        self.route: RouteRevision
        self.stages: dict[str, Stage] = {}
        self.press: Press
        self.sheet: GlueSheet
        self.resin: Lot
        self.powder: Lot

    def act(self, who: str = MAKER, minutes: float = 1) -> Act:
        """Act as somebody, a little later than the last act."""
        return Act(by=self.people[who], at=self.clock.tick(minutes))

    def set_up(self) -> None:
        """Open the shop and fill its shelves."""
        self._open()
        self._hire()
        self._fill_gauge_drawer()
        self._name_woods()
        self._buy_glue()
        self._draw()
        self.route = routes.write_default_route(
            act=self.act(KEEPER), name="Laminated propeller"
        )
        stages = Stage.objects.of(self.route.pk).select_related("revision")
        self.stages = {stage.code: stage for stage in stages}
        self.press = pressing.add_press(
            act=self.act(KEEPER),
            name="Long press",
            kind=Press.Kind.RAMS,
            rams=6,
            bore_mm=Decimal(63),
        )

    def _open(self) -> None:
        token = people.make_set_up_link(self.clock.now)
        self.people[KEEPER] = people.set_up_shop(
            token=token,
            at=self.clock.tick(),
            shop_name="Saltmarsh Airscrew Works",
            base_url="http://localhost:8000",
            name="Ines Calder",
            login=KEEPER,
            password=PASSWORD,
            place="Fenny Staithe",
        )
        shop.change_shop(
            act=self.act(KEEPER),
            address="The Old Sail Loft\nFenny Staithe",
            contact="workshop@saltmarsh.example",
            serial_pattern="SM{year}-{n:03}",
        )

    def _hire(self) -> None:
        roles = Person.Role
        for login, name, role in (
            (MAKER, "Bram Oakes", roles.MAKER),
            (INSPECTOR, "Maud Ferris", roles.INSPECTOR),
            ("rafe", "Rafe Linnet", roles.READER),
        ):
            self.people[login] = people.add_person(
                act=self.act(KEEPER),
                login=login,
                name=name,
                role=role,
                password=PASSWORD,
            )
        deeds = Authority.Act
        for login, deed in (
            (MAKER, deeds.SIGN),
            (INSPECTOR, deeds.SIGN),
            (INSPECTOR, deeds.ACCEPT),
            (INSPECTOR, deeds.DISPOSE),
        ):
            people.grant_authority(
                act=self.act(KEEPER),
                person=self.people[login],
                deed=deed,
                from_on=self.today,
            )

    @property
    def today(self) -> dt.date:
        """The day in the shop."""
        return self.clock.now.date()

    def _fill_gauge_drawer(self) -> None:
        for number, name, unit, low, high, resolution, permissible in GAUGES:
            gauge = gauges.add_gauge(
                act=self.act(KEEPER),
                number=number,
                name=name,
                unit=unit,
                range_low=Decimal(low),
                range_high=Decimal(high),
                resolution=Decimal(resolution),
                interval_days=365,
            )
            gauges.calibrate_gauge(
                act=self.act(KEEPER),
                gauge=gauge,
                done_on=self.today,
                unit=unit,
                as_found_error=Decimal(0),
                as_left_error=Decimal(0),
                permissible_error=Decimal(permissible),
                expanded_uncertainty=Decimal(permissible) / 4,
                certificate=f"Demo certificate {number}",
                standard="Demo reference, traceable in this story only",
            )
            self.gauges[number] = gauge

    def _name_woods(self) -> None:
        self.supplier = lots.add_supplier(act=self.act(KEEPER), name="Reedbank Timber")
        for key, name, family in (
            ("birch", "Yellow birch", "Birch, yellow"),
            ("ash", "White ash", "Ash, white"),
            ("cherry", "Black cherry", "Cherry, black"),
        ):
            self.woods[key] = lots.add_material(
                act=self.act(KEEPER),
                kind=Material.Kind.TIMBER,
                name=name,
                family=family,
                hardwood=True,
            )

    def _buy_glue(self) -> None:
        act, kinds = self.act, Material.Kind
        chandler = lots.add_supplier(act=act(KEEPER), name="Staithe Chandlery")
        resin = lots.add_material(
            act=act(KEEPER),
            kind=kinds.ADHESIVE,
            name="Fenbond resin",
            family="resorcinol",
        )
        powder = lots.add_material(
            act=act(KEEPER), kind=kinds.HARDENER, name="Fenbond powder"
        )
        self.sheet = lots.write_glue_sheet(
            act=act(KEEPER),
            adhesive=resin,
            hardener=powder,
            points=_table(),
            source="Fenbond data sheet 3 (invented for this demo)",
            parts_low=Decimal(19),
            parts_high=Decimal(21),
            spread_low_gm2=Decimal(230),
            spread_high_gm2=Decimal(400),
            pressure_low_pa=Decimal(900_000),
            pressure_high_pa=Decimal(1_350_000),
            shelf_life_days=365,
        )
        year = dt.timedelta(days=365)
        self.resin = self._receive(resin, chandler, "FB-2207", self.today + year)
        self.powder = self._receive(powder, chandler, "FP-0418", self.today + year)

    def _receive(
        self,
        material: Material,
        supplier: Supplier,
        supplier_lot: str,
        expires_on: dt.date | None = None,
    ) -> Lot:
        lot = lots.receive_lot(
            act=self.act(INSPECTOR),
            material=material,
            supplier=supplier,
            supplier_lot=supplier_lot,
            received_on=self.today,
            expires_on=expires_on,
            document=Lot.Document.T21,
        )
        lots.check_lot(
            act=self.act(INSPECTOR),
            lot=lot,
            accepted=True,
            found="As ordered; containers sound and labelled.",
            happened_at=self.clock.now,
        )
        return lot

    def receive_timber(self, wood: str, supplier_lot: str) -> Lot:
        """Take in and accept a lot of timber."""
        lot = self._receive(self.woods[wood], self.supplier, supplier_lot)
        self.timber[wood] = lot
        return lot

    def _draw(self) -> None:
        for drawing in (PULLER, PUSHER):
            design: Design = designs.add_design(
                act=self.act(KEEPER),
                model=drawing.model,
                description=drawing.description,
            )
            self.designs[drawing.model] = designs.issue_revision(
                act=self.act(KEEPER),
                design=design,
                stations=drawing.stations(),
                species=[self.woods[w] for w in drawing.woods],
                **drawing.figures,
            )


def _table() -> list[tuple[str, Decimal, Decimal]]:
    table = {
        "working_life": ((15, 240), (20, 150), (25, 90), (30, 45)),
        "open_most": ((15, 18), (20, 12), (25, 7), (30, 3)),
        "closed_least": ((15, 4), (30, 4)),
        "closed_most": ((15, 80), (20, 60), (25, 45), (30, 25)),
        "press_time": ((15, 1500), (20, 960), (25, 660), (30, 420)),
    }
    return [
        (quantity, Decimal(celsius), Decimal(minutes))
        for quantity, points in table.items()
        for celsius, minutes in points
    ]
