"""What a propeller is made of, as plain facts for its conformity record."""

from typing import Any

from records.models import Material, MaterialUse, Mix
from records.queries.conformity.measurements import moment, number
from records.queries.provenance.made_of import Provenance


def construction_facts(made: Provenance) -> dict[str, Any]:
    """Spell laminations, glue, pressing and later materials; nothing of suppliers."""
    return {
        "laminations": _laminations(made),
        "glue": [_glue(mix, made) for mix in made.joint_mixes],
        "pressed": [
            {
                "load": load.number,
                "on_at": moment(load.on_at),
                "off_at": moment(load.off_at),
            }
            for load in made.loads
        ],
        "put_on_later": [_use(use) for use in made.uses],
    }


def _laminations(made: Provenance) -> list[dict[str, Any]]:
    planned = made.blank.revision if made.blank else None
    return [
        {
            "place": lamination.position,
            "number": lamination.number,
            "species": lamination.board.lot.material.name,
            "thickness_mm": number(planned.lamination_mm) if planned else None,
            "board": lamination.board.number,
            "lot": lamination.board.lot.number,
            "turned": lamination.turned,
        }
        for lamination in made.laminations
    ]


def _glue(mix: Mix, made: Provenance) -> dict[str, Any]:
    return {
        "mix": mix.number,
        "product": mix.sheet.adhesive.name,
        "family": mix.sheet.adhesive.family,
        "hardener": _name(mix.sheet.hardener),
        "lots": [lot.number for lot in (mix.resin_lot, mix.hardener_lot) if lot],
        "joints": sorted({s.joint for s in made.spreads if s.mix_id == mix.pk}),
        "mixed_at": moment(mix.mixed_at),
    }


def _use(use: MaterialUse) -> dict[str, Any]:
    put_on = use.lot or use.mix
    adhesive = use.mix.sheet.adhesive if use.mix else None
    return {
        "material": _name(use.lot.material if use.lot else adhesive),
        "number": put_on.number if put_on else None,
        "place": use.place,
        "at": moment(use.happened_at),
    }


def _name(material: Material | None) -> str | None:
    return material.name if material else None
