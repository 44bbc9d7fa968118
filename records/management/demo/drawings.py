"""Two invented designs. Their figures fly nothing: they are for looking at."""

import math
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from records.models import Revision

CARE = (
    "Keep flat and level, dry, in the shade, in its bag; not on a tip, not heated. "
    "Leave it level when the engine is stopped."
)
DAMAGE = (
    "Take out of service with any crack across the grain, any opened glue line, "
    "a loose tip or edge, scorched hub faces or oval bolt holes, and ask the maker."
)
COMMON: dict[str, Any] = {
    "number": "A",
    "reason": "First issue",
    "design_authority": "Saltmarsh Airscrew Works, drawing office",
    "basis": Revision.Basis.EXPERIMENTAL,
    "blades": 2,
    "torque_dry": True,
    "torque_sequence": "Opposite pairs, in three rounds, by torque wrench.",
    "retorque": "After the first flight, after 10 h, every 50 h, and when the "
    "season changes.",
    "finish_system": "Three coats of clear varnish",
    "care": CARE,
    "damage_limits": DAMAGE,
}


@dataclass(frozen=True, slots=True)
class Drawing:
    """An invented design and its table, spaced evenly by pitch."""

    model: str
    description: str
    woods: tuple[str, ...]
    radii_mm: tuple[int, ...]
    chords_mm: tuple[int, ...]
    thicknesses_mm: tuple[str, ...]
    widths_mm: tuple[int, ...]
    figures: dict[str, Any] = field(default_factory=dict)

    def stations(self) -> list[dict[str, Any]]:
        """Give the station table: the angle of the design pitch at each radius."""
        return [
            {
                "radius_mm": Decimal(radius),
                "angle_deg": self._angle(radius),
                "angle_tolerance_deg": Decimal("0.5"),
                "chord_mm": Decimal(chord),
                "chord_tolerance_mm": Decimal(3),
                "thickness_mm": Decimal(thickness),
                "thickness_tolerance_mm": Decimal("0.5"),
                "blank_width_mm": Decimal(width),
            }
            for radius, chord, thickness, width in zip(
                self.radii_mm,
                self.chords_mm,
                self.thicknesses_mm,
                self.widths_mm,
                strict=True,
            )
        ]

    def _angle(self, radius_mm: int) -> Decimal:
        pitch = float(self.figures["pitch_mm"])
        angle = math.degrees(math.atan2(pitch, 2 * math.pi * radius_mm))
        return Decimal(f"{angle:.2f}")


PULLER = Drawing(
    model="Curlew 60",
    description="Two-blade tractor for light amateur-built aeroplanes",
    woods=("birch", "cherry"),
    radii_mm=(190, 305, 420, 535, 650, 720),
    chords_mm=(128, 140, 136, 120, 95, 74),
    thicknesses_mm=("42", "29", "20.5", "14.5", "10", "8"),
    widths_mm=(150, 148, 144, 130, 110, 92),
    figures={
        **COMMON,
        "drawing": "C60 sheet 1",
        "hand": Revision.Hand.RIGHT,
        "mounting": Revision.Mounting.TRACTOR,
        "diameter_mm": Decimal(1524),
        "pitch_mm": Decimal(1016),
        "reference_station_mm": Decimal(535),
        "laminations": 7,
        "lamination_mm": Decimal("14.5"),
        "blank_length_mm": Decimal(1560),
        "blank_width_mm": Decimal(152),
        "hub_thickness_mm": Decimal(98),
        "hub_diameter_mm": Decimal(150),
        "bore_mm": Decimal(36),
        "bolt_circle_mm": Decimal("101.6"),
        "bolt_holes": 6,
        "bolt_hole_mm": Decimal("8.1"),
        "max_rpm": 2900,
        "max_power_kw": Decimal("48.5"),
        "bolt": "8 mm, strength class 8.8",
        "torque_low_nm": Decimal(13),
        "torque_high_nm": Decimal(15),
        "face_plate_mm": Decimal(140),
        "edge_protection": "Polyurethane strip along the outer third",
    },
)

PUSHER = Drawing(
    model="Bittern 52",
    description="Two-blade pusher for airboats and light trikes",
    woods=("ash",),
    radii_mm=(165, 265, 365, 465, 565, 625),
    chords_mm=(118, 128, 124, 110, 88, 68),
    thicknesses_mm=("38", "26", "18", "13", "9", "7.5"),
    widths_mm=(138, 136, 132, 120, 100, 84),
    figures={
        **COMMON,
        "drawing": "B52 sheet 1",
        "hand": Revision.Hand.LEFT,
        "mounting": Revision.Mounting.PUSHER,
        "diameter_mm": Decimal(1321),
        "pitch_mm": Decimal(762),
        "reference_station_mm": Decimal(465),
        "laminations": 5,
        "lamination_mm": Decimal(18),
        "blank_length_mm": Decimal(1350),
        "blank_width_mm": Decimal(140),
        "hub_thickness_mm": Decimal(86),
        "hub_diameter_mm": Decimal(140),
        "bore_mm": Decimal(30),
        "bolt_circle_mm": Decimal(75),
        "bolt_holes": 6,
        "bolt_hole_mm": Decimal("8.1"),
        "max_rpm": 3300,
        "max_power_kw": Decimal(37),
        "bolt": "8 mm, strength class 8.8",
        "torque_low_nm": Decimal(12),
        "torque_high_nm": Decimal(14),
        "face_plate_mm": Decimal(120),
    },
)
