"""What the wall stage hands on: faces, their borders as found, what is cut out of them, and their zones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from elevation.features import Meets
from elevation.geom import Point, Ring, bounds, offset_ring
from elevation.patterns import Pattern

EdgeKind = Literal["soft", "trim", "bare"]
FaceKind = Literal["wall", "back", "sill", "head", "left", "right"]
Carried = Literal["", "both", "x", "y"]

FIELD = "field"
"""Id of the main zone of every face."""


def zone_words(zone: str) -> str:
    """Return what a sheet calls a zone: ``band``, ``beyond band``; empty for the field."""
    return "" if zone == FIELD else zone.replace(f"{FIELD}.", "beyond ")


def side_words(side: str) -> str:
    """Return what a sheet calls a side, or an edge by its name: ``side 8`` of an outline, ``left``, ``w1 top``."""
    return f"side {side}" if side.isdigit() else side


def is_field(zone: str) -> bool:
    """Tell whether a zone is the field, or what of it resumes with whole tiles beyond a band: ``field.band``."""
    return zone.partition(".")[0] == FIELD


@dataclass(frozen=True, slots=True)
class Border:
    """One side of a wall, an opening or a zone, as found, before its gap is decided; mm on the face.

    Attributes:
        of: Id of what it belongs to; empty for the face itself.
        side: ``left``, ``right``, ``bottom``, ``top``, ``sill``, ``head``, a number, or ``arc``.
        line: The side as found; tile lies to the left of the way along it.
        kind: Soft joint, trim, or the bare edge of the tile.
        meets: What the tile meets there; ``None``: not said.
        joint: Soft joint, least and most.
        trim: Id of the trim that ends the tile there.
        trim_width: Face of the trim and the joint between it and the tile.
        full: Whether a whole tile is wanted there; ``None``: not said.
        behind: Tile and bed of the other wall, which runs into the corner; the joint starts at its face. Negative at
            an outside corner, where the tile runs past the side.
        hidden: How much of the tile along it is covered by the tile of the wall that laps it.
        round_corner: Id of the wall round an outside corner.
        past: At an outside corner: how far the finished corner will stand out past the side as found.
    """

    of: str
    side: str
    line: tuple[Point, ...]
    kind: EdgeKind
    meets: Meets | None
    joint: tuple[float, float]
    trim: str | None = None
    trim_width: float = 0.0
    full: bool | None = None
    behind: float = 0.0
    hidden: float = 0.0
    round_corner: str | None = None
    past: float = 0.0

    @property
    def gap(self) -> tuple[float, float]:
        """Least and most distance from the side to the tile."""
        fixed = self.behind + self.trim_width
        return self.joint[0] + fixed, self.joint[1] + fixed

    @property
    def name(self) -> str:
        """``left`` on the face itself, ``n1 sill`` on what it carries."""
        return f"{self.of} {self.side}".strip()


@dataclass(frozen=True, slots=True)
class Shape:
    """A ring and the border that each of its segments belongs to.

    Attributes:
        ring: Counter-clockwise; for a cut-out the tile lies outside it.
        borders: Index into the face's borders, one for each segment of ``ring``.
    """

    ring: Ring
    borders: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CutOut:
    """Something that takes room from the tile.

    Attributes:
        id: The feature's id.
        kind: ``niche``, ``opening``, ``fixture`` or ``hole``.
        word: What a sheet calls it: ``window``, ``tub``, ``niche``, ``hole``.
        shape: Its clear outline.
        radius: Radius of the corners in ``rounded``, as the fixture has it.
        rounded: Indices of the ring's points that are rounded.
        circle: Centre and radius of the body, when it is round.
        cover: Diameter, or width and height, of the plate that hides it.
    """

    id: str
    kind: Literal["niche", "opening", "fixture", "hole"]
    word: str
    shape: Shape
    radius: float = 0.0
    rounded: tuple[int, ...] = ()
    circle: tuple[Point, float] | None = None
    cover: float | tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class ZonePlace:
    """A zone before it is laid out.

    Attributes:
        id: ``field`` for the main zone, ``field.band`` for what of it resumes beyond zone ``band``, or the zone's id.
        tile: Id of its tile.
        pattern: Its layout table.
        joint: Grout joint, least and most, mm.
        shape: Outside of its tiles and trims; ``None`` for the field and its parts, which take what is left.
        carried: Along which axes the layout goes on from the wall's: both on a niche's back, one on a return.
        beyond: Of a part of the field: id of the zone beyond which it starts again with whole tiles.
    """

    id: str
    tile: str
    pattern: Pattern
    joint: tuple[float, float]
    shape: Shape | None = None
    carried: Carried = ""
    beyond: str = ""


@dataclass(frozen=True, slots=True)
class Face:
    """One flat piece of wall to be tiled, in its own frame: mm, origin where bottom and left sides meet.

    Attributes:
        id: ``B`` for the wall itself, ``B.n1.back`` for a face of a niche.
        wall: Id of the wall.
        of: Id of the niche or opening that it belongs to; empty for the wall itself.
        word: What the sheets call that: ``niche``, ``window``; empty for the wall itself.
        kind: The wall itself, or which face of a niche.
        title: As the sheets call it.
        outline: Its sides as found.
        borders: All borders: those of the outline first, then of cut-outs and zones.
        cutouts: What takes room from the tile.
        zones: The field first.
        datum: Where plumb line and level line cross.
        has_datum: False when the job gives none; ``datum`` is then the lower left corner.
        at: Where its origin stands in the frame of the wall.
        arcs: Arcs of the outline: centre, radius (negative: bulging into the wall), index of its border.
    """

    id: str
    wall: str
    of: str
    word: str
    kind: FaceKind
    title: str
    outline: Shape
    borders: tuple[Border, ...]
    cutouts: tuple[CutOut, ...]
    zones: tuple[ZonePlace, ...]
    datum: Point
    has_datum: bool
    at: Point = (0.0, 0.0)
    arcs: tuple[tuple[Point, float, int], ...] = ()

    @property
    def built(self) -> Ring:
        """Its outline once the walls are tiled: as found, but at an outside corner out to the finished corner."""
        past = [self.borders[i].past for i in self.outline.borders]
        return offset_ring(self.outline.ring, [-v for v in past]) if any(past) else self.outline.ring

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, most x, most y of the outline as built."""
        return bounds(self.built)

    def tile_is_outside(self, border: int) -> bool:
        """Tell whether a border belongs to a cut-out, so that the tile lies outside its ring."""
        return any(border in c.shape.borders for c in self.cutouts)

    def cutout(self, name: str) -> CutOut:
        """Return the cut-out of that id."""
        return next(c for c in self.cutouts if c.id == name)

    def zone(self, name: str) -> ZonePlace:
        """Return the zone of that id."""
        return next(z for z in self.zones if z.id == name)
