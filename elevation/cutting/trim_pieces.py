"""Bullnose and liner as pieces: laid along their run with their own length and joint, numbered, cut from whole ones.

Pieces are laid from the middle of a run, so that it begins and ends with equal cuts, neither of them less than about
half a piece (common practice). Where a piece has the module of one tile, or of several, and neither end would be a
sliver, its joints stand on those of the tile instead.

Numbers follow those of tiles: tag of the run, place. ``B-T2-3`` is the third piece, from the left or from below, of
the second run on wall B. Whole pieces count and carry none.

A cut piece keeps its factory end where it meets its neighbour, unless the job allows sawn edges at joints. A bullnose
has its rounded edge on one side and cannot be turned, so that a whole piece makes one left end and one right end of a
run at most; a liner may be turned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from elevation.cutting.blocks import LEFT, RIGHT
from elevation.cutting.sticks import Part, StickPlan, check_stock, cut_parts
from elevation.cutting.trim_ends import EndCut
from elevation.cutting.trim_runs import TrimRun
from elevation.geom import EPS, Ring
from elevation.job.models import Job, Trim
from elevation.units import Mm

_ON_TILE = 0.5
"""Joints of trim and tile that stand no further apart than this, mm, are one line to the eye."""
_TELLS = 2
"""So many joints of the tile tell its module."""


@dataclass(frozen=True, slots=True)
class TrimPiece:
    """One piece of bullnose or liner.

    Attributes:
        run: Id of its run.
        place: Its place along the run, from 1.
        number: Tag of the run and place; ``None`` for a whole piece.
        start: Where it begins along the run, at its long point, mm.
        length: Length over all, long point to long point, mm.
        cut_ends: Which of its two ends need the saw: the start, the end.
        ring: Its outline on the face, mm.
    """

    run: str
    place: int
    number: str | None
    start: Mm
    length: Mm
    cut_ends: tuple[bool, bool]
    ring: Ring

    @property
    def is_whole(self) -> bool:
        """Whether it needs no saw."""
        return not any(self.cut_ends)


def lay_pieces(run: TrimRun, trim: Trim, sliver: Mm) -> tuple[TrimPiece, ...]:
    """Return the pieces of a run, from the left or from below.

    Args:
        run: The run.
        trim: Its trim; ``stock`` is the length of a piece.
        sliver: No piece should be shorter, mm.
    """
    assert trim.stock is not None
    check_stock(trim.stock)
    low, high = _room(run.ends[0], trim.joint), run.length - _room(run.ends[1], trim.joint)
    if high - low <= EPS:
        return ()
    spans = _on_tile(low, high, trim.stock, trim.joint, run.tile_joints, sliver) or _balanced(
        low, high, trim.stock, trim.joint
    )
    made = []
    for place, (a, b) in enumerate(spans, 1):
        first, last = place == 1, place == len(spans)
        start_cut, end_cut = first and bool(run.ends[0].long), last and bool(run.ends[1].long)
        if trim.stock - (b - a) > EPS and not start_cut and not end_cut:
            # the factory end stands at the joint; a piece alone is cut at its end
            start_cut, end_cut = (True, False) if first and not last else (False, True)
        number = f"{run.tag}-{place}" if start_cut or end_cut else None
        ring = _ring(run, a, b, first=first, last=last)
        made.append(TrimPiece(run.id, place, number, a, b - a, (start_cut, end_cut), ring))
    return tuple(made)


def _room(end: EndCut, joint: Mm) -> Mm:
    """Return how much of a run the joint at its end takes: half of it at a mitre, all of it at a butt."""
    if end.kind == "mitre":
        return joint / 2 / math.sin(math.radians(end.angle))
    if end.kind == "piece" or (end.kind == "butt" and not end.through):
        return joint / math.sin(math.radians(end.angle))
    return 0.0


def _balanced(low: Mm, high: Mm, stock: Mm, joint: Mm) -> list[tuple[Mm, Mm]]:
    """Return from where to where each piece runs, with equal cuts at both ends."""
    length = high - low
    if length <= stock + EPS:
        return [(low, high)]
    count = math.ceil((length + joint - EPS) / (stock + joint))
    end = (length - (count - 2) * stock - (count - 1) * joint) / 2
    places = [low + end + joint + n * (stock + joint) for n in range(count - 1)]
    return [(low, low + end), *((p, p + stock) for p in places[:-1]), (places[-1], high)]


def _on_tile(
    low: Mm, high: Mm, stock: Mm, joint: Mm, tile_joints: Sequence[Mm], sliver: Mm
) -> list[tuple[Mm, Mm]]:  # fmt: skip
    """Return pieces whose joints stand on those of the tile, on every one or on every second, third and so on.

    Empty where they cannot, or an end would be a sliver; of several ways the one with the longer end cuts.
    """
    inner = [s for s in tile_joints if low < s < high]
    if high - low <= stock + EPS or len(inner) < _TELLS:
        return []
    module = stock + joint
    every = max(1, round(module * (len(inner) - 1) / (inner[-1] - inner[0])))
    best: list[tuple[Mm, Mm]] = []
    for first in range(min(every, len(inner))):
        chosen = inner[first::every]
        middles = [chosen[0] + n * module for n in range(len(chosen))]
        if max(abs(a - b) for a, b in zip(chosen, middles, strict=True)) > _ON_TILE:
            return []
        ends = [low, *(v for m in middles for v in (m - joint / 2, m + joint / 2)), high]
        spans = list(zip(ends[::2], ends[1::2], strict=True))
        sizes = [b - a for a, b in spans]
        if max(sizes) <= stock + EPS and min(sizes) >= max(min(sliver, stock) - EPS, _least(best)):
            best = spans
    return best


def _least(spans: Sequence[tuple[Mm, Mm]]) -> Mm:
    """Return the shortest of some pieces, mm; 0 of none."""
    return min((b - a for a, b in spans), default=0.0)


def _ring(run: TrimRun, low: Mm, high: Mm, *, first: bool, last: bool) -> Ring:
    """Return the outline of a piece: square at its joints, cut as the run is at its ends."""
    (near_a, far_a), (near_b, far_b) = run.across(low), run.across(high)
    if first:
        near_a, far_a = run.skewed(low, at_end=False)
    if last:
        near_b, far_b = run.skewed(high, at_end=True)
    between = [p for p in run.bends if low < run.station(p) < high]
    sides = [run.across(run.station(p)) for p in between]
    return (near_a, *(n for n, _ in sides), near_b, far_b, *(f for _, f in reversed(sides)), far_a)


def cut_pieces(job: Job, trim: Trim, runs: Sequence[TrimRun], pieces: Sequence[TrimPiece]) -> StickPlan:
    """Return which pieces come out of which whole ones; the whole ones among them count.

    Args:
        job: For its kerf, and whether rests are used again and sawn edges stand at joints.
        trim: The trim.
        runs: Its runs.
        pieces: What they are made of.
    """
    assert trim.stock is not None
    by_id = {r.id: r for r in runs}
    parts = []
    for piece in pieces:
        keeps = (not piece.cut_ends[0], not piece.cut_ends[1])
        if not by_id[piece.run].tile_left:
            keeps = keeps[1], keeps[0]
        ends = 0 if job.sawn_joints else LEFT * keeps[0] + RIGHT * keeps[1]
        # a mitre takes its whole length even where nothing is cut off
        alone = piece.is_whole or not job.reuse
        parts.append(Part(piece.run, piece.place, piece.length, ends, alone))
    return cut_parts(parts, trim.stock, job.kerf, turns=trim.kind == "liner")
