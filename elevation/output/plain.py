"""Pages for print: nobody asks a tile on paper for its name, so whole runs of tiles become one path.

A wall of 20,000 tiles is 60,000 elements in the SVG, and the PDF takes as long as there are elements; the picture is
the same. Tiles do not overlap, so one path with all their outlines paints what they paint one by one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from elevation.drawing.marks import Area, Group, Mark, Page


def plain(page: Page) -> Page:
    """Return the page with names and data left out and neighbouring tiles of one look joined."""
    return replace(page, marks=tuple(_plain(page.marks)))


def _plain(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    for look, run in groupby(marks, key=_tile_look):
        if look is None:
            yield from (_bare(mark) for mark in run)
        else:
            yield Area(tuple(ring for tile in run for ring in _area(tile).rings), *look)


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
