"""What a press gauge shows, as pressure at the glue line."""

from records.engineering.pressing import bag_pressure, ram_pressure
from records.engineering.pressing_screws import screw_pressure
from records.models import Press, PressLoad

_MM2 = 1e-6
_MM = 1e-3


def shown_by(press: Press) -> str:
    """Name the quantity that a press shows: a pressure, or for screws a torque."""
    return "torque" if press.kind == Press.Kind.SCREWS else "pressure"


def glue_line_pressure(load: PressLoad, shown_si: float) -> float:
    """Compute the mean pressure at the glue line of a load [Pa].

    `shown_si` is what the gauge shows [Pa], or for screws the torque on each [N.m].
    Raises ValueError when a figure is out of its range.
    """
    press = load.press
    area = float(load.glued_area_mm2) * _MM2
    if press.kind == Press.Kind.BAG:
        ratio = float(press.bag_area_ratio or 0)
        return bag_pressure(shown_si, area * ratio, area)
    count, bore = int(press.rams or 0), float(press.bore_mm or 0) * _MM
    if press.kind == Press.Kind.RAMS:
        return ram_pressure(shown_si, count, bore, area)
    return screw_pressure(shown_si, count, bore, float(press.nut_factor or 0), area)
