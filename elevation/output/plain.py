"""Pages for print: nobody asks a tile on paper for its name, so whole runs of tiles become one path.

A wall of 20,000 tiles is 20,000 groups in the SVG; one by one they would make the PDF several times larger, and the
picture is the same. Tiles do not overlap, so one path with all their outlines paints what they paint one by one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

from elevation.drawing.marks import Area, Group, Line, Mark, Page, Segments


def plain(page: Page) -> Page:
    """Return the page with names and data left out and neighbouring tiles of one look joined."""
    return replace(page, marks=tuple(_plain(page.marks)))


def _plain(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    for look, run in groupby(marks, key=_tile_look):
        if look is None:
            yield from _joined(_bare(mark) for mark in run)
        else:
            yield Area(tuple(ring for tile in run for ring in _area(tile).rings), *look)


def _joined(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Join neighbouring straight lines of one pen: ticks, extension lines, rules of a table."""
    for pen, run in groupby(marks, key=_straight_pen):
        if pen is None:
            yield from run
        else:
            yield Segments(tuple(segment for mark in run for segment in _segments(mark)), pen)


def _straight_pen(mark: Mark) -> str | None:
    if isinstance(mark, Segments) or (isinstance(mark, Line) and len(mark.points) == 2):
        return mark.pen
    return None


def _segments(mark: Mark) -> tuple[tuple[float, float, float, float], ...]:
    if isinstance(mark, Line):
        (x1, y1), (x2, y2) = mark.points
        return ((x1, y1, x2, y2),)
    assert isinstance(mark, Segments)
    return mark.segments


def _bare(mark: Mark) -> Mark:
    if isinstance(mark, Group):
        return Group(tuple(_plain(mark.marks)), clip=mark.clip)
    return mark


def _tile_look(mark: Mark) -> tuple[str | None, str | None] | None:
    """Return pen and fill of a group that is one tile and nothing else; ``None`` of any other mark."""
    if isinstance(mark, Group) and mark.clip is None and mark.classes.split()[:1] == ["tile"] and len(mark.marks) == 1:
        (area,) = mark.marks
        if isinstance(area, Area):
            return area.pen, area.fill
    return None


def _area(mark: Mark) -> Area:
    assert isinstance(mark, Group)
    (area,) = mark.marks
    assert isinstance(area, Area)
    return area
