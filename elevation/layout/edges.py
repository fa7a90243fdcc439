"""Edges with a range: one straight line where the range takes up what is out of true, the taper where it does not."""

from __future__ import annotations

import math
from collections.abc import Sequence

from elevation.geom import EPS, Point
from elevation.layout.laid import LaidEdge
from elevation.layout.regions import facing_of
from elevation.layout.restart import Band, start_at
from elevation.patterns import Lattice
from elevation.wall import Border, Face

_TRUE = 0.1  # a side that leans more than 1 in 10 is meant to slope: no range takes that up


def tightest(face: Face) -> tuple[LaidEdge, ...]:
    """Return every edge at its least gap, before the courses are known."""
    return tuple(decide(border, face.tile_is_outside(i), (), ()) for i, border in enumerate(face.borders))


def settled(
    face: Face, lattice: Lattice, origin: Point, bands: Sequence[Band] = (), joint: float = 0.0
) -> tuple[LaidEdge, ...]:
    """Return every edge decided against the courses of the field.

    Args:
        face: The face.
        lattice: Of its field.
        origin: Start of the field, mm.
        bands: Bands beyond which the field starts again.
        joint: Grout joint of the field, mm.
    """
    out = []
    for i, border in enumerate(face.borders):
        cut_out = face.tile_is_outside(i)
        (x1, y1), (x2, y2) = border.line[0], border.line[-1]
        rows, columns = _whole_edges(lattice, start_at(bands, ((x1 + x2) / 2, (y1 + y2) / 2), origin, joint))
        level = facing_of(border.line) in ("bottom", "top")
        lower = (facing_of(border.line) in ("bottom", "left")) != cut_out
        lines = (rows if level else columns)[0 if lower else 1]
        out.append(decide(border, cut_out, lines, (lattice.b[1] if level else lattice.a[0],)))
    return tuple(out)


def _whole_edges(
    lattice: Lattice, origin: Point
) -> tuple[tuple[tuple[float, ...], tuple[float, ...]], tuple[tuple[float, ...], tuple[float, ...]]]:
    """Return lower and upper edges of rows, left and right edges of columns, of whole tiles; each once a module.

    Columns count only where every course has its joints over the same line.
    """
    rings = [s.ring for s in lattice.motif]
    rows = (
        tuple(origin[1] + min(p[1] for p in r) for r in rings),
        tuple(origin[1] + max(p[1] for p in r) for r in rings),
    )
    lean = lattice.b[0] / lattice.a[0]
    if abs(lean - round(lean)) > 1e-9:
        return rows, ((), ())
    columns = (
        tuple(origin[0] + min(p[0] for p in r) for r in rings),
        tuple(origin[0] + max(p[0] for p in r) for r in rings),
    )
    return rows, columns


def decide(border: Border, cut_out: bool, lines: Sequence[float], module: Sequence[float]) -> LaidEdge:
    """Decide one edge.

    Args:
        border: The side, with its range [a, b].
        cut_out: The tile lies outside the ring that the side belongs to.
        lines: Where edges of rows of whole tiles fall, mm, each standing for all that are whole modules away.
        module: The module, when there are lines.

    Returns:
        With E the side as found, and max E - min E at most b - a: one straight line, the gap within [a, b]
        everywhere, at the edge of a row of whole tiles if one falls inside, else as tight as may be. Otherwise E moved
        in by a.
    """
    facing = facing_of(border.line)
    axis = 1 if facing in ("bottom", "top") else 0
    inward = (1.0 if facing in ("bottom", "left") else -1.0) * (-1.0 if cut_out else 1.0)
    found = [p[axis] for p in border.line]
    least, most = border.gap
    fixed = border.gap[0] - border.joint[0]
    run = abs(border.line[-1][1 - axis] - border.line[0][1 - axis])
    out_of_true = max(found) - min(found)
    if out_of_true > (most - least) + 1e-9 or (run and out_of_true > _TRUE * run) or border.side == "arc":
        why = "" if border.joint[0] == border.joint[1] else "out of true by more than the joint's range takes up"
        return LaidEdge(border, least, None, (least - fixed, least - fixed), why)
    # on the tile's side of every point of E: from the furthest point inward plus a, to the nearest plus b
    tight = max(v * inward for v in found) + least
    loose = min(v * inward for v in found) + most
    place, why = tight, ""
    if most - least > 1e-9 and lines:
        found_lines = [
            v for line in lines for v in [_first_at_or_past(line * inward, tight, module[0])] if v <= loose + 1e-9
        ]
        if found_lines:
            place = min(found_lines)
            if place > tight + EPS:
                why = "the joint is opened so that a row of whole tiles ends at it"
    opened = place - tight
    if out_of_true <= 1e-9:
        joint = border.joint[0] + opened
        return LaidEdge(border, least + opened, None, (joint, joint), why)
    gaps = [place - v * inward - fixed for v in found]
    return LaidEdge(border, least, place * inward, (min(gaps), max(gaps)), why)


def _first_at_or_past(value: float, limit: float, module: float) -> float:
    """Return the least ``value + k * module`` that is not less than ``limit`` (to the tolerance of float noise)."""
    return value + math.ceil((limit - value) / module - 1e-9) * module
