"""What several rules look at: lengths in words, which way an edge runs, what shows of a piece, how narrow it is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Literal

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from elevation.geom import EPS, parts, polygon
from elevation.layout import LaidFace
from elevation.layout.regions import cut_out_area, facing_of, visible_region
from elevation.pieces import EdgeRun, Piece
from elevation.plan import Plan
from elevation.units import format_length
from elevation.wall import side_words

Axis = Literal[0, 1]
_CLOSE = 0.02  # mm: a printed length may stand so far from the true one before a finer step is used
_BISECTIONS = 10
_OPPOSITE = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


def limit(plan: Plan, inches: float, mm: float) -> float:
    """Return a limit in mm: as usual in inches in an inch job, in round millimetres in a metric one."""
    return inches * 25.4 if plan.job.units == "in" else mm


def text(plan: Plan, mm: float) -> str:
    """Return a length with its unit: on the sheets' step, or on a finer one where that would mislead."""
    unit, step = plan.job.units, plan.job.step
    finer = (step / 2, step / 4, 25.4 / 64) if unit == "in" else (0.5, 0.1)
    steps = [step, *(s for s in finer if s < step and (unit == "mm" or s >= 25.4 / 64))]
    step = next((s for s in steps if abs(mm / s - round(mm / s)) * s <= _CLOSE), steps[-1])
    return f"{format_length(mm, step, unit)} {unit}"


def listed(pieces: Sequence[Piece], most: int = 6) -> str:
    """Return the numbers of pieces, the first few of them when there are many."""
    names = [p.number or p.id for p in pieces]
    return ", ".join(names) if len(names) <= most else f"{', '.join(names[:most])} and {len(names) - most} more"


def counted(n: int, word: str) -> str:
    """Return ``1 cut`` or ``3 cuts``."""
    return f"{n} {word}" if n == 1 else f"{n} {word}s"


def runs_of(plan: Plan, wall: str) -> Iterable[EdgeRun]:
    """Return the edges of a wall itself, without those of its niches' faces."""
    return (r for r in plan.runs if r.face == wall)


def across(run: EdgeRun) -> Axis:
    """Return the axis across an edge: 0 for an upright edge, whose cuts have their width cut; 1 for a level one."""
    (x1, y1), (x2, y2) = run.line[0][0], run.line[0][-1]
    return 1 if abs(x2 - x1) >= abs(y2 - y1) else 0


def side_name(run: EdgeRun) -> str:
    """Return the side of an edge in words: ``left``, ``tub top``, ``side 3``."""
    side = side_words(run.side)
    return f"{run.of} {side}".strip()


def cut_side(plan: Plan, run: EdgeRun) -> str:
    """Return at which side of theirs the pieces along an edge are cut: left, right, bottom or top."""
    laid = plan.face(run.face)
    i = next(i for i, e in enumerate(laid.edges) if (e.border.of, e.border.side) == (run.of, run.side))
    facing = facing_of(laid.edges[i].border.line)
    return _OPPOSITE[facing] if laid.face.tile_is_outside(i) else facing


def slot_size(piece: Piece) -> tuple[float, float]:
    """Return width and height of a piece's slot, mm."""
    xs, ys = [p[0] for p in piece.slot], [p[1] for p in piece.slot]
    return max(xs) - min(xs), max(ys) - min(ys)


def shown_shape(plan: Plan, piece: Piece) -> BaseGeometry:
    """Return what shows of a piece, its cut-outs simplified.

    Holes for pipes are filled in, since their plates hide them; rounded corners of fixtures are taken as square, since
    the feather that a curve leaves where it runs out is taken off with the stone.
    """
    laid = plan.face(piece.face)
    shape: BaseGeometry = Polygon(piece.outer, piece.holes)
    slot = polygon(piece.slot)
    for cut in laid.face.cutouts:
        if cut.kind == "hole" and (area := cut_out_area(cut, laid.edges)).intersects(slot):
            shape = shape.union(area.intersection(slot).intersection(laid_bounds(laid)))
        elif cut.rounded:
            shape = shape.difference(cut_out_area(replace(cut, rounded=(), radius=0.0), laid.edges))
    seen = visible_region(laid)
    return shape if seen is None else shape.intersection(seen)


def laid_bounds(laid: LaidFace) -> BaseGeometry:
    """Return the box round all that is tiled on a face."""
    return shapely.box(*shapely.total_bounds([z.region for z in laid.zones]))


def narrowest(shape: BaseGeometry, below: float) -> tuple[float, BaseGeometry] | None:
    """Return how narrow a shape is at its narrowest, mm, and the part below a width; ``None``: no part is below it.

    A part is as wide as the thickest square-cornered brush that still reaches all of it; pointed corners do not count.
    """
    lost = _lost(shape, below)
    if not lost:
        return None
    low, high = 0.0, below
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        if _lost(shape, middle):
            high = middle
        else:
            low = middle
    return (low + high) / 2, shapely.union_all(lost)


def _lost(shape: BaseGeometry, width: float) -> list[Polygon]:
    """Return the parts of the shape that a brush of a width does not reach."""
    half = width / 2
    core = shapely.buffer(shape, -half, join_style="mitre", mitre_limit=20)
    reached = shapely.buffer(core, half + EPS / 2, join_style="mitre", mitre_limit=20)
    return [p for p in parts(shape.difference(reached)) if p.area > EPS * width]


def mover(plan: Plan, piece: Piece, axis: int) -> str:
    """Return what is moved to change a cut across (axis 0) or in height: the start, or the band it begins beyond."""
    face = plan.face(piece.face)
    zone = face.zone(piece.zone)
    fixed = zone.place.beyond and zone.origin[axis] != face.zones[0].origin[axis]
    return f"zone {zone.place.beyond}" if fixed else "the start"
