"""Widths of a joint that takes up what is out of true, at both ends of the tile along it: words beside the border."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.drawing.dimensions import dimension_text
from elevation.drawing.labels import Request
from elevation.drawing.pens import DIMENSION
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import Point
from elevation.layout import LaidEdge, LaidFace
from elevation.plan import Plan
from elevation.sheets.wall_view import soft_place
from elevation.units import format_length

_CLEAR = 2.0  # mm of paper between the end of a side and its word: clear of the corner's lines


def gap_words(plan: Plan, laid: LaidFace, view: View, step: float) -> Iterator[Request]:
    """Yield a word for both ends of every side whose joint differs between them, as the sheets round it.

    Args:
        plan: The plan.
        laid: The face.
        view: Takes the face to the paper.
        step: Rounding step, mm.
    """
    holes = {c.id for c in laid.face.cutouts if c.kind == "hole"}
    edges = {(e.border.of, e.border.side): e for e in laid.edges if e.line is not None and e.border.of not in holes}
    for run in plan.runs:
        edge = edges.get((run.of, run.side))
        if run.face != laid.face.id or run.kind != "soft" or edge is None:
            continue
        (x1, y1), (x2, y2) = edge.border.line[0], edge.border.line[-1]
        level = abs(x2 - x1) >= abs(y2 - y1)
        places = [p[0 if level else 1] for line in run.line for p in line]
        ends = min(places), max(places)
        texts = [format_length(edge.gap_at(place), step, plan.job.units) for place in ends]
        if texts[0] != texts[1]:
            for inward, place, text in ((1.0, ends[0], texts[0]), (-1.0, ends[1], texts[1])):
                yield _word(edge, place, inward, f"gap {dimension_text(text)}", view, level=level)


def _word(edge: LaidEdge, place: float, inward: float, text: str, view: View, *, level: bool) -> Request:
    """Return what is written near an end: the leader starts on the joint's line and leads away from the tile."""
    assert edge.line is not None
    axis = 1 if level else 0
    side = sum(p[axis] for p in edge.border.line) / len(edge.border.line)
    away = 1.0 if side >= edge.line else -1.0
    along = place + inward * (text_width(text, DIMENSION) / 2 + _CLEAR) * view.ratio
    across = edge.line + away * soft_place(edge.offset, view)
    x, y = view.point((along, across) if level else (across, along))
    ways: tuple[Point, ...] = ((0.0, away), (inward, 0.0)) if level else ((away, 0.0), (0.0, inward))
    tiny = 0.1
    ring = ((x - tiny, y - tiny), (x + tiny, y - tiny), (x + tiny, y + tiny), (x - tiny, y + tiny))
    return Request(text, (ring,), ways, outside=True)
