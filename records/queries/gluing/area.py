"""The area of one joint of a blank, from the widths on the drawing."""

from collections.abc import Collection

from records.engineering.gluing import joint_area
from records.engineering.quadrature import Quadrature
from records.models import Revision, Station

_MM2_IN_M2 = 1e6


def joint_areas_mm2(revisions: Collection[Revision]) -> dict[int, float]:
    """Propose the area of one joint of each revision, by its key [mm²]: one query.

    Trapezoids from the middle, with the width at the hub, over the stations to the
    end of the blank, where the width of the last station is kept; one arm a blade.
    """
    rows: dict[int, list[tuple[float, float]]] = {r.pk: [] for r in revisions}
    stations = Station.objects.filter(revision__in=rows).order_by("radius_mm")
    for station in stations:
        row = float(station.radius_mm), float(station.blank_width_mm)
        rows[station.revision_id].append(row)
    return {r.pk: _area(r, rows[r.pk]) for r in revisions}


def _area(revision: Revision, stations: list[tuple[float, float]]) -> float:
    end = float(revision.blank_length_mm) / 2
    inside = [(r, width) for r, width in stations if 0 < r < end]
    outline = [(0.0, float(revision.blank_width_mm)), *inside]
    outline.append((end, outline[-1][1]))
    arm = joint_area(
        [radius / 1000 for radius, _ in outline],
        [width / 1000 for _, width in outline],
        Quadrature.TRAPEZOID,
    )
    return arm * revision.blades * _MM2_IN_M2
