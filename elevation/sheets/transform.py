"""Marks moved and enlarged on the paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Point, Segments, Text


def moved(marks: Iterable[Mark], dx: float, dy: float) -> tuple[Mark, ...]:
    """Return marks shifted, mm."""
    return tuple(_changed(mark, 1.0, dx, dy) for mark in marks)


def enlarged(marks: Iterable[Mark], factor: float) -> tuple[Mark, ...]:
    """Return marks with every length on the paper times ``factor``, about the lower left corner; pens stay."""
    return tuple(marks) if factor == 1.0 else tuple(_changed(mark, factor, 0.0, 0.0) for mark in marks)


def _changed(mark: Mark, k: float, dx: float, dy: float) -> Mark:
    def at(p: Point) -> Point:
        return p[0] * k + dx, p[1] * k + dy

    if isinstance(mark, Segments):
        rows = tuple((a * k + dx, b * k + dy, c * k + dx, d * k + dy) for a, b, c, d in mark.segments)
        return replace(mark, segments=rows)
    if isinstance(mark, Area):
        return replace(mark, rings=tuple(tuple(at(p) for p in ring) for ring in mark.rings))
    if isinstance(mark, Line):
        return replace(mark, points=tuple(at(p) for p in mark.points))
    if isinstance(mark, Text):
        return replace(mark, at=at(mark.at), height=mark.height * k)
    if isinstance(mark, Circle):
        return replace(mark, centre=at(mark.centre), radius=mark.radius * k)
    return _group(mark, k, dx, dy)


def _group(group: Group, k: float, dx: float, dy: float) -> Group:
    clip = group.clip
    if clip is not None:
        clip = (clip[0] * k + dx, clip[1] * k + dy, clip[2] * k, clip[3] * k)
    return replace(group, marks=tuple(_changed(m, k, dx, dy) for m in group.marks), clip=clip)
