"""Tiles as an elevation shows them: whole ones light, cuts heavy and hatched, joints as wide as they are.

Every tile keeps its real outline. Where the joint is too narrow on paper for two edges with clear space between
them, the edges of whole tiles are drawn as one line along the middle of the joint, once for a whole row.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Group, Mark, Segments
from elevation.drawing.view import View
from elevation.geom import EPS
from elevation.pieces import Piece, course_label
from elevation.sheets.course_list import Sizes
from elevation.units import INCH, Unit

JOINT_SHOWS = 0.4
"""Least width of a joint on paper, mm, between two edges of whole tiles 0.25 wide that leaves white between them."""

_TRUE = 1e-6  # mm: what level and upright sides may be off by, as computed


def tile_marks(
    pieces: Sequence[Piece],
    joint: float,
    view: View,
    unit: Unit,
    sizes: Sizes,
    *,
    numbers: bool = True,
    colour: str = "paper",
) -> tuple[Mark, ...]:
    """Return the tiles of a zone, each in a group of its own that says what it is.

    Args:
        pieces: The pieces of the zone.
        joint: Its grout joint, mm.
        view: Takes the face to the paper.
        unit: Unit of the groups' ``data-w`` and ``data-h``.
        sizes: Width and height of a piece as printed.
        numbers: Draw cuts hatched, with the heavier outline; without, every tile looks like a whole one.
        colour: What tiles are filled with, a name in ``pens.COLOURS`` or ``#rrggbb``.
    """
    lines = view.length(joint) < JOINT_SHOWS
    whole = [p for p in pieces if p.is_whole or not numbers]
    cuts = [p for p in pieces if not p.is_whole]
    light: list[Mark] = [_group(p, view, unit, sizes, None if lines and _level(p) else "whole", colour) for p in whole]
    if lines:
        light.append(joint_lines([p for p in whole if _level(p)], joint, view))
    if not numbers:
        return tuple(light)
    heavy = [_group(p, view, unit, sizes, "cut", colour) for p in cuts]
    hatched = hatch([view.rings((p.outer, *p.holes)) for p in cuts])
    return (*light, *heavy, *((hatched,) if hatched.segments else ()))


def light_tiles(pieces: Sequence[Piece], view: View) -> tuple[Mark, ...]:
    """Return tiles as plain thin outlines: the back of a niche, which has its own drawing."""
    return tuple(Area(view.rings((p.outer, *p.holes)), "hatch", "paper") for p in pieces)


def _level(piece: Piece) -> bool:
    """Tell whether a piece is a rectangle with level and upright sides; what a whole tile lacks is only a hair."""
    ring = piece.slot if piece.is_whole else piece.outer
    if len(ring) != 4 or (piece.holes and not piece.is_whole):
        return False
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ring
    return max(abs(y0 - y1), abs(y2 - y3), abs(x1 - x2), abs(x3 - x0)) < _TRUE


def _group(piece: Piece, view: View, unit: Unit, sizes: Sizes, pen: str | None, colour: str) -> Group:
    scale = float(INCH) if unit == "in" else 1.0
    data = [
        ("course", course_label(piece.course)),
        ("place", str(piece.place)),
        ("kind", piece.kind),
        ("w", f"{piece.width / scale:.4f}"),
        ("h", f"{piece.height / scale:.4f}"),
        ("unit", unit),
    ]
    if piece.number is not None:
        data.append(("number", piece.number))
        title = f"{piece.number}, {piece.kind} cut, {' x '.join(sizes(piece))}"
    else:
        title = f"whole, course {course_label(piece.course)}, place {piece.place}"
    return Group(
        (Area(view.rings((piece.outer, *piece.holes)), pen, colour),),
        id="t-" + piece.id.replace("/", "."),
        classes="tile whole" if piece.is_whole else "tile cut",
        title=title,
        data=tuple(data),
    )


def joint_lines(pieces: Sequence[Piece], joint: float, view: View) -> Segments:
    """Return the edges of level rectangles, two that face each other across a joint as one line in its middle."""
    if not pieces:
        return Segments((), "whole")
    rings = [p.slot if p.is_whole else p.outer for p in pieces]
    boxes = np.array([(*ring[0], *ring[2]) for ring in rings])
    x0, y0, x1, y1 = boxes.T
    upright = _merged(x0, x1, y0, y1, joint)
    level = _merged(y0, y1, x0, x1, joint)
    rows = [(view.x(at), view.y(low), view.x(at), view.y(high)) for at, low, high in upright]
    rows += [(view.x(low), view.y(at), view.x(high), view.y(at)) for at, low, high in level]
    return Segments(tuple(rows), "whole")


def _merged(
    first: np.ndarray, last: np.ndarray, low: np.ndarray, high: np.ndarray, joint: float
) -> list[tuple[float, float, float]]:
    """Return lines as place, from, to: edges of one direction, merged over all tiles.

    Args:
        first: Where each tile begins, across the lines.
        last: Where it ends.
        low: Where its edges begin, along the lines.
        high: Where they end.
        joint: The joint, mm.
    """
    at = np.concatenate([first - joint / 2, last + joint / 2])
    ends = np.concatenate([np.zeros(len(first), bool), np.ones(len(last), bool)])
    start, stop = np.concatenate([low, low]), np.concatenate([high, high])
    order = np.lexsort((start, at))
    at, ends, start, stop = at[order], ends[order], start[order], stop[order]
    breaks = np.flatnonzero(np.diff(at) > EPS) + 1
    lines: list[tuple[float, float, float]] = []
    for group in np.split(np.arange(len(at)), breaks):
        both = bool(ends[group].any() and not ends[group].all())
        # with no tile on the other side the line is the tile's own edge
        place = float(at[group].mean()) + (0.0 if both else (-joint / 2 if ends[group[0]] else joint / 2))
        reach = joint / 2 if both else 0.0
        by_start = group[np.argsort(start[group], kind="stable")]
        lines += [(place, a - reach, b + reach) for a, b in _joined(start[by_start], stop[by_start], joint + EPS)]
    return lines


def _joined(start: np.ndarray, stop: np.ndarray, gap: float) -> list[tuple[float, float]]:
    """Return intervals, sorted by their start, with those that overlap or lie no more than ``gap`` apart made one."""
    reach = np.maximum.accumulate(stop)
    breaks = np.flatnonzero(start[1:] > reach[:-1] + gap) + 1
    firsts, lasts = np.concatenate([[0], breaks]), np.concatenate([breaks, [len(start)]]) - 1
    return [(float(start[a]), float(reach[b])) for a, b in zip(firsts, lasts, strict=True)]
