"""The resorcinol bulletin that is kept in shared/, as a glue sheet.

Source: glue maker's bulletin for a 5:1 resorcinol glue, reprinted in a public aircraft
construction manual (Falco construction manual, App. D, rev. 4, 2002).
"""

import csv
from decimal import Decimal
from pathlib import Path

from records.engineering.units import convert
from tests import factories

FILE = Path(__file__).parents[1] / "shared" / "glue_manufacturer_bulletins.csv"
QUANTITIES = {
    "working_life": "working_life",
    "max_open_assembly": "open_most",
    "max_closed_assembly": "closed_most",
}
MINUTES = {"h": 60, "min": 1}


def rows(glue="RF G-1131"):
    lines = [x for x in FILE.read_text().splitlines() if not x.startswith("#")]
    return [row for row in csv.DictReader(lines) if row["glue"] == glue]


def points():
    """Give the rows as quantity, °F, °C to a tenth and minutes, as printed."""
    return [
        (
            QUANTITIES[row["quantity"]],
            row["temp_f"],
            Decimal(row["temp_c"]),
            Decimal(row["value"]) * MINUTES[row["unit"]],
        )
        for row in rows()
        if row["quantity"] in QUANTITIES
    ]


def resorcinol_sheet():
    """Write the bulletin's tables, 5:1 by mass, 50 to 70 lb/1000 ft2, 25 to 250 psi."""
    sheet = factories.GlueSheetFactory(
        source="maker's bulletin, Falco construction manual App. D rev. 4",
        adhesive__family="resorcinol",
        parts_low=20,
        parts_high=20,
        spread_low_gm2=round(convert(Decimal(50), "lb/1000ft2", "g/m2"), 1),
        spread_high_gm2=round(convert(Decimal(70), "lb/1000ft2", "g/m2"), 1),
        pressure_low_pa=round(convert(Decimal(25), "psi", "Pa")),
        pressure_high_pa=round(convert(Decimal(250), "psi", "Pa")),
        points={},
    )
    for quantity, _, celsius, minutes in points():
        factories.GlueSheetPointFactory(
            sheet=sheet, quantity=quantity, temperature_c=celsius, minutes=minutes
        )
    return sheet
