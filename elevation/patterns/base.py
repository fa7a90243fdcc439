"""What every pattern is: a lattice of slots, and the keys of a layout table that all patterns share."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ValidationInfo

from elevation.geom import Point, Ring
from elevation.spec import Measured, Range, Signed, Spec
from elevation.units import parse_length


@dataclass(frozen=True, slots=True)
class Slot:
    """A place in the motif for one tile.

    Attributes:
        ring: Outline in mm, counter-clockwise from its lower left corner, as long as the tile is whole.
        row: Which of the motif's level rows it stands in, from 0 at the bottom; courses are counted by it.
        upright: The tile's long side stands upright in it.
    """

    ring: Ring
    row: int = 0
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Lattice:
    """Two vectors and a motif; slot ``(i, j, k)`` is motif slot ``k`` moved by ``i * a + j * b``.

    Attributes:
        a: Step to the next cell of a course, mm; level in every pattern that has courses.
        b: Step to the next course of cells, mm.
        motif: The slots of one cell; the first has its lower left corner at (0, 0).
        rows: Level rows in the motif: the course of a slot is ``j * rows + row``.
    """

    a: Point
    b: Point
    motif: tuple[Slot, ...]
    rows: int = 1

    def straight(self) -> Lattice:
        """Return the same courses, none of them shifted against the one below."""
        return replace(self, b=(0.0, self.b[1])) if len(self.motif) == 1 else self


class At(Spec):
    """A start on something that the wall carries.

    Attributes:
        on: Its id.
        at: A joint or a tile midway on it, or a whole tile at its left, right, sill, head, bottom or top.
    """

    on: str
    at: Literal["joint", "tile", "left", "right", "sill", "head", "bottom", "top"]


class ByDatum(Spec):
    """A course line by its height above the datum.

    Attributes:
        datum: How far the course line stands above the datum, mm; below: negative.
    """

    datum: Signed


class ByWall(Spec):
    """The same level course lines as another wall, carried round by the datum.

    Attributes:
        wall: Id of that wall.
    """

    wall: str


_X = ("joint", "tile", "left", "right")
_Y = ("bottom", "top")


def _start(words: tuple[str, ...], tables: dict[str, type[Spec]], hint: str) -> BeforeValidator:
    """Return the reader of one coordinate of a start: a word, a length, or one of some tables."""

    def read(value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, Spec):
            return value
        if isinstance(value, dict):
            for key, model in tables.items():
                if key in value:
                    return model.model_validate(value, context=info.context)
            raise ValueError(f"is not a start; {hint}")
        if isinstance(value, str) and value in words:
            return value
        try:
            return float(parse_length(value, (info.context or {}).get("units", "mm")))
        except ValueError:
            raise ValueError(f"is not a start; {hint}") from None

    return BeforeValidator(read)


StartX = Annotated[
    Literal["joint", "tile", "left", "right"] | Measured | At,
    _start(_X, {"on": At}, 'write "joint", "tile", "left", "right", a length, or { on = ID, at = "joint" }'),
]
StartY = Annotated[
    Literal["bottom", "top"] | Measured | ByDatum | ByWall | At,
    _start(
        _Y,
        {"on": At, "datum": ByDatum, "wall": ByWall},
        'write "bottom", "top", a length, { datum = LENGTH }, { wall = ID }, or { on = ID, at = "sill" }',
    ),
]


class Start(Spec):
    """Where the pattern starts: one upright and one level line of it.

    Attributes:
        x: Across: ``joint``, ``tile``, ``left``, ``right``, a length, or ``{ on = ID, at = "joint" }``.
        y: Up: ``bottom``, ``top``, a length, ``{ datum = LENGTH }``, ``{ wall = ID }``, or
            ``{ on = ID, at = "sill" }``.
    """

    x: StartX
    y: StartY


def _choose_or_start(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, dict):
        return Start.model_validate(value, context=info.context)
    if value == "choose" or isinstance(value, Start):
        return value
    raise ValueError('is not a start; write "choose", or a start across and up: { x = "joint", y = "bottom" }')


class Pattern(Spec):
    """A layout table: which tile, how it is laid, and where it starts.

    Attributes:
        pattern: How the tiles are laid.
        tile: Id of the tile; left out on a niche or zone: the wall's.
        joint: Joint of this zone, mm; left out: the job's.
        start: ``choose``, or a start in x and y.
    """

    pattern: str
    tile: str | None = None
    joint: Range | None = None
    start: Annotated[Literal["choose"] | Start, BeforeValidator(_choose_or_start)] = "choose"

    @abstractmethod
    def lattice(self, length: float, width: float, joint: float) -> Lattice:
        """Return the lattice of slots.

        Args:
            length: Long side of the tile, mm.
            width: Short side of the tile, mm.
            joint: Joint between tiles, mm.
        """


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    """Return a slot's outline by its lower left corner, mm."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
