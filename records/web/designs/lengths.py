"""A length on a drawing, in millimetres or with another unit."""

from decimal import Decimal
from typing import Any

from records.engineering.units import convert
from records.web.shared.fields import QuantityField

MICROMETRE = Decimal("0.001")


class LengthField(QuantityField):
    """A length such as "1720" or "68 in"; gives millimetres, to a micrometre."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(unit="mm", **kwargs)

    def clean(self, value: Any) -> Decimal | None:
        """Read the length and convert it; a drawing is kept to a micrometre."""
        length = super().clean(value)
        if length is None:
            return None
        number, unit = length
        return convert(number, unit, "mm").quantize(MICROMETRE)
