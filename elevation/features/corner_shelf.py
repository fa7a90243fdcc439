"""A shelf across an inside corner of two walls, let into the tile of both."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from elevation.features.base import Feature
from elevation.spec import Length, Range, Signed, by_units, unit_of
from elevation.units import parse_length


def _legs(value: Any, info: ValidationInfo) -> tuple[float, float]:
    given = value if isinstance(value, list | tuple) else [value, value]
    if len(given) != 2:
        raise ValueError("is not one length for both legs, nor two in brackets: along this wall, along its neighbour")
    along, round_corner = (float(parse_length(leg, unit_of(info))) for leg in given)
    if min(along, round_corner) <= 0:
        raise ValueError("must be more than 0")
    return along, round_corner


Legs = Annotated[
    tuple[float, float],
    BeforeValidator(_legs),
    WithJsonSchema(
        {"anyOf": [{"type": "string"}, {"type": "number"}, {"type": "array", "minItems": 2, "maxItems": 2}]}
    ),
]


class CornerShelf(Feature):
    """A shelf across the corner at one end of a wall; it is written on one of the two walls and cut out of both.

    The neighbour is the wall before or after this one in the order round the room. The shelf goes through the tile to
    what was measured to, so its legs are measured from the corner as found, and tile stops a joint above it, below it
    and at its tips. It stands at one height on both walls, carried by the level line, or from the lower left corners
    where neither has a datum.

    Attributes:
        corner: Which end of this wall: left or right.
        y: Its top above the wall's lower left corner, mm.
        leg: Along this wall and along its neighbour, mm; one length for both.
        thickness: Its own thickness, mm.
        joint: Soft joint round it, least and most, mm.
        front: Straight (a triangle) or round (a quarter circle, or a quarter of an oval with unlike legs).
    """

    corner: Literal["left", "right"]
    y: Signed
    leg: Legs
    thickness: Length
    joint: Range = by_units("1/8", "3")
    front: Literal["straight", "round"] = "straight"

    def cutout(self) -> None:
        """Return nothing: what it takes depends on where the wall ends, and its neighbour; see ``wall.shelves``."""
