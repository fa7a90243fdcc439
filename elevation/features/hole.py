"""A valve, a spout, an arm, an outlet: a hole in the tile."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema, model_validator

from elevation.features.base import BOX_SIDES, Cutout, Feature
from elevation.geom import box_ring, circle_ring
from elevation.spec import Gap, Length, Signed, by_units, unit_of
from elevation.units import parse_length


def _plate(value: Any, info: ValidationInfo) -> tuple[float, float] | float:
    sides = value if isinstance(value, list | tuple) else [value]
    if len(sides) not in (1, 2):
        raise ValueError("is not the plate's diameter, nor its width and height in brackets")
    sizes = [float(parse_length(side, unit_of(info))) for side in sides]
    if min(sizes) <= 0:
        raise ValueError("must be more than 0")
    return sizes[0] if len(sizes) == 1 else (sizes[0], sizes[1])


Plate = Annotated[
    float | tuple[float, float],
    BeforeValidator(_plate),
    WithJsonSchema(
        {"anyOf": [{"type": "string"}, {"type": "number"}, {"type": "array", "minItems": 2, "maxItems": 2}]}
    ),
]


class Hole(Feature):
    """A hole by its centre and the size of the body that comes through it.

    Attributes:
        x: Centre from the wall's lower left corner, mm.
        y: Centre above the wall's lower left corner, mm.
        diameter: Of a round body, mm.
        width: Of a body with square corners, mm.
        height: Of a body with square corners, mm.
        gap: Left open round the body, mm.
        cover: The plate that hides it: a diameter, or width and height, mm.
    """

    x: Signed
    y: Signed
    diameter: Length | None = None
    width: Length | None = None
    height: Length | None = None
    gap: Gap = by_units("1/8", "3")
    cover: Plate | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        square = self.width is not None and self.height is not None
        if (self.diameter is None) != square or (self.diameter is not None and (self.width or self.height)):
            raise ValueError("needs a diameter, or a width and a height")
        return self

    def cutout(self) -> Cutout:
        """Return the body's outline; the gap lies outside it."""
        gap = (self.gap, self.gap)
        if self.diameter is not None:
            ring = circle_ring((self.x, self.y), self.diameter / 2)
            return Cutout(ring, ("arc",) * len(ring), {}, gap, circle=True)
        assert self.width is not None
        assert self.height is not None
        ring = box_ring(self.x - self.width / 2, self.y - self.height / 2, self.width, self.height)
        return Cutout(ring, BOX_SIDES, {}, gap)
