"""The conformity record's fields 22 to 28: what was measured at release."""

from collections.abc import Sequence

from records.documents.charts import limit_strip
from records.documents.form import OPEN, Cell, Section, Table
from records.documents.spelling import (
    Fact,
    Speller,
    figure,
    joined,
    length,
    limit,
    plain_day,
    short_figure,
    verdict,
)
from records.spelling.quantities import pressure


def measured(facts: Fact) -> Section:
    """Fields 22 to 28: readings at release with limits and verdicts."""
    spell, seen = Speller(facts), facts["measured"]
    return Section(
        "Measured at release",
        [
            [
                Cell(
                    "22",
                    "Blade angles, by station and blade (odd blades filled, even open)",
                    table=_angles(facts),
                )
            ],
            [
                Cell(
                    "23",
                    "Track, and where it was measured",
                    _measuring_point(seen),
                    table=_track(seen),
                ),
                Cell("24", "Balance, residual", table=_figures(seen["unbalance"])),
            ],
            [
                Cell("25", "Moisture and room", _room(seen, spell), share=4),
                Cell("26", "Length; chord and thickness", _shape(seen), share=6),
            ],
            [Cell("", "Further readings", table=_further(seen))],
            [Cell("27", "Coupons of the glue", table=_coupons(facts))],
            [Cell("28", "Instruments, and their calibration", table=_gauges(facts))],
        ],
    )


def _angles(facts: Fact) -> Table:
    seen = facts["measured"]
    blades = range(1, facts["design"]["blades"] + 1)
    at = {(r["station_mm"], r["blade"]): r for r in seen["angle"]}
    between = {r["station_mm"]: r for r in seen["angle_difference"]}
    rows = []
    for station in facts["design"]["stations"]:
        radius = station["radius_mm"]
        read = [_angle(at.get((radius, blade))) for blade in blades]
        drawn = f"{station['angle_deg']}° ± {station['angle_tolerance_deg']}°"
        here = [r for blade in blades if (r := at.get((radius, blade)))]
        apart = _angle(between.get(radius))
        rows.append([length(radius), drawn, *read, apart, _strip(here)])
    named = [f"Blade {b}" for b in blades]
    head = ["Station", "Drawing", *named, "Between blades", "In tolerance"]
    return Table(head, rows, shares=[6, 6, *(6 for _ in blades), 8, 5])


def _strip(readings: Sequence[Fact]) -> str:
    """Draw readings of one limit between its sides, the first of them filled."""
    if not readings:
        return ""
    low, high = readings[0]["least"], readings[0]["most"]
    figures = [float(r["judged"]) for r in readings if r["judged"] is not None]
    return limit_strip(
        figures,
        float(low) if low is not None else None,
        float(high) if high is not None else None,
    )


def _angle(reading: Fact | None) -> str:
    if reading is None:
        return "not read"
    between = reading["blade"] is None and reading["most"] is not None
    held = f" (limit {reading['most']}°)" if between else ""
    return f"{short_figure(reading)}{held} {verdict(reading)}"


def _track(seen: Fact) -> Table:
    tips = [[f"Blade {r['blade']}", figure(r), OPEN, r["point"]] for r in seen["tip"]]
    total = [[r["name"], figure(r), limit(r), verdict(r)] for r in seen["track"]]
    head = ["", "Figure", "Limit", "Verdict"]
    return Table(head, [*tips, *total] or [[OPEN] * 4], shares=[2, 4, 4, 2])


def _measuring_point(seen: Fact) -> list[str]:
    return sorted({r["how"] for r in [*seen["tip"], *seen["track"]] if r["how"]})


def _figures(readings: Sequence[Fact]) -> Table:
    rows = [[r["name"], figure(r), limit(r), verdict(r), _strip([r])] for r in readings]
    head = ["", "Figure", "Limit", "Verdict", ""]
    return Table(head, rows or [[OPEN] * 5], shares=[5, 6, 7, 3, 4])


def _further(seen: Fact) -> Table:
    rows = [
        [
            r["stage"],
            joined(
                [r["name"], f"blade {r['blade']}" if r["blade"] else "", r["point"]]
            ),
            figure(r),
            limit(r) if r["least"] or r["most"] else OPEN,
            verdict(r),
        ]
        for r in seen["further"]
    ]
    head = ["Stage", "", "Figure", "Limit", "Verdict"]
    return Table(head, rows or [[OPEN] * 5], shares=[3, 5, 5, 5, 2])


def _room(seen: Fact, spell: Speller) -> list[str]:
    wood = [f"Wood {short_figure(r)}" for r in seen["moisture"]]
    room = [f"room {short_figure(r)} relative humidity" for r in seen["humidity"][:1]]
    heat = [f"room {figure(r)}" for r in seen["temperature"][:1]]
    on = [spell.day(r["read_at"]) for r in seen["moisture"][:1]]
    return [joined([*wood, *room, *heat, *on])]


def _shape(seen: Fact) -> list[str]:
    lengths = [
        f"{'Blade ' + str(r['blade']) if r['blade'] else r['name']}: {figure(r)}"
        + (f", limit {limit(r)}, {verdict(r)}" if r["most"] is not None else "")
        for r in seen["length"]
    ]
    return [
        *lengths,
        _summary("Chord", seen["chord"]),
        _summary("Thickness", seen["thickness"]),
    ]


def _summary(name: str, readings: Sequence[Fact]) -> str:
    if not readings:
        return f"{name}: held on file"
    inside = sum(r["verdict"] == "inside" for r in readings)
    accepted = sum(r["accepted_by_concession"] for r in readings)
    also = f", {accepted} accepted: see 29" if accepted else ""
    return f"{name}: {len(readings)} readings, {inside} inside{also}; held on file"


def _coupons(facts: Fact) -> Table:
    rows = [
        [
            c["coupon"],
            c["mix"],
            f"{c['age_h']} h",
            f"{c['wood_failure_pct']} % (at least {c['least_wood_failure_pct']} %)",
            _strength(c),
            c["verdict"],
        ]
        for c in facts["coupons"]
    ]
    head = ["Coupon", "Mix", "Age", "Wood failure", "Shear strength", "Verdict"]
    return Table(head, rows or [[OPEN] * 6], shares=[2, 2, 2, 4, 5, 2])


def _strength(coupon: Fact) -> str:
    if coupon["strength_pa"] is None:
        return "not measured"
    strength = pressure(float(coupon["strength_pa"]))
    if coupon["least_strength_pa"] is None:
        return strength
    return f"{strength}, at least {pressure(float(coupon['least_strength_pa']))}"


def _gauges(facts: Fact) -> Table:
    rows = [
        [
            g["gauge"],
            g["name"],
            plain_day(g["calibrated_on"]),
            plain_day(g["due_on"]),
            plain_day(g["last_read_on"]),
        ]
        for g in facts["instruments"]
    ]
    head = ["Number", "Instrument", "Calibrated", "Due again", "Last used"]
    return Table(head, rows or [[OPEN] * 5], shares=[2, 6, 3, 3, 3])
