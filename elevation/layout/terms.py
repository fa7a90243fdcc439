"""The terms by which one start is better than another, each defined once, on one record: the cut of an edge.

The cut of an edge is the least length of tile behind it along its inward normal, over the pieces that it cuts; there
is none if it cuts none. Sizes are as shown. Less of a term is better, but for ``narrowest``, of which more is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import NamedTuple

from elevation.job.models import Job, Term
from elevation.layout.spans import LEVEL, Side, ZoneOutline
from elevation.patterns import Lattice
from elevation.wall import Border, Face, ZonePlace

NOISE = 1e-6
"""Lengths that differ by less than this, mm, are the same number: float noise."""
HALF = 0.5
_UPRIGHT = 0.1  # an edge that leans more is meant to


class EdgeCut(NamedTuple):
    """What an edge of a region does to the tile along it.

    Attributes:
        edge: Name of the border: ``left``, ``n1 sill``.
        direction: On which side of the tile it lies: bottom, top, left or right.
        size: Least length of tile behind it, mm; ``None``: it cuts no tile.
        courses: How many courses it cuts.
        across: Distance to the edge opposite, mm: no piece between the two can be larger.
    """

    edge: str
    direction: Side
    size: float | None
    courses: int
    across: float


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms of a start; see the package's issue of words in ``elevation explain``.

    Attributes:
        slivers: Edges cut narrower than the limit.
        asked: Edges where a whole tile is wanted and is not.
        under_half: Edges cut under half the tile in that direction.
        balance: Difference of the two upright ends, mm; an uncut end counts as a whole tile; 0 for ends not alike. A
            strip narrower than a tile, beside a window, says nothing of an end that has wider places.
        aligned: Edges of niches and openings that are not on a joint.
        narrowest: The smallest cut as a share of the tile in that direction, floored to the step, at most one half;
            edges that no start can change and pieces that reach from edge to edge are left out.
        cuts: Pieces that need the saw; ``None``: not counted.
        tiles: Tiles used; ``None``: not counted.
    """

    slivers: int = 0
    asked: int = 0
    under_half: int = 0
    balance: float = 0.0
    aligned: int = 0
    narrowest: float = HALF
    cuts: int | None = None
    tiles: int | None = None

    def __add__(self, other: Terms) -> Terms:
        """Return the terms of two zones together: sums, and of the two narrowest the less."""
        return Terms(
            self.slivers + other.slivers,
            self.asked + other.asked,
            self.under_half + other.under_half,
            self.balance + other.balance,
            self.aligned + other.aligned,
            min(self.narrowest, other.narrowest),
            _sum(self.cuts, other.cuts),
            _sum(self.tiles, other.tiles),
        )

    def value(self, term: Term) -> float:
        """Return a term by its name in the job file; what was not counted counts 0."""
        return getattr(self, term.replace("-", "_")) or 0

    def key(self, prefer: Sequence[Term]) -> tuple[float, ...]:
        """Return what starts are sorted by: the first of ``prefer`` decides, less is better."""
        return tuple(-round(self.narrowest, 9) if t == "narrowest" else round(self.value(t), 6) for t in prefer)

    def by_name(self) -> dict[str, float | int | None]:
        """Return all terms by their names in the job file."""
        return {f.name.replace("_", "-"): getattr(self, f.name) for f in fields(self)}


def _sum(a: int | None, b: int | None) -> int | None:
    return None if a is None or b is None else a + b


@dataclass(frozen=True, slots=True)
class Rules:
    """What the terms of one zone need to know besides its edge cuts.

    Attributes:
        width: Width of a slot, mm.
        height: Height of a slot, mm.
        sliver: No cut narrower than this, mm.
        step: ``narrowest`` is floored to this, mm.
        asked: Edges where a whole tile is wanted.
        left: Edges that are the left end.
        right: Edges that are the right end.
        alike: Whether the two ends are alike, so that their balance counts.
        features: Edges of niches and openings.
        fixed_x: No start can change the cuts on upright edges.
        fixed_y: No start can change the cuts on level edges.
    """

    width: float
    height: float
    sliver: float
    step: float
    asked: frozenset[str]
    left: frozenset[str]
    right: frozenset[str]
    alike: bool
    features: frozenset[str]
    fixed_x: bool = False
    fixed_y: bool = False

    def tile(self, side: Side) -> float:
        """Return the size of the tile square to an edge, mm."""
        return self.height if side in LEVEL else self.width

    def share(self, size: float, side: Side) -> float:
        """Return a cut as a share of the tile, floored to the step, at most one half."""
        floored = math.floor(size / self.step + NOISE) * self.step
        return min(HALF, floored / self.tile(side))


def rules_of(
    job: Job, face: Face, zone: ZonePlace, outline: ZoneOutline, lattice: Lattice, *, fixed: tuple[bool, bool]
) -> Rules:
    """Return the rules of a zone; ``fixed`` tells whether its start is given across and up."""
    ring = lattice.motif[0].ring
    left, right = _ends(outline)
    by_name = {b.name: b for b in face.borders}
    lefts, rights = [by_name[n] for n in sorted(left)], [by_name[n] for n in sorted(right)]
    # a trim on the border of another zone ends that zone's tile, not this one's
    others = {z.id for z in face.zones if z.shape is not None and z.id != zone.id}
    asked = {b.name for b in face.borders if b.full and b.of not in others}
    asked |= {n for n in _trimmed_ends(lefts, rights) | _trimmed_ends(rights, lefts) if by_name[n].of not in others}
    kinds = {c.id: c.kind for c in face.cutouts}
    features = {b.name for b in face.borders if kinds.get(b.of) in ("niche", "opening")}
    return Rules(
        width=ring[2][0] - ring[0][0],
        height=ring[2][1] - ring[0][1],
        sliver=job.sliver,
        step=job.step,
        asked=frozenset(asked),
        left=left,
        right=right,
        alike=bool(left and right) and {_sort(b) for b in lefts} == {_sort(b) for b in rights},
        features=frozenset(features),
        fixed_x=fixed[0],
        fixed_y=fixed[1],
    )


def _ends(outline: ZoneOutline) -> tuple[frozenset[str], frozenset[str]]:
    """Return the names of the edges that are the left and the right end of a region."""
    x0, _, x1, _ = outline.region.bounds
    # a rake or a steep ceiling that comes down to an end is none itself
    left = [s for s in outline.spans if s.side == "left" and s.lean <= _UPRIGHT]
    right = [s for s in outline.spans if s.side == "right" and s.lean <= _UPRIGHT]
    return (
        frozenset(s.edge for s in left if min(min(t.at_start, t.at_end) for t in s.near) <= x0 + 1),
        frozenset(s.edge for s in right if max(max(t.at_start, t.at_end) for t in s.near) >= x1 - 1),
    )


def _sort(border: Border) -> tuple[str, str | None]:
    """Return what makes two ends alike."""
    meets = border.meets if border.meets is not None else ("" if border.kind == "trim" else "corner")
    return meets, border.trim


def _trimmed_ends(ends: Sequence[Border], others: Sequence[Border]) -> set[str]:
    """Return the trimmed ends where a whole tile is wanted although nobody said so: the other end is a corner."""
    if not others or any(b.meets != "corner" for b in others):
        return set()
    return {b.name for b in ends if b.kind == "trim" and b.full is None}


def terms_of(records: Sequence[EdgeCut], rules: Rules, cuts: int | None = None, tiles: int | None = None) -> Terms:
    """Return the terms of a start from the cuts of its edges.

    Args:
        records: One for each judged edge.
        rules: Of the zone.
        cuts: Pieces that need the saw, when they were counted.
        tiles: Tiles used, when they were counted.
    """
    slivers = asked = under = aligned = 0
    ends: Mapping[str, list[tuple[float, bool]]] = {"left": [], "right": []}
    narrowest = HALF
    for record in records:
        tile = rules.tile(record.direction)
        size = record.size
        for side, names in (("left", rules.left), ("right", rules.right)):
            if record.direction == side and record.edge in names:
                ends[side].append((tile if size is None else size, record.across >= tile))
        if size is None:
            continue
        slivers += size < rules.sliver - NOISE
        under += size < tile / 2 - NOISE
        asked += record.edge in rules.asked
        aligned += record.edge in rules.features
        fixed = rules.fixed_y if record.direction in LEVEL else rules.fixed_x
        if not fixed and size < record.across - NOISE:
            narrowest = min(narrowest, rules.share(size, record.direction))
    balance = 0.0
    if rules.alike and ends["left"] and ends["right"]:
        balance = abs(_end(ends["left"]) - _end(ends["right"]))
    return Terms(slivers, asked, under, balance, aligned, narrowest, cuts, tiles)


def _end(sizes: Sequence[tuple[float, bool]]) -> float:
    """Return the cut of an end: the least where it is wider than a tile, or else the least of all."""
    wide = [size for size, is_wide in sizes if is_wide]
    return min(wide or [size for size, _ in sizes])
