"""The display list: what stands on a page, in millimetres of paper, origin lower left, y up.

Marks are plain frozen data. They know no file format; ``output`` turns them into SVG and PDF and is the only
place that flips y. Pens, fills and heights are named in ``pens``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal

Point = tuple[float, float]
Ring = tuple[Point, ...]
Anchor = Literal["start", "middle", "end"]
Weight = Literal["regular", "semibold"]


class _Handed:
    """Goes to another process as its type and fields; the usual way of frozen classes takes half as long again."""

    __slots__: ClassVar[tuple[str, ...]] = ()

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), tuple([getattr(self, name) for name in self.__slots__])


@dataclass(frozen=True, slots=True)
class Line(_Handed):
    """An open run of straight lines; ``pen`` is a name in ``pens.PENS``."""

    points: Ring
    pen: str


@dataclass(frozen=True, slots=True)
class Area(_Handed):
    """One or more closed rings (outer, then holes; even-odd), outlined and filled as asked."""

    rings: tuple[Ring, ...]
    pen: str | None = None
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Segments(_Handed):
    """Many separate straight lines with one pen, as ``(x1, y1, x2, y2)``: hatches, ticks, joints."""

    segments: tuple[tuple[float, float, float, float], ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Circle(_Handed):
    """A circle; ``radius`` in mm of paper."""

    centre: Point
    radius: float
    pen: str | None = None
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Text(_Handed):
    """One run of text on one line.

    Attributes:
        at: Where the anchor of the baseline stands.
        text: What it says; only glyphs the bundled font has.
        height: Height of capitals, mm.
        anchor: Which end of the run stands at ``at``.
        weight: Regular or semibold.
        angle: Turned by so many degrees, counter-clockwise, about ``at``.
        colour: A name in ``pens.COLOURS``.
    """

    at: Point
    text: str
    height: float
    anchor: Anchor = "start"
    weight: Weight = "regular"
    angle: float = 0.0
    colour: str = "ink"


@dataclass(frozen=True, slots=True)
class Group(_Handed):
    """Marks that belong together, with what a reader of the SVG may ask of them.

    Attributes:
        marks: The marks, drawn in order.
        id: Unique on the page, or empty.
        classes: CSS classes: ``tile whole``, ``tile cut``.
        title: Shown by a browser when the pointer rests on it.
        data: ``data-`` attributes, name without the prefix.
        clip: Rectangle ``(x, y, width, height)`` beyond which nothing of the group shows.
    """

    marks: tuple[Mark, ...]
    id: str = ""
    classes: str = ""
    title: str = ""
    data: tuple[tuple[str, str], ...] = ()
    clip: tuple[float, float, float, float] | None = None


Mark = Line | Area | Segments | Circle | Text | Group


@dataclass(frozen=True, slots=True)
class Page(_Handed):
    """One sheet, ready to be written.

    Attributes:
        kind: ``elevation``, ``cuts``, ``cover``, ... as in the file name ``NN-KIND-ID.svg``.
        id: What it shows: a wall's id, or a running number; letters, digits and dashes.
        title: Sheet title, as in the title block, the bookmark and the SVG title.
        width: Paper width, mm.
        height: Paper height, mm.
        marks: Everything on it.
        description: One sentence for people who cannot see it (SVG ``desc``).
        full_size: True for 1:1 pages: the PDF asks the printer not to scale.
    """

    kind: str
    id: str
    title: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    description: str = ""
    full_size: bool = False


def walk(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    """Yield every mark, going into groups; groups themselves too."""
    for mark in marks:
        yield mark
        if isinstance(mark, Group):
            yield from walk(mark.marks)


__all__ = [
    "Anchor",
    "Area",
    "Circle",
    "Group",
    "Line",
    "Mark",
    "Page",
    "Point",
    "Ring",
    "Segments",
    "Text",
    "Weight",
    "walk",
]
