"""The job file as models, key by key. Lengths are in mm once validated."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, field_validator, model_validator

from elevation.features import CornerShelf, Edge, Fixture, Hole, Id, Niche, Opening, Text, WallId, WallMark, Zone
from elevation.job.spares import Spares
from elevation.patterns import AnyPattern
from elevation.spec import Gap, Length, Point, Range, Reading, Signed, Spec, by_units, unit_of
from elevation.units import Unit, parse_length

LEAST_SIDE, MOST_SIDE = 5.0, 4000.0
Term = Literal["slivers", "asked", "under-half", "balance", "aligned", "narrowest", "cuts", "tiles"]
TERMS: tuple[Term, ...] = get_args(Term)


def _side(value: float) -> float:
    if not LEAST_SIDE <= value <= MOST_SIDE:
        raise ValueError(f"is {value:g} mm; a tile's side is {LEAST_SIDE:g} to {MOST_SIDE:g} mm")
    return value


Side = Annotated[Length, AfterValidator(_side)]


def _chip(value: Any, info: ValidationInfo) -> Any:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise ValueError('is not the chip\'s length and width in brackets, such as ["1", "1"]')
    sides = tuple(float(parse_length(v, unit_of(info))) for v in value)
    if min(sides) <= 0:
        raise ValueError("must be more than 0")
    return sides


class Tile(Spec):
    """A tile as measured.

    Attributes:
        name: What the sheets call it.
        length: Long side, mm.
        width: Short side, mm.
        thickness: Thickness, mm.
        sampled: Tiles measured; 0: nominal.
        variation: Largest minus smallest of the samples, mm.
        edge: Pressed, rectified (ground) or natural.
        directional: A piece may not be turned half round.
        shade: Shade variation class, V0 to V4.
        warpage: Measured bow over the longest edge, mm.
        weight: Weight of a tile, in kg (metric file) or lb.
        colour: Of the tile on the homeowner's elevations, ``#rrggbb``.
        box: Tiles a box.
        chip: Mosaic: length and width of a chip, mm; the tile is then the sheet.
        spares: Spares of this tile alone, in place of the job's.
    """

    name: Text
    length: Side
    width: Side
    thickness: Length
    sampled: Annotated[int, Field(ge=0)]
    variation: Gap
    edge: Literal["pressed", "rectified", "natural"]
    box: Annotated[int, Field(ge=1)]
    directional: bool = False
    shade: Literal["V0", "V1", "V2", "V3", "V4"] | None = None
    warpage: Gap | None = None
    weight: Annotated[float, Field(gt=0, strict=False, allow_inf_nan=False)] | None = None
    colour: Annotated[str, Field(pattern=r"^#[0-9A-Fa-f]{6}$")] = "#f2efe6"
    chip: Annotated[Point, BeforeValidator(_chip)] | None = None
    spares: Spares | None = None

    @field_validator("width", mode="after")
    @classmethod
    def _long_side_first(cls, width: float, info: ValidationInfo) -> float:
        if width > info.data.get("length", width):
            raise ValueError("is more than the length; length is the long side: swap the two")
        return width


class Trim(Spec):
    """A trim: profile, bullnose, liner or mitre.

    Attributes:
        kind: Which of them.
        face: What shows of it, mm.
        joint: Between trim and tile, mm.
        height: Profile: must take tile and bed, mm.
        stock: Length as sold, mm; bullnose and liner: of a piece.
        corner: How two runs meet: mitred, butted (the more level one goes through), or at a bought corner piece.
    """

    kind: Literal["profile", "bullnose", "liner", "mitre"]
    face: Gap = 0.0
    joint: Gap = by_units("1/16", "2")
    height: Length | None = None
    stock: Length | None = None
    corner: Literal["mitre", "butt", "piece"] = "mitre"

    @model_validator(mode="after")
    def _shows(self) -> Self:
        if self.kind != "mitre" and self.face == 0:
            raise ValueError(f"is a {self.kind} and needs face, the width of it that shows")
        return self


class Room(Spec):
    """What the walls of a room have in common.

    Attributes:
        first: Walls tiled first, by id: the other wall's tile butts to their face.
        bed: Mortar under the tile, mm.
        board: Backer board, mm.
        membrane: Membrane, mm.
        to: What was measured to.
        floor: Floor tile or pan still to come under the walls' bottom, mm.
        prefer: Order of terms, the first decides.
    """

    first: list[WallId] = []
    bed: Gap = by_units("1/8", "3")
    board: Gap = by_units("1/2", "12.5 mm")
    membrane: Gap = 0.0
    to: Literal["studs", "board", "finish"] = "board"
    floor: Gap = 0.0
    prefer: list[Term] = list(TERMS)


class Arc(Spec):
    """An arc between two corners of an outline.

    Attributes:
        arc: Its radius, mm; positive bulges outward, negative inward.
    """

    arc: Signed


def _corner(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, Arc) or (isinstance(value, tuple) and all(isinstance(v, float) for v in value)):
        return value
    if isinstance(value, dict):
        return Arc.model_validate(value, context=info.context)
    if not isinstance(value, list) or len(value) != 2:
        raise ValueError('is not a corner; write ["0", "84"], or an arc between two corners, { arc = "30" }')
    return tuple(float(parse_length(v, unit_of(info))) for v in value)


Corner = Annotated[Point | Arc, BeforeValidator(_corner)]

Readings = Annotated[list[Reading], Field(min_length=1)]


class Survey(Spec):
    """A wall as found: readings from the level line and the plumb line, mm.

    Attributes:
        down: ``[x from the plumb line, distance down from the datum]`` to the wall's own bottom.
        up: The same, up to its top.
        left: ``[height above the datum, x from the plumb line]`` to its left side; right is positive.
        right: The same, to its right side.
        diagonals: Lower left to upper right, and lower right to upper left.
    """

    down: Readings
    up: Readings
    left: Readings
    right: Readings
    diagonals: Annotated[list[Length], Field(min_length=2, max_length=2)] | None = None


class Wall(Spec):
    """One flat tiled face, seen from the room.

    Attributes:
        id: Letters.
        title: As the sheets call it.
        width: Width, mm.
        height: Height, mm.
        outline: Corners instead, counter-clockwise from the lower left; an arc between two of them.
        datum: The level line above the lower left corner, mm.
        edges: What happens at its sides: left, right, bottom, top, or an outline's by number from 1.
        survey: The wall as found.
        layout: How it is tiled.
        niche: Its niches.
        opening: Its windows, doors and pass-throughs.
        fixture: What its tile stops at or goes around.
        hole: Holes for valves, spouts, arms and outlets.
        zone: Parts with their own tile, pattern or joint.
        corner_shelf: Shelves across the corner at one of its ends.
        mark: What is drawn and checked, not cut.
    """

    id: WallId
    title: Text
    width: Length | None = None
    height: Length | None = None
    outline: Annotated[list[Corner], Field(min_length=3)] | None = None
    datum: Signed | None = None
    edges: dict[str, Edge] = {}
    survey: Survey | None = None
    layout: AnyPattern
    niche: list[Niche] = []
    opening: list[Opening] = []
    fixture: list[Fixture] = []
    hole: list[Hole] = []
    zone: list[Zone] = []
    corner_shelf: list[CornerShelf] = []
    mark: list[WallMark] = []

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        size = self.width is not None and self.height is not None
        if self.outline is None and self.survey is None and not size:
            raise ValueError("needs width and height, an outline, or a survey")
        if self.outline is not None and (self.width is not None or self.height is not None or self.survey is not None):
            raise ValueError("has an outline and also a size or a survey; keep one of the two")
        return self


class Revision(Spec):
    """A line of the revision table.

    Attributes:
        mark: Its number or letter.
        date: Its date.
        note: What changed.
    """

    mark: Text
    date: Text | datetime.date
    note: Text


def _empty() -> Any:
    """Return an empty table, so that the defaults inside are read in the file's unit."""
    return {}


class Job(Spec):
    """A whole job.

    Attributes:
        title: What the sheets call the job.
        units: Unit of a bare number: ``in`` or ``mm``.
        joint: Grout joint, mm; or a range, least and most, that ``choose`` may use.
        sliver: No cut narrower than this, mm.
        tile: The tiles, by id.
        wall: The walls, in order round the room, left to right.
        step: Sheets round to this, mm.
        tape: How far off a reading may be, mm.
        kerf: What the saw takes, mm.
        reuse: Whether what is left of a cut tile may make another piece.
        sawn_joints: Whether a sawn edge may stand at a grout joint; left out, only factory edges do.
        spares: Tiles bought beyond what is set.
        room: What the walls of the room have in common.
        trim: The trims, by id.
        number: Job number.
        client: For whom.
        address: Where.
        prepared_by: By whom.
        date: Date on the sheets; left out: none is shown.
        revision: Lines of the revision table.
    """

    title: Text
    units: Unit
    joint: Range
    sliver: Length
    tile: Annotated[dict[Id, Tile], Field(min_length=1)]
    wall: Annotated[list[Wall], Field(min_length=1)]
    step: Length = by_units("1/16", "1")
    tape: Gap = by_units("1/16", "2")
    kerf: Gap = by_units("1/8", "3")
    reuse: bool = True
    sawn_joints: bool = False
    spares: Spares = Spares()
    room: Room = Field(default_factory=_empty)
    trim: dict[Id, Trim] = {}
    number: Text | None = None
    client: Text | None = None
    address: Text | None = None
    prepared_by: Text | None = None
    date: Text | datetime.date | None = None
    revision: list[Revision] = []

    def wall_by_id(self, wall: str) -> Wall:
        """Return the wall of that id; the loader has made sure that there is one where the file names it."""
        return next(w for w in self.wall if w.id == wall)

    def neighbour(self, wall: str, end: Literal["left", "right"]) -> Wall | None:
        """Return the wall round the inside corner at one end of a wall; ``None``: there is none.

        Walls stand in order round the room, left to right; the last one meets the first where there are three or more.
        A side that is trimmed, or meets something else than a corner, makes none.
        """
        place = next(i for i, w in enumerate(self.wall) if w.id == wall)
        step = -1 if end == "left" else 1
        if len(self.wall) < 2 or (len(self.wall) == 2 and place + step not in (0, 1)):
            return None
        other = self.wall[(place + step) % len(self.wall)]
        sides = self.wall[place].edges.get(end), other.edges.get("right" if end == "left" else "left")
        inside = all(e is None or (e.trim is None and e.meets in (None, "corner")) for e in sides)
        return other if inside else None
