"""The faces of a niche and of a tiled return: back, sill, head and jambs, each in a frame of its own.

A recess is unfolded round its back: the sill hangs below it, the head stands above it, a jamb lies on either side, so
that every face keeps the edge it shares with the back. Frames, in mm:

* back: x along the width, y up from where the sloping sill meets it;
* sill: x along the width, y from the front edge up the slope to the back;
* head: x along the width, y from the back to the front edge;
* left jamb: x from the front edge to the back; right jamb: x from the back to the front edge; y up, origin at the
  lower left corner of the face.

Each inside corner of the recess has one soft joint: the back carries those round it, the jambs stand on the sill, the
head fits between the jambs. At the front edge a return stops behind the wall's tile, where that laps or a trim
stands at the corner; it runs out to the finished face where the return laps or the two are mitred.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from elevation.errors import JobError, Problem
from elevation.features import Edge, Niche, Opening
from elevation.features.base import BOX_SIDES
from elevation.geom import EPS, Point, Ring, box_ring
from elevation.job.models import Job, Wall
from elevation.patterns import Pattern
from elevation.wall.edges import SOFT
from elevation.wall.face import Border, Carried, CutOut, Face, FaceKind, Shape, ZonePlace

FOOT = 304.8


@dataclass(frozen=True, slots=True)
class Recess:
    """A niche or a tiled opening, as its faces need it; mm on the wall.

    Attributes:
        id: Id of the niche or opening.
        word: What the sheets call it.
        x: Left side of the clear opening.
        y: Front edge of the sill.
        width: Clear width.
        height: Clear height at the front.
        depth: Finished wall face to back, or to the frame.
        rise: How much higher the sill is at the back.
        lap: Whose tile shows its edge.
        edges: By sill, head, left, right.
        niche: The niche, when it is one: it has a back.
    """

    id: str
    word: str
    x: float
    y: float
    width: float
    height: float
    depth: float
    rise: float
    lap: str
    edges: dict[str, Edge]
    niche: Niche | None

    @property
    def slope(self) -> float:
        """True length of the sloping sill, front to back."""
        return float((self.depth**2 + self.rise**2) ** 0.5)


def recess_of(feature: Niche | Opening) -> Recess | None:
    """Return the recess of a niche or of an opening with a depth; ``None``: it has no faces of its own.

    Raises:
        ValueError: An opening by its outline that is not four-sided: its returns cannot be told apart.
    """
    if isinstance(feature, Niche):
        e = feature.edges
        edges = {"sill": e.sill, "head": e.head, "left": e.left, "right": e.right}
        return Recess(
            id=feature.id,
            word="niche",
            x=feature.x,
            y=feature.y,
            width=feature.width,
            height=feature.height,
            depth=feature.depth,
            rise=feature.pitch * feature.depth / FOOT,
            lap=feature.lap,
            edges=edges,
            niche=feature,
        )
    if feature.depth is None:
        return None
    if feature.outline is not None:
        raise ValueError("has an outline and a depth; returns are drawn of openings with x, y, width and height only")
    assert feature.x is not None
    assert feature.y is not None
    assert feature.width is not None
    assert feature.height is not None
    names = {"sill": "bottom", "head": "top", "left": "left", "right": "right"}
    edges = {new: feature.edges.get(old, Edge()) for new, old in names.items()}
    rise = 0.0 if feature.kind == "door" else feature.pitch * feature.depth / FOOT
    return Recess(
        id=feature.id,
        word=feature.kind,
        x=feature.x,
        y=feature.y,
        width=feature.width,
        height=feature.height,
        depth=feature.depth,
        rise=rise,
        lap=feature.lap,
        edges=edges,
        niche=None,
    )


def recess_faces(job: Job, wall: Wall, wall_face: Face) -> Iterator[Face]:
    """Yield the faces of every niche and tiled opening of a wall: back, sill, head, left, right.

    Raises:
        JobError: A return cannot be drawn.
    """
    features: list[Niche | Opening] = [*wall.niche, *wall.opening]
    for feature in features:
        try:
            recess = recess_of(feature)
        except ValueError as error:
            raise JobError([Problem(f'wall "{wall.id}", opening "{feature.id}"', str(error))]) from error
        if recess is not None:
            yield from _faces(job, wall, wall_face, recess)


def _faces(job: Job, wall: Wall, wall_face: Face, r: Recess) -> Iterator[Face]:
    maker = _Maker(job, wall, wall_face, r)
    soft = (SOFT[job.units],) * 2
    bare = (0.0, 0.0)
    back_gap = bare if r.niche is not None else soft
    if r.niche is not None:
        ring = ((0.0, 0.0), (r.width, 0.0), (r.width, r.height - r.rise), (0.0, r.height - r.rise))
        gaps = dict.fromkeys(("sill", "right", "head", "left"), soft)
        yield maker.face("back", ring, ("sill", "right", "head", "left"), gaps, (r.x, r.y + r.rise), "both")
    left, _, right, _ = wall_face.bounds
    has_left, has_right = r.x > left + EPS, r.x + r.width < right - EPS
    if r.word != "door":
        ring = ((0.0, 0.0), (r.width, 0.0), (r.width, r.slope), (0.0, r.slope))
        gaps = {"front": maker.front("sill"), "right": bare, "back": back_gap, "left": bare}
        yield maker.face("sill", ring, ("front", "right", "back", "left"), gaps, (r.x, r.y), "x")
    ring = ((0.0, 0.0), (r.width, 0.0), (r.width, r.depth), (0.0, r.depth))
    ends = [soft if there else bare for there in (has_right, has_left)]
    gaps = {"back": back_gap, "right": ends[0], "front": maker.front("head"), "left": ends[1]}
    yield maker.face("head", ring, ("back", "right", "front", "left"), gaps, (r.x, r.y + r.height), "x")
    foot = soft if r.word != "door" else bare
    if has_left:
        ring = ((0.0, 0.0), (r.depth, r.rise), (r.depth, r.height), (0.0, r.height))
        gaps = {"sill": foot, "back": back_gap, "head": bare, "front": maker.front("left")}
        yield maker.face("left", ring, ("sill", "back", "head", "front"), gaps, (r.x - r.depth, r.y), "y")
    if has_right:
        ring = ((0.0, 0.0), (r.depth, -r.rise), (r.depth, r.height - r.rise), (0.0, r.height - r.rise))
        gaps = {"sill": foot, "front": maker.front("right"), "head": bare, "back": back_gap}
        yield maker.face("right", ring, ("sill", "front", "head", "back"), gaps, (r.x + r.width, r.y + r.rise), "y")


class _Maker:
    """Makes the faces of one recess."""

    def __init__(self, job: Job, wall: Wall, wall_face: Face, recess: Recess) -> None:
        self.job, self.wall, self.wall_face, self.recess = job, wall, wall_face, recess

    def layout(self, kind: FaceKind) -> Pattern:
        """Return the layout of a face: the niche's own on its back, the wall's on every return."""
        own = self.recess.niche.layout if self.recess.niche is not None and kind == "back" else None
        return own or self.wall.layout

    def front(self, side: str) -> tuple[float, float]:
        """Return the gap between a return's tile and the finished face of the wall, mm."""
        edge = self.recess.edges[side]
        thickness = self.job.tile[self.wall.layout.tile or ""].thickness
        if edge.trim is not None:
            trim = self.job.trim[edge.trim]
            # a mitred tile runs out to the corner; behind any other trim the wall's tile is in the way
            return (trim.joint if trim.kind == "mitre" else thickness + trim.joint,) * 2
        if self.recess.lap == "return":
            return (0.0, 0.0)
        return (thickness + (self.wall.layout.joint or self.job.joint)[0],) * 2

    def shelves(self, kind: FaceKind, first: int) -> tuple[tuple[CutOut, ...], tuple[Border, ...]]:
        """Return what the niche's shelves take from a face, and their borders, counted on from ``first``.

        A shelf runs from jamb to jamb and from the back to the front, and falls towards the room as the sill does: the
        back and the jambs stop a soft joint above and below it.
        """
        r, soft = self.recess, (SOFT[self.job.units],) * 2
        cutouts: list[CutOut] = []
        borders: list[Border] = []
        for n, shelf in enumerate(r.niche.shelf if r.niche is not None else (), 1):
            low, high = shelf.y - shelf.thickness, shelf.y
            if kind == "back":
                ring = box_ring(0.0, low, r.width, shelf.thickness)
            elif kind in ("left", "right"):
                lift = r.rise if kind == "left" else -r.rise
                ring = ((0.0, low), (r.depth, low + lift), (r.depth, high + lift), (0.0, high))
            else:
                continue
            places = tuple(range(first + len(borders), first + len(borders) + 4))
            cutouts.append(CutOut(f"s{n}", "fixture", "shelf", Shape(ring, places)))
            borders += [
                Border(f"s{n}", side, (ring[i], ring[(i + 1) % 4]), "soft", None, soft)
                for i, side in enumerate(BOX_SIDES)
            ]
        return tuple(cutouts), tuple(borders)

    def face(
        self, kind: FaceKind, ring: Ring, sides: tuple[str, ...], gaps: dict[str, tuple[float, float]], at: Point,
        carried: Carried,
    ) -> Face:  # fmt: skip
        """Return one face; ``at`` is where its origin stands on the wall when the recess is unfolded."""
        borders = tuple(
            Border(
                of="",
                side=side,
                line=(ring[i], ring[(i + 1) % len(ring)]),
                kind="soft" if side != "front" and gaps[side][1] > 0 else "bare",
                meets="corner" if side != "front" and gaps[side][1] > 0 else None,
                joint=gaps[side],
            )
            for i, side in enumerate(sides)
        )
        cutouts, edges = self.shelves(kind, len(borders))
        layout = self.layout(kind)
        own_start = layout is not self.wall.layout and layout.start != "choose"
        joint = layout.joint or self.wall.layout.joint or self.job.joint
        zone = ZonePlace(
            "field", layout.tile or self.wall.layout.tile or "", layout, joint, carried="" if own_start else carried
        )
        face = self.wall_face
        return Face(
            id=f"{self.wall.id}.{self.recess.id}.{kind}", wall=self.wall.id, of=self.recess.id, kind=kind,
            title=f"{self.wall.title}, {self.recess.word} {self.recess.id}, {_WORDS[kind]}",
            outline=Shape(ring, tuple(range(len(sides)))), borders=(*borders, *edges), cutouts=cutouts, zones=(zone,),
            datum=(face.datum[0] - at[0], face.datum[1] - at[1]), has_datum=face.has_datum, at=at,
        )  # fmt: skip


_WORDS = {"back": "back", "sill": "sill", "head": "head", "left": "left jamb", "right": "right jamb", "wall": ""}
