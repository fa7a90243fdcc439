"""What every feature is: something on a wall that takes room from the tile, borders it, or is only marked."""

from __future__ import annotations

import unicodedata
from abc import abstractmethod
from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, WithJsonSchema, model_validator

from elevation.geom import Ring, box_ring
from elevation.spec import Length, Range, Reading, Signed, Span, Spec

Meets = Literal[
    "corner", "outside", "tub", "pan", "floor", "counter", "cabinet", "ceiling", "frame", "casing", "wall", "existing"
]


_TURNS = frozenset(("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"))


def _plain(text: str) -> str:
    if any(unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") for c in text):
        raise ValueError("holds a control character (a tab, a line break or worse); write it on one line")
    if any(unicodedata.bidirectional(c) in _TURNS or ord(c) & 0xFFFE == 0xFFFE for c in text):
        raise ValueError("holds a character that turns the reading direction or is none at all; retype it by hand")
    if not text.strip():
        raise ValueError("is empty")
    if len(text) > 200:
        raise ValueError(f"is {len(text)} characters long; 200 is the most a sheet can show")
    return text


def _id(text: str) -> str:
    if not (text.isascii() and text.isalnum()) or len(text) > 12:
        raise ValueError("is not an id; 1 to 12 letters and digits, nothing else")
    return text


def _wall_id(text: str) -> str:
    if not (text.isascii() and text.isalpha()) or len(text) > 4:
        raise ValueError("is not a wall's id; 1 to 4 letters, nothing else")
    return text


Text = Annotated[str, AfterValidator(_plain)]
"""One line of text without control characters."""
Id = Annotated[str, AfterValidator(_id), WithJsonSchema({"type": "string", "pattern": "^[A-Za-z0-9]{1,12}$"})]
WallId = Annotated[str, AfterValidator(_wall_id), WithJsonSchema({"type": "string", "pattern": "^[A-Za-z]{1,4}$"})]


class Edge(Spec):
    """One side of a wall, opening or zone, and what happens there.

    Attributes:
        meets: What the tile meets; left out it is settled by the side's place.
        joint: Soft joint, least and most, mm; left out: the usual for what it meets.
        trim: Id of a trim that ends the tile there.
        full: A whole tile is wanted there.
        with_: At an outside corner: the wall round the corner (key ``with``).
        move: Not settled yet: how far this side may stand inward (negative) or outward (positive) of its place, mm;
            for a side of a wall or zone in the open, which ``choose`` then settles.
    """

    meets: Meets | None = None
    joint: Range | None = None
    trim: str | None = None
    full: bool | None = None
    with_: Annotated[str | None, Field(alias="with")] = None
    move: Span | None = None


@dataclass(frozen=True, slots=True)
class Cutout:
    """The clear shape that a feature takes from the tiled area, before any joint.

    Attributes:
        ring: Its outline on the face, mm, counter-clockwise.
        sides: Name of every segment of ``ring``: ``left``, ``sill``, ``1``; rounded corners are named ``arc``.
        edges: What the user said of the sides, by name; a missing side takes ``usual``.
        usual: Gap (least, most) of a side of which nothing is said, mm; ``None``: the usual soft joint.
        radius: Radius of the upper corners that stand clear of the wall's sides, mm; 0: square.
        circle: True when ``ring`` stands for a circle.
    """

    ring: Ring
    sides: tuple[str, ...]
    edges: dict[str, Edge]
    usual: tuple[float, float] | None = None
    radius: float = 0.0
    circle: bool = False


class Feature(Spec):
    """Something that a wall carries.

    Attributes:
        id: Letters and digits, its own on that wall.
    """

    id: Id

    @abstractmethod
    def cutout(self) -> Cutout | None:
        """Return what it takes from the tiled area, mm on the face; ``None``: nothing."""


BOX_SIDES = ("bottom", "right", "top", "left")
"""Names of a rectangle's sides, in the order of its ring."""


class Shaped(Feature):
    """A feature given as a rectangle, or by its corners when it is out of square.

    Attributes:
        x: Left side from the wall's lower left corner, mm.
        y: Lower side above the wall's lower left corner, mm.
        width: Width, mm.
        height: Height, mm.
        outline: Corners instead of x, y, width and height, mm, counter-clockwise.
        edges: What happens at its sides, by left, right, bottom, top; an outline's sides by number from 1.
    """

    x: Signed | None = None
    y: Signed | None = None
    width: Length | None = None
    height: Length | None = None
    outline: list[Reading] | None = None
    edges: dict[str, Edge] = {}

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        size = (self.x, self.y, self.width, self.height)
        if self.outline is None and None in size:
            raise ValueError("needs x, y, width and height, or an outline")
        if self.outline is not None and any(v is not None for v in size):
            raise ValueError("has an outline and also x, y, width or height; keep one of the two")
        if self.outline is not None and len(self.outline) < 3:
            raise ValueError("has an outline of fewer than three corners")
        return self

    def shape(self) -> tuple[Ring, tuple[str, ...]]:
        """Return the ring and the name of each of its sides."""
        if self.outline is not None:
            return tuple(self.outline), tuple(str(i + 1) for i in range(len(self.outline)))
        assert self.x is not None
        assert self.y is not None
        assert self.width is not None
        assert self.height is not None
        return box_ring(self.x, self.y, self.width, self.height), BOX_SIDES
