"""How much glue to weigh for the joints of a stack that are not closed yet."""

from records.engineering.gluing import divide_batch
from records.models import Blank, GlueSheet
from records.queries.gluing.area import joint_areas_mm2
from records.queries.gluing.mixes import joints_of, sheets_in_force
from records.spelling.numbers import plain
from records.spelling.quantities import in_unit

_MM2_IN_M2 = 1e6
_TWO = 2


def batches_for(blank: Blank) -> list[str]:
    """Say for each glue in use what the open joints of a blank take."""
    closed = {spread.joint for spread in joints_of(blank)}
    still = blank.revision.laminations - 1 - len(closed)
    if still < 1:
        return []
    area = joint_areas_mm2([blank.revision])[blank.revision_id] / _MM2_IN_M2
    return [_batch(sheet, area, still) for sheet in sheets_in_force()]


def _batch(sheet: GlueSheet, area_m2: float, joints: int) -> str:
    spread = float(sheet.spread_low_gm2 + sheet.spread_high_gm2) / _TWO
    total = spread * area_m2 * joints
    ratio = float(sheet.parts_low + sheet.parts_high) / _TWO
    parts = divide_batch(total, ratio)
    lines = f"{joints} joint{'s' if joints > 1 else ''} of {area_m2:.3f} m²"
    span = f"{plain(sheet.spread_low_gm2)} to {in_unit(sheet.spread_high_gm2, 'g/m2')}"
    return (
        f"{sheet.adhesive}: about {in_unit(float(total), 'g')} for {lines} in the "
        f"middle of {span}, "
        f"{in_unit(float(parts.resin_g), 'g')} resin and "
        f"{in_unit(float(parts.hardener_g), 'g')} hardener or water. "
        "What stays in pot and brush comes on top."
    )
