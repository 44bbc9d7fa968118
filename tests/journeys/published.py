"""A shop stocked with figures that nobody made up for it, each with its source.

What no public text gives (bore, torque, care) is the demo's; nothing is checked on it.
"""

import csv
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from records.engineering.units import convert
from records.management.demo.drawings import PULLER
from records.management.demo.workshop import INSPECTOR, KEEPER
from records.models import Blank, Material, Mix, Press, Revision
from records.services import designs, lots
from records.services.pressing import loads as pressing
from tests import bulletin

SHARED = Path(__file__).parents[2] / "shared"
IN = Decimal("25.4")
MODEL = "68 x 48"

# p = 2 pi r tan(beta) with D 68 in, p 48 in: r/R, and degrees as printed.
ANGLES = {
    "0.30": "36.832",
    "0.45": "26.533",
    "0.60": "20.530",
    "0.75": "16.677",
    "0.90": "14.018",
}
# Chord 0.08 of the diameter: the example of constant chord at heli-air.net.
CHORD_MM = Decimal("0.08") * 68 * IN
# A blank of 72 x 6 in under four rams of 3 in: p = P n (pi/4) d^2 / A.
LENGTH_MM, WIDTH_MM, BORE_MM = 72 * IN, 6 * IN, 3 * IN


@dataclass
class Job:
    """The shop that does the job, and what it makes."""

    told: Any
    design: Revision
    blank: Blank
    mix: Mix | None = None


def table(name):
    """Read a table of shared/, without its heading of sources."""
    lines = (SHARED / name).read_text().splitlines()
    return list(csv.DictReader(x for x in lines if not x.startswith("#")))


def row_of(name, **wanted):
    """Find the one row of a table that has these cells."""
    [row] = [r for r in table(name) if wanted.items() <= r.items()]
    return row


def thickness_mm():
    """Give Clark Y's greatest thickness: classical ordinates, 11.7 % of the chord."""
    rows = table("clark_y_ordinates.csv")
    most = max(Decimal(row["thickness_mem"]) for row in rows)
    return (CHORD_MM * most / 100).quantize(Decimal("0.01"))


def psi(pounds):
    """Turn psi into Pa."""
    return round(convert(Decimal(pounds), "psi", "Pa"))


def grams(pounds):
    """Turn lb/1000 ft² into g/m²."""
    return round(convert(Decimal(pounds), "lb/1000ft2", "g/m2"), 1)


def stock(told):
    """Put published wood, glue, drawing and press in the shop."""
    shop = told.workshop
    birch = Material.objects.get(family="Birch, yellow")
    shop.woods["birch"] = birch
    shop.sheet = resorcinol_sheet(told)
    shop.resin = received(told, shop.sheet.adhesive)
    shop.powder = received(told, shop.sheet.hardener)
    shop.designs[MODEL] = drawn(told, birch)
    shop.press = pressing.add_press(
        act=told.act(KEEPER),
        name="Four rams",
        kind=Press.Kind.RAMS,
        rams=4,
        bore_mm=BORE_MM,
    )


def resorcinol_sheet(told):
    """Copy the maker's bulletin, with AC 43.13-1B's pressure for hardwood (1-10).

    5:1 by mass; 50 to 60 lb/1000 ft² on a single glue line of dense wood.
    """
    resin = add(told, "adhesive", "Resorcinol resin", family="resorcinol")
    return lots.write_glue_sheet(
        act=told.act(KEEPER),
        adhesive=resin,
        hardener=add(told, "hardener", "Powder hardener"),
        points=[(q, c, minutes(m)) for q, _, c, m in bulletin.points()],
        source="Maker's bulletin in a public construction manual, App. D rev. 4 (2002)",
        parts_low=Decimal(20),
        parts_high=Decimal(20),
        spread_low_gm2=grams(50),
        spread_high_gm2=grams(60),
        pressure_low_pa=psi(150),
        pressure_high_pa=psi(200),
        shelf_life_days=365,
    )


def urea_sheet(told):
    """Copy the urea resin's times: the clamp times doubled, as it asks for laminating.

    Its two spreads, 100 to 150 g/m² of hardener on 200 to 400 g/m² of resin, give the
    ratio; it names no pressure, so the resorcinol range stands in: nothing rests on it.
    """
    rows = bulletin.rows("UF Aerolite 306 / GBQ.X")
    times = {"assembly_time": ("closed_most", 1), "min_clamp_time": ("press_time", 120)}
    points = [
        (quantity, Decimal(r["temp_c"]), minutes(Decimal(r["value"]) * unit))
        for r in rows
        if "-" not in r["value"]
        for quantity, unit in [times[r["quantity"]]]
    ]
    return lots.write_glue_sheet(
        act=told.act(KEEPER),
        adhesive=add(told, "adhesive", "Urea resin", family="urea"),
        hardener=add(told, "hardener", "Acid hardener"),
        points=points,
        source="Maker's bulletin in a public construction manual, App. D rev. 4 (2002)",
        parts_low=Decimal(25),
        parts_high=Decimal(75),
        spread_low_gm2=Decimal(200),
        spread_high_gm2=Decimal(400),
        pressure_low_pa=psi(150),
        pressure_high_pa=psi(200),
        shelf_life_days=365,
    )


def minutes(time):
    """Spell a time as the sheet keeps it."""
    return time.quantize(Decimal("0.1"))


def add(told, kind, name, family=""):
    """Put a material in the book."""
    return lots.add_material(act=told.act(KEEPER), kind=kind, name=name, family=family)


def received(told, material):
    """Take in a container and accept it."""
    act = told.act(INSPECTOR)
    lot = lots.receive_lot(
        act=act,
        material=material,
        supplier=told.workshop.supplier,
        supplier_lot="1",
        received_on=told.workshop.today,
        expires_on=told.workshop.today.replace(year=told.workshop.today.year + 1),
    )
    lots.check_lot(
        act=told.act(INSPECTOR),
        lot=lot,
        accepted=True,
        found="Sound.",
        happened_at=told.clock.now,
    )
    lot.refresh_from_db()
    return lot


def drawn(told, wood):
    """Draw the propeller of 68 x 48 in on SAE 2: six bolts on 4.75 in, 1/2 in."""
    figures = PULLER.figures | {
        "diameter_mm": 68 * IN,
        "pitch_mm": 48 * IN,
        "reference_station_mm": Decimal("0.75") * 34 * IN,
        "laminations": 5,
        "lamination_mm": Decimal("20.5"),
        "blank_length_mm": LENGTH_MM,
        "blank_width_mm": WIDTH_MM,
        "bolt_circle_mm": Decimal("4.75") * IN,
        "bolt_hole_mm": Decimal("0.5") * IN,
    }
    return designs.issue_revision(
        act=told.act(KEEPER),
        design=designs.add_design(act=told.act(KEEPER), model=MODEL),
        stations=[station(ratio, angle) for ratio, angle in ANGLES.items()],
        species=[wood],
        **figures,
    )


def station(ratio, angle):
    """Write a station as the table gives it: tolerances of Barber, c. 1917.

    Blade width within 1/8 in, pitch angle within 1/2 degree (The Aeroplane Speaks).
    """
    return {
        "radius_mm": Decimal(ratio) * 34 * IN,
        "angle_deg": Decimal(angle),
        "angle_tolerance_deg": Decimal("0.5"),
        "chord_mm": CHORD_MM.quantize(Decimal("0.01")),
        "chord_tolerance_mm": IN / 8,
        "thickness_mm": thickness_mm(),
        "thickness_tolerance_mm": Decimal("0.25"),
        "blank_width_mm": WIDTH_MM,
    }
