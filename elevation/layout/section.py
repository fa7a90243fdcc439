"""The section through the sill of a recess: what is cut through, from the finished wall to the back or the frame.

Frame, in mm: u runs from the finished face of the wall into the recess, y up from the front edge of the sill. Gaps are
those of the laid edges, so that the section shows what the elevation and the unfolded faces say. The framing under the
sill is level; the bed takes up the fall and is thickest at the back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from elevation.features import Niche, Opening
from elevation.geom import Point, Ring, arc_points, box_ring
from elevation.job.models import Job, Trim
from elevation.layout.laid import LaidFace
from elevation.wall import Recess, fall, recess_of

What = Literal["framing", "board", "bed", "tile", "joint", "shelf", "trim", "frame"]

BELOW = 50.0
"""How much of the wall under the sill, its trim and joint is shown, mm."""
ABOVE = 24.0
"""How much of the back is shown above the sill, mm."""
FRAME = 30.0
"""How deep a window frame is drawn, mm."""
_LEG = 22.0  # mm: the leg of a profile, in the bed behind the wall's tile
_BEAD = 0.6  # share of the tile's thickness that a bullnose is rounded by


@dataclass(frozen=True, slots=True)
class Solid:
    """Something that is cut through.

    Attributes:
        what: What it is; ``joint`` is sealant.
        ring: Its outline, mm.
    """

    what: What
    ring: Ring


@dataclass(frozen=True, slots=True)
class ShelfCut:
    """A shelf in the section.

    Attributes:
        name: ``s1``.
        top: Its top at the front edge, above the front edge of the sill, mm.
        thickness: Its thickness, mm.
        pitch: Its fall, mm a foot.
        fall: Its fall over the depth of the recess, mm.
        length: Clear length, jamb to jamb, mm.
        let_in: How far it goes in behind the tile at either end and at the back, mm.
    """

    name: str
    top: float
    thickness: float
    pitch: float
    fall: float
    length: float
    let_in: float


@dataclass(frozen=True, slots=True)
class Section:
    """What the section shows.

    Attributes:
        recess: The recess.
        solids: Everything cut through, what lies behind first.
        shelves: Its shelves, from below.
        windows: Heights that are shown, each a least and a most, from below; what lies between is left out.
        trim: The trim at the front of the sill.
        layers: Thickness of tile, bed, membrane and board of the sill, mm.
        end: How far the section reaches, mm.
        soft: Width of the soft joint at the back of the sill, mm.
    """

    recess: Recess
    solids: tuple[Solid, ...]
    shelves: tuple[ShelfCut, ...]
    windows: tuple[tuple[float, float], ...]
    trim: Trim | None
    layers: tuple[float, float, float, float]
    end: float
    soft: float

    def of(self, what: What) -> list[Ring]:
        """Return the outlines of one kind."""
        return [s.ring for s in self.solids if s.what == what]


def sill_section(job: Job, wall: LaidFace, faces: Sequence[LaidFace], feature: Niche | Opening) -> Section | None:
    """Return the section through the sill of a niche or tiled opening; ``None``: it has no sill.

    Args:
        job: For tiles, trims and what is behind the tile.
        wall: The wall that carries it.
        faces: The faces of the recess.
        feature: The niche or opening.
    """
    recess = recess_of(feature, wall.face)
    if recess is None or not recess.has_sill:
        return None
    return _Maker(job, wall, {f.face.kind: f for f in faces}, recess).section()


class _Maker:
    """Collects what is cut through."""

    def __init__(self, job: Job, wall: LaidFace, faces: dict[str, LaidFace], recess: Recess) -> None:
        self.job, self.wall, self.faces, self.r = job, wall, faces, recess
        room = job.room
        self.tile = job.tile[wall.face.zones[0].tile].thickness
        self.bed, self.board = room.bed, room.board
        self.membrane = room.membrane
        back = faces.get("back")
        self.back = job.tile[back.face.zones[0].tile].thickness if back is not None else 0.0
        edge = next(e for e in wall.edges if (e.border.of, e.border.side) == (recess.id, recess.names["sill"]))
        self.gap = edge.offset
        self.trim = job.trim[edge.border.trim] if edge.border.trim else None
        self.front, self.rear = (self._sill_edge(side) for side in ("front", "back"))

    def _sill_edge(self, side: str) -> float:
        """Return how far the sill's tile stays off its front or back, level, mm."""
        r = self.r
        offset = next(e.offset for e in self.faces["sill"].edges if e.border.side == side)
        return offset * r.depth / r.slope

    def sill(self, u: float) -> float:
        """Return the height of the finished sill."""
        return self.r.rise * u / self.r.depth

    def section(self) -> Section:
        """Return the section."""
        r = self.r
        soft = self._soft()
        shelves = tuple(self._shelves())
        trim_face = self.trim.face if self.trim is not None else 0.0
        low = -(BELOW + trim_face + (self.trim.joint if self.trim is not None else 0.0))
        windows = _joined([(low, r.rise + ABOVE), *(_shown(s) for s in _distinct(shelves))])
        high = windows[-1][1]
        end = r.depth + (self.back + self.bed + self.membrane + self.board if r.niche is not None else FRAME)
        solids = [*self._behind(low, high, end), *self._tiles(low, high, soft, shelves)]
        if self.trim is not None and self.trim.kind != "mitre":
            solids += self._trim(low, self.trim)
        layers = (self.tile, self.bed, self.membrane, self.board)
        return Section(r, tuple(solids), shelves, windows, self.trim, layers, end, soft)

    def _soft(self) -> float:
        if self.r.niche is None:
            return next(e.gap[0] for e in self.faces["sill"].edges if e.border.side == "back")
        return next(e.offset for e in self.faces["back"].edges if e.border.side == "sill" and not e.border.of)

    def _shelves(self) -> Iterator[ShelfCut]:
        r = self.r
        for n, shelf in enumerate(r.niche.shelf if r.niche is not None else (), 1):
            pitch = shelf.pitch if shelf.pitch is not None else r.pitch
            yield ShelfCut(
                f"s{n}", shelf.y, shelf.thickness, pitch, fall(pitch, r.depth), r.length("sill"), self.tile
            )  # fmt: skip

    def _behind(self, low: float, high: float, end: float) -> Iterator[Solid]:
        """Yield framing, board and bed."""
        r, t = self.r, self.tile
        face = t + self.bed + self.membrane  # of the wall's board
        under = -face  # top of the board under the sill
        base = under - self.board
        deep = r.depth if r.niche is None else end
        yield Solid("framing", box_ring(face + self.board, low, end - face - self.board, base - low))
        yield Solid("board", box_ring(face, base, deep - face, self.board))
        yield Solid("board", box_ring(face, low, self.board, base - low))
        bed_top = under + self.membrane
        rear = r.depth - (0.0 if r.niche is not None else self.rear)
        ring = ((t, self.sill(t) - t), (rear, self.sill(rear) - t), (rear, bed_top), (t, bed_top))
        yield Solid("bed", ring)
        yield Solid("bed", box_ring(t, low, self.bed, bed_top - low))
        if r.niche is not None:
            yield Solid("board", box_ring(end - self.board, under, self.board, high - under))
            yield Solid("bed", box_ring(r.depth + self.back, bed_top, self.bed, high - bed_top))
        else:
            yield Solid("frame", box_ring(r.depth, base, FRAME, high - base))

    def _tiles(self, low: float, high: float, soft: float, shelves: Sequence[ShelfCut]) -> Iterator[Solid]:
        """Yield tile, shelves and the sealant between them."""
        r, t = self.r, self.tile
        mitre = self.trim is not None and self.trim.kind == "mitre"
        rear = r.depth - self.rear
        inner = self.front + (t if mitre else 0.0)
        yield Solid(
            "tile",
            ((self.front, self.sill(self.front)), (rear, self.sill(rear)), (rear, self.sill(rear) - t),
             (inner, self.sill(self.front) - t)),
        )  # fmt: skip
        top = -self.gap
        yield Solid("tile", ((0.0, low), (t, low), (t, top - (t if mitre else 0.0)), (0.0, top)))
        if r.niche is None:
            yield Solid("joint", ((rear, self.sill(rear)), (r.depth, r.rise), (r.depth, r.rise - t),
                                  (rear, self.sill(rear) - t)))  # fmt: skip
            return
        # the back stands on the sill and is parted by the shelves, a soft joint at each
        stops = [r.rise]
        for s in sorted(shelves, key=lambda s: s.top):
            stops += [s.top + s.fall - s.thickness, s.top + s.fall]
        deep = r.depth + self.back
        for n, (a, b) in enumerate(pairwise([*stops, math.inf])):
            if n % 2:
                continue
            above = a + soft
            below = min(b - soft, high)
            yield Solid("joint", box_ring(r.depth, a, self.back, soft))
            if below > above:
                yield Solid("tile", box_ring(r.depth, above, self.back, below - above))
            if b < high:
                yield Solid("joint", box_ring(r.depth, b - soft, self.back, soft))
        for s in shelves:
            rise = s.fall * deep / r.depth
            low_front = s.top - s.thickness
            yield Solid("shelf", ((0.0, low_front), (deep, low_front + rise), (deep, s.top + rise), (0.0, s.top)))

    def _trim(self, low: float, trim: Trim) -> Iterator[Solid]:
        t, face = self.tile, trim.face
        if trim.kind == "bullnose":
            radius = _BEAD * min(t, face)
            nose: list[Point] = arc_points((radius, -radius), radius, math.pi / 2, math.pi / 2)
            yield Solid("trim", ((0.0, -face), (t, -face), (t, 0.0), (radius, 0.0), *nose))
            return
        yield Solid("trim", box_ring(0.0, -face, t, face))
        if trim.kind == "liner":
            return
        leg = max(low, -face - _LEG)
        yield Solid("trim", box_ring(t, leg, min(self.bed, 1.0), -leg))


def _distinct(shelves: Sequence[ShelfCut]) -> list[ShelfCut]:
    """Return one shelf of each make: those alike look alike."""
    return list({(s.thickness, s.pitch): s for s in reversed(shelves)}.values())


def _shown(shelf: ShelfCut) -> tuple[float, float]:
    return shelf.top - shelf.thickness - ABOVE, shelf.top + shelf.fall + ABOVE


def _joined(windows: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Return the heights shown, from below, those that nearly touch as one."""
    joined: list[tuple[float, float]] = []
    for low, high in sorted(windows):
        if joined and low <= joined[-1][1] + ABOVE / 2:
            joined[-1] = joined[-1][0], max(high, joined[-1][1])
        else:
            joined.append((low, high))
    return tuple(joined)
