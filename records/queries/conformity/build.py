"""What a propeller is made of, as plain facts for its conformity record."""

from typing import Any

from records.models import Blank, Material
from records.queries.builds.progress import Progress
from records.queries.builds.register import mixes_of, stack_of
from records.queries.conformity.measurements import moment, number


def construction_facts(progress: Progress) -> dict[str, Any]:
    """Spell laminations, glue and pressing of a build; nothing of suppliers."""
    blank = progress.makeup.blank
    if blank is None:
        return {"laminations": [], "glue": [], "pressed": []}
    return {
        "laminations": _laminations(blank),
        "glue": _glue(blank, progress),
        "pressed": [
            {
                "load": load.number,
                "on_at": moment(load.on_at),
                "off_at": moment(load.off_at),
            }
            for load in progress.makeup.loads
        ],
    }


def _laminations(blank: Blank) -> list[dict[str, Any]]:
    return [
        {
            "place": lamination.position,
            "number": lamination.number,
            "species": lamination.board.lot.material.name,
            "thickness_mm": number(blank.revision.lamination_mm),
            "board": lamination.board.number,
            "lot": lamination.board.lot.number,
            "turned": lamination.turned,
        }
        for lamination in stack_of(blank)
    ]


def _glue(blank: Blank, progress: Progress) -> list[dict[str, Any]]:
    joints: dict[int, set[int]] = {}
    for spread in progress.makeup.spreads:
        joints.setdefault(spread.mix_id, set()).add(spread.joint)
    return [
        {
            "mix": mix.number,
            "product": mix.sheet.adhesive.name,
            "family": mix.sheet.adhesive.family,
            "hardener": _name(mix.sheet.hardener),
            "lots": [lot.number for lot in (mix.resin_lot, mix.hardener_lot) if lot],
            "joints": sorted(joints.get(mix.pk, ())),
            "mixed_at": moment(mix.mixed_at),
        }
        for mix in mixes_of(blank)
    ]


def _name(material: Material | None) -> str | None:
    return material.name if material else None
