"""What the search knows of a zone: its judged edges, how far each may move, and what of its start is open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from elevation.features import Niche
from elevation.job.models import Job
from elevation.layout.laid import LaidEdge
from elevation.layout.regions import facing_of
from elevation.layout.spans import LEVEL, ZoneOutline
from elevation.layout.terms import Rules, rules_of
from elevation.patterns import Lattice
from elevation.wall import Face, ZonePlace

_TRUE = 1e-9
SIDE = "side "
"""Before the name of a side that may move; no id has a space in it."""


@dataclass(frozen=True, slots=True)
class Move:
    """How far a niche, or a side of the wall in the open, may move: least and most, to the right and up, mm.

    Attributes:
        name: Id of the niche; of a side ``side left``, which is no id.
        x: Least and most to the right.
        y: Least and most upwards.
        upright: Its upright borders.
        level: Its level borders.
        carries: Whether the start across, which is given, goes with it.
    """

    name: str
    x: tuple[float, float]
    y: tuple[float, float]
    upright: frozenset[int]
    level: frozenset[int]
    carries: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """A zone that the search lays out, or that has a say in where the courses of others lie.

    Attributes:
        face: Its face.
        zone: The zone.
        joint: Grout joint, mm.
        lattice: One level slot a cell.
        outline: Its region with every edge at its least gap.
        rules: What its terms need to know.
        x: Its start across, when that is given; ``None``: open.
        y: The same, up.
        base: What its course lines are reckoned from: the datum where walls share them, mm on the face.
        slack: By border: how far a range lets the edge open, mm.
        hidden: By border: strip that the tile of another wall hides, mm.
        moves: Niches, and sides of the wall, that may move.
        beyond: Parts of the field that start again beyond a band: each has one coordinate from its band, and the other
            from this zone.
    """

    face: Face
    zone: ZonePlace
    joint: float
    lattice: Lattice
    outline: ZoneOutline
    rules: Rules
    x: float | None
    y: float | None
    base: float
    slack: Mapping[int, float]
    hidden: Mapping[int, float]
    moves: tuple[Move, ...] = field(default=())
    beyond: tuple[Plot, ...] = ()

    @property
    def parts(self) -> tuple[Plot, ...]:
        """The zone and its parts beyond bands."""
        return self, *self.beyond

    @property
    def id(self) -> tuple[str, str]:
        """Face and zone."""
        return self.face.id, self.zone.id

    @property
    def is_stacked(self) -> bool:
        """Tell whether every course has its upright joints over the same line."""
        lean = self.lattice.b[0] / self.lattice.a[0]
        return abs(lean - round(lean)) < _TRUE


def is_searchable(lattice: Lattice) -> bool:
    """Tell whether the search can lay a lattice: one slot a cell, a rectangle that lies level, in level courses."""
    if len(lattice.motif) != 1 or abs(lattice.a[1]) > _TRUE or lattice.rows != 1:
        return False
    ring = lattice.motif[0].ring
    return len(ring) == 4 and ring[0] == (0.0, 0.0) and ring[2] == (ring[1][0], ring[3][1]) and ring[1][1] == 0.0


def make_plot(
    job: Job, face: Face, edges: Sequence[LaidEdge], n: int, outline: ZoneOutline, lattice: Lattice, joint: float,
    *, x: float | None, y: float | None, base: float, opens: bool,
) -> Plot:  # fmt: skip
    """Return the plot of zone ``n`` of a face.

    Args:
        job: The job.
        face: The face.
        edges: Its edges at their least gap.
        n: Which zone.
        outline: The zone's outline.
        lattice: Its lattice.
        joint: Its joint, mm.
        x: Its start across, if given.
        y: Its start up, if given.
        base: What course lines are reckoned from, mm.
        opens: Whether ranges of edges wait for this zone's courses (the field), or are decided (other zones).
    """
    zone = face.zones[n]
    rules = rules_of(job, face, zone, outline, lattice, fixed=(x is not None, y is not None))
    lean = lattice.b[0] / lattice.a[0]
    columns = abs(lean - round(lean)) < _TRUE
    slack = {}
    if opens:
        for i, edge in enumerate(edges):
            room = _slack(edge)
            if room > 1e-9 and (columns or facing_of(edge.border.line) in LEVEL):
                slack[i] = room
    hidden = {i: e.border.hidden for i, e in enumerate(edges) if e.border.hidden}
    moves = _moves(job, face) if n == 0 and not face.of else ()
    if x is not None:
        moves = tuple(_beside_start(m, zone.pattern.start) for m in moves)
        moves = tuple(m for m in moves if (m.x, m.y) != ((0.0, 0.0), (0.0, 0.0)))
    return Plot(face, zone, joint, lattice, outline, rules, x, y, base, slack, hidden, moves)


def _beside_start(move: Move, start: Any) -> Move:
    """Return what is left of a move on a wall whose start across is given.

    A side from which the start is reckoned takes the start along. One between which it is midway stays, and so do
    niches, sideways.
    """
    side = move.name.removeprefix(SIDE)
    if move.name == side or start.x in ("joint", "tile"):
        return replace(move, x=(0.0, 0.0), upright=frozenset())
    return replace(move, carries=start.x == side)


def _slack(edge: LaidEdge) -> float:
    """Return how far a range lets an edge open beyond its tightest place, mm."""
    border = edge.border
    least, most = border.gap
    if most - least <= 1e-9 or border.side == "arc":
        return 0.0
    axis = 1 if facing_of(border.line) in LEVEL else 0
    found = [p[axis] for p in border.line]
    out_of_true = max(found) - min(found)
    if edge.line is None and out_of_true > 1e-9:
        return 0.0
    return most - least - out_of_true


def _moves(job: Job, face: Face) -> tuple[Move, ...]:
    found = []
    wall = job.wall_by_id(face.wall)
    for niche in wall.niche:
        if niche.move is None or (niche.move.x == (0.0, 0.0) and niche.move.y == (0.0, 0.0)):
            continue
        x, y = _kept_in_bay(niche), niche.move.y
        shape = face.cutout(niche.id).shape
        level = frozenset(b for b in shape.borders if facing_of(face.borders[b].line) in LEVEL)
        found.append(Move(niche.id, x, y, frozenset(shape.borders) - level, level))
    for side, edge in wall.edges.items():
        if edge.move is not None and edge.move != (0.0, 0.0):
            borders = frozenset(i for i in face.outline.borders if face.borders[i].side == side)
            least, most = edge.move if side in ("right", "top") else (-edge.move[1], -edge.move[0])
            still: frozenset[int] = frozenset()
            if side in ("left", "right"):
                found.append(Move(f"{SIDE}{side}", (least, most), (0.0, 0.0), borders, still))
            else:
                found.append(Move(f"{SIDE}{side}", (0.0, 0.0), (least, most), still, borders))
    return tuple(found)


def _kept_in_bay(niche: Niche) -> tuple[float, float]:
    """Return how far a niche may move to the sides without leaving its bay of studs."""
    assert niche.move is not None
    least, most = niche.move.x
    if niche.bay is not None and niche.bay[0] <= niche.x and niche.x + niche.width <= niche.bay[1]:
        least = max(least, niche.bay[0] - niche.x)
        most = min(most, niche.bay[1] - niche.x - niche.width)
    return least, most
