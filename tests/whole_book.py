"""A small shop written only through its services, so that its book is whole."""

import datetime as dt
import io
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from django.utils import timezone
from PIL import Image

from records.models import Board, Lot, Material, Person
from records.services import boards, gauges, lots
from records.services.ledger import Act
from records.services.people.accounts import add_person, make_set_up_link, set_up_shop
from tests.credentials import PASSWORD

NAME = "Test Airscrew Works"


@dataclass(frozen=True)
class Photo:
    """A photo as a telephone sends it."""

    data: bytes
    name: str = "lot.jpg"


@dataclass(frozen=True)
class Book:
    """Who writes, and what was written."""

    act: Act
    lot: Lot
    boards: list[Board]

    @property
    def owner(self) -> Person:
        return self.act.by

    def write(self, name: str, **act: Any) -> Any:
        """Write one more entry."""
        return lots.add_supplier(act=replace(self.act, **act), name=name)


def photo(colour: str = "tan") -> Photo:
    output = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(output, "JPEG")
    return Photo(output.getvalue())


def open_shop(at: dt.datetime) -> Act:
    """Set up a shop by its link, as its owner does."""
    owner = set_up_shop(
        token=make_set_up_link(at),
        at=at,
        shop_name=NAME,
        base_url="http://localhost:8000",
        name="Shop Owner",
        login="owner",
        password=PASSWORD,
    )
    return Act(by=owner, at=at)


def write_book(at: dt.datetime | None = None) -> Book:
    """Write people, a lot with a photo, its boards, a lamination and a gauge."""
    at = at or timezone.now()
    act = open_shop(at)
    add_person(
        act=act,
        login="maker",
        name="Shop Maker",
        role=Person.Role.MAKER,
        password=PASSWORD,
    )
    birch = lots.add_material(
        act=act,
        kind=Material.Kind.TIMBER,
        name="Yellow birch",
        family="Birch, yellow",
        hardwood=True,
    )
    day = timezone.localdate(at)
    lot = lots.receive_lot(act=act, material=birch, received_on=day)
    lots.check_lot(
        act=act,
        lot=lot,
        accepted=True,
        found='Straight, "clear", 8 % moisture; =HYPERLINK("x")',
        happened_at=at,
        photo=photo(),
    )
    made = boards.add_boards(act=act, lot=lot, count=3, width_mm=Decimal("190.0"))
    boards.inspect_board(
        act=act,
        board=made[0],
        rings="quarter",
        defects=[],
        accepted=True,
        happened_at=at,
    )
    made[0].refresh_from_db()
    boards.saw_lamination(act=act, board=made[0], mass_g=Decimal("3150.5"))
    gauges.add_gauge(
        act=act,
        number="G01",
        name="Steel rule",
        unit="mm",
        range_low=Decimal(0),
        range_high=Decimal(2000),
        resolution=Decimal("0.5"),
        interval_days=365,
    )
    return Book(act, lot, made)
