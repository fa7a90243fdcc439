"""The faces of a niche and of a tiled return: back, sill, head and jambs, each in a frame of its own.

A recess is unfolded round its back: the sill hangs below it, the head stands above it, a jamb lies on either side, so
that every face keeps the edge it shares with the back. Frames, in mm:

* back: x along the width, y up from where the sloping sill meets it;
* sill: x along the width, y from the front edge up the slope to the back;
* head: x along the width, y from the back to the front edge;
* left jamb: x from the front edge to the back; right jamb: x from the back to the front edge; y up, origin at the
  lower left corner of the face.

Each inside corner of the recess has one soft joint: the back carries those round it, the jambs stand on the sill, the
head fits between the jambs; returns without a back carry the one at the frame. At the front edge a return stops behind
the wall's tile, where that laps or a trim stands at the corner; it runs out to the finished face where the return
laps, and nearly so where the two are mitred. Where a recess runs into a corner of the room its jamb lies in the plane
of the other wall, whose tile goes on into it, and starts at the finished face too.
"""

from __future__ import annotations

from collections.abc import Iterator

from elevation.errors import JobError, Problem
from elevation.features import Meets, Niche, Opening
from elevation.features.base import BOX_SIDES
from elevation.geom import Point, Ring, box_ring
from elevation.job.models import Job, Wall
from elevation.patterns import Pattern
from elevation.wall.edges import SOFT
from elevation.wall.face import Border, Carried, CutOut, Face, FaceKind, Shape, ZonePlace
from elevation.wall.recess import AGAINST, Recess, fall, recess_of


def recess_faces(job: Job, wall: Wall, wall_face: Face) -> Iterator[Face]:
    """Yield the faces of every niche and tiled opening of a wall: back, sill, head, left, right.

    Raises:
        JobError: A return cannot be drawn.
    """
    features: list[Niche | Opening] = [*wall.niche, *wall.opening]
    for feature in features:
        try:
            recess = recess_of(feature, wall_face)
        except ValueError as error:
            raise JobError([Problem(f'wall "{wall.id}", opening "{feature.id}"', str(error))]) from error
        if recess is not None:
            yield from _faces(job, wall, wall_face, recess)


def _faces(job: Job, wall: Wall, wall_face: Face, r: Recess) -> Iterator[Face]:
    maker = _Maker(job, wall, wall_face, r)
    (ax, ay), (bx, by), _, (dx, dy) = r.corners
    soft = maker.soft("corner")
    if r.niche is not None:
        ring = box_ring(0.0, 0.0, r.length("sill"), r.length("left") - r.rise)
        sides = dict.fromkeys(("sill", "right", "head", "left"), soft)
        yield maker.face("back", ring, sides, (ax, ay + r.rise), "both")
    if r.has_sill:
        sides = {"front": maker.front("sill"), "right": _BARE, "back": maker.back("sill"), "left": _BARE}
        yield maker.face("sill", box_ring(0.0, 0.0, r.length("sill"), r.slope), sides, (ax, ay), "x")
    sides = {"back": maker.back("head"), "right": soft, "front": maker.front("head"), "left": soft}
    yield maker.face("head", box_ring(0.0, 0.0, r.length("head"), r.depth), sides, (dx, dy), "x")
    foot = soft if r.has_sill else _BARE
    ring = ((0.0, 0.0), (r.depth, r.rise), (r.depth, r.length("left")), (0.0, r.length("left")))
    sides = {"sill": foot, "back": maker.back("left"), "head": _BARE, "front": maker.front("left")}
    yield maker.face("left", ring, sides, (ax - r.depth, ay), "y")
    tall = r.length("right") - r.rise
    ring = ((0.0, 0.0), (r.depth, -r.rise), (r.depth, tall), (0.0, tall))
    sides = {"sill": foot, "front": maker.front("right"), "head": _BARE, "back": maker.back("right")}
    yield maker.face("right", ring, sides, (bx, by + r.rise), "y")


class _Side:
    """What is at one side of a face."""

    __slots__ = ("behind", "joint", "meets")

    def __init__(self, meets: Meets | None, joint: tuple[float, float], behind: float = 0.0) -> None:
        self.meets, self.joint, self.behind = meets, joint, behind


_BARE = _Side(None, (0.0, 0.0))


class _Maker:
    """Makes the faces of one recess."""

    def __init__(self, job: Job, wall: Wall, wall_face: Face, recess: Recess) -> None:
        self.job, self.wall, self.wall_face, self.recess = job, wall, wall_face, recess

    def layout(self, kind: FaceKind) -> Pattern:
        """Return the layout of a face: the niche's own on its back, the wall's on every return."""
        own = self.recess.niche.layout if self.recess.niche is not None and kind == "back" else None
        return own or self.wall.layout

    def soft(self, meets: Meets) -> _Side:
        """Return a side with the usual soft joint."""
        return _Side(meets, (SOFT[self.job.units],) * 2)

    def back(self, side: str) -> _Side:
        """Return what the back of a return meets: a niche's back, which has the joint, or the frame."""
        if self.recess.niche is not None:
            return _BARE
        edge = self.recess.edges[side]
        if edge.meets not in AGAINST:
            return self.soft("frame")
        return _Side(edge.meets, edge.joint) if edge.joint is not None else self.soft(edge.meets)

    def front(self, side: str) -> _Side:
        """Return what stands between a return's tile and the finished face of the wall."""
        if side in self.recess.into:
            return _BARE
        edge = self.recess.edges[side]
        thickness = self.job.tile[self.wall.layout.tile or ""].thickness
        if edge.trim is not None:
            trim = self.job.trim[edge.trim]
            # a mitred tile runs out to the corner; behind any other trim the wall's tile is in the way
            return _Side(None, (trim.joint,) * 2, 0.0 if trim.kind == "mitre" else thickness)
        if self.recess.lap == "return":
            return _BARE
        return _Side(None, ((self.wall.layout.joint or self.job.joint)[0],) * 2, thickness)

    def shelves(self, kind: FaceKind, first: int) -> tuple[tuple[CutOut, ...], tuple[Border, ...]]:
        """Return what the niche's shelves take from a face, and their borders, counted on from ``first``.

        A shelf is let in behind the tile of back and jambs, which stop a soft joint above and below it. It ends in the
        plane of the wall, and falls towards the room by its own pitch or, without one, as the sill does.
        """
        r, soft = self.recess, self.soft("corner")
        cutouts: list[CutOut] = []
        borders: list[Border] = []
        for n, shelf in enumerate(r.niche.shelf if r.niche is not None else (), 1):
            lift = fall(shelf.pitch if shelf.pitch is not None else r.pitch, r.depth)
            # the frames of back and right jamb stand on the back of the sill, the left jamb's on its front edge
            low, high = shelf.y - shelf.thickness, shelf.y
            if kind == "back":
                ring = box_ring(0.0, low + lift - r.rise, r.length("sill"), shelf.thickness)
            elif kind == "left":
                ring = ((0.0, low), (r.depth, low + lift), (r.depth, high + lift), (0.0, high))
            elif kind == "right":
                ends = low - r.rise, low + lift - r.rise
                thick = shelf.thickness
                ring = ((0.0, ends[1]), (r.depth, ends[0]), (r.depth, ends[0] + thick), (0.0, ends[1] + thick))
            else:
                continue
            places = tuple(range(first + len(borders), first + len(borders) + 4))
            cutouts.append(CutOut(f"s{n}", "fixture", "shelf", Shape(ring, places)))
            borders += [
                Border(f"s{n}", side, (ring[i], ring[(i + 1) % 4]), "soft", soft.meets, soft.joint)
                for i, side in enumerate(BOX_SIDES)
            ]
        return tuple(cutouts), tuple(borders)

    def face(self, kind: FaceKind, ring: Ring, sides: dict[str, _Side], at: Point, carried: Carried) -> Face:
        """Return one face.

        Args:
            kind: Which.
            ring: Its outline, mm in its frame.
            sides: What is at each of its sides, in the order of the ring.
            at: Where its origin stands on the wall when the recess is unfolded.
            carried: Along which axes the layout goes on from the wall's.
        """
        borders = tuple(
            Border(
                of="",
                side=side,
                line=(ring[i], ring[(i + 1) % len(ring)]),
                kind="soft" if there.meets is not None and there.joint[1] > 0 else "bare",
                meets=there.meets,
                joint=there.joint,
                behind=there.behind,
            )
            for i, (side, there) in enumerate(sides.items())
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
            id=f"{self.wall.id}.{self.recess.id}.{kind}", wall=self.wall.id, of=self.recess.id, word=self.recess.word,
            kind=kind,
            title=f"{self.wall.title}, {self.recess.word} {self.recess.id}, {_WORDS[kind]}",
            outline=Shape(ring, tuple(range(len(sides)))), borders=(*borders, *edges), cutouts=cutouts, zones=(zone,),
            datum=(face.datum[0] - at[0], face.datum[1] - at[1]), has_datum=face.has_datum, at=at,
        )  # fmt: skip


_WORDS = {"back": "back", "sill": "sill", "head": "head", "left": "left jamb", "right": "right jamb", "wall": ""}
