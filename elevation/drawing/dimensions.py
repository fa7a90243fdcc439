"""Dimension strings: chains, running dimensions, and stacks of both, on any side of a drawing.

Terminators are oblique strokes, one kind throughout. Text stands above its line and is read from the bottom or from
the right of the sheet. Text that does not fit its span moves to a row of its own on the outer side, with a leader;
texts in that row are pushed apart as little as needed and never out of order, so neither they nor their leaders
meet. Callers give the text; ``dimension_text`` spaces fractions.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from elevation.drawing.marks import Anchor, Area, Circle, Line, Mark, Point, Ring, Segments, Text
from elevation.drawing.pens import DIMENSION
from elevation.fonts import text_width

Side = Literal["left", "right", "top", "bottom"]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class DimensionStyle:
    """The measures of a dimension string, mm of paper.

    Attributes:
        gap: Clear space between the outline and its extension line.
        past: How far extension lines run past the dimension line.
        tick: Length of the oblique stroke.
        first: Outline to the first dimension line.
        clear: Least free space between one string and the next.
        height: Capital height of the text.
        lift: Dimension line to the foot of its text.
        pad: Least free space between texts, and between a text and the ends of its span.
    """

    gap: float = 1.6
    past: float = 3.2
    tick: float = 3.2
    first: float = 12.0
    clear: float = 2.0
    height: float = DIMENSION
    lift: float = 1.0
    pad: float = 1.0

    def with_height(self, height: float) -> DimensionStyle:
        """Return the same style with another height of text."""
        return replace(self, height=height)


INCH_STYLE = DimensionStyle()
"""US architectural habit: gap 1/16 in, past 1/8 in, stroke 1/8 in."""
METRIC_STYLE = DimensionStyle(gap=1.5, past=2.0, tick=3.0, first=10.0)
"""ISO 129-1 habit, from memory: gap and overrun about eight line widths, first line 10 mm off."""


@dataclass(frozen=True, slots=True)
class Dimensions:
    """What was drawn, and the room it took.

    Attributes:
        marks: The marks.
        depth: How far it reaches from the outline, mm.
        boxes: What its texts cover (least x, least y, greatest x, greatest y).
        strips: What its dimension lines cover, strokes included.
        lines: Distance of each dimension line from the outline, near to far.
    """

    marks: tuple[Mark, ...]
    depth: float
    boxes: tuple[Box, ...] = ()
    strips: tuple[Box, ...] = ()
    lines: tuple[float, ...] = ()

    @property
    def obstacles(self) -> tuple[Box, ...]:
        """What labels must stay off: texts and dimension lines. Extension lines may be covered."""
        return self.boxes + self.strips


def dimension_text(text: str) -> str:
    """Return a length with two spaces before its fraction, since the font's own space is narrow."""
    return re.sub(r"(\d) +(\d+/\d+)", r"\1  \2", text)


def chain(
    points: Sequence[Point],
    texts: Sequence[str],
    side: Side,
    distance: float,
    *,
    base: float | None = None,
    style: DimensionStyle = INCH_STYLE,
) -> Dimensions:
    """Return a chain of dimensions from point to point.

    Args:
        points: What is measured, mm of paper; extension lines start at them. In any order.
        texts: One for each span, left to right or bottom to top; an empty text leaves its span bare.
        side: Where the line stands.
        distance: From the base to the dimension line, mm.
        base: The outline's y (top, bottom) or x (left, right); the outermost point if left out.
        style: Measures.

    Raises:
        ValueError: There are fewer than two points, or not one text a span.
    """
    if len(points) < 2 or len(texts) != len(points) - 1:
        raise ValueError(f"a chain of {len(points)} points takes {len(points) - 1} texts, not {len(texts)}")
    frame = _Frame.at(side, points, base)
    stations = sorted(frame.local(p) for p in points)
    at = [s for s, _ in stations]
    draw = _Drawing(frame, style)
    draw.extensions(stations, distance)
    draw.line(at[0], at[-1], distance)
    draw.ticks(at, distance)
    tight: list[tuple[float, str]] = []
    for low, high, text in zip(at, at[1:], texts, strict=False):
        if text and text_width(text, style.height) + 2 * style.pad <= high - low:
            draw.text_above(text, (low + high) / 2, distance)
        elif text:
            tight.append(((low + high) / 2, text))
    depth = distance + max(style.past, style.lift + style.height if frame.text_outward else 0.0)
    if tight:
        depth = draw.outer_row(tight, distance, depth)
    return Dimensions(tuple(draw.marks), depth, tuple(draw.boxes), tuple(draw.strips), (distance,))


def running(
    points: Sequence[Point],
    texts: Sequence[str],
    side: Side,
    distance: float,
    *,
    origin: int = 0,
    base: float | None = None,
    style: DimensionStyle = INCH_STYLE,
) -> Dimensions:
    """Return running dimensions: every point measured from one origin, so that no errors add up.

    Args:
        points: What is measured, mm of paper; extension lines start at them.
        texts: One for each point, in the same order; the origin's is usually ``0``.
        side: Where the line stands.
        distance: From the base to the dimension line, mm.
        origin: Index of the point measured from; it gets an open circle.
        base: The outline's y (top, bottom) or x (left, right); the outermost point if left out.
        style: Measures.

    Raises:
        ValueError: There is no point, or not one text a point.
    """
    if not points or len(texts) != len(points):
        raise ValueError(f"{len(points)} running dimensions take as many texts, not {len(texts)}")
    frame = _Frame.at(side, points, base)
    placed = [frame.local(p) for p in points]
    order = sorted(range(len(points)), key=lambda i: placed[i])
    at = [placed[i][0] for i in order]
    zero = placed[origin][0]
    draw = _Drawing(frame, style)
    draw.extensions([placed[i] for i in order], distance)
    draw.line(at[0], at[-1], distance)
    draw.ticks([s for s in at if s != zero], distance)
    draw.marks.append(Circle(frame.point(zero, distance), 1.5, "fine"))
    depth = draw.end_texts([(placed[i][0], texts[i]) for i in order if texts[i]], distance)
    return Dimensions(tuple(draw.marks), depth, tuple(draw.boxes), tuple(draw.strips), (distance,))


@dataclass(frozen=True, slots=True)
class Strand:
    """One string of a stack: points and texts as ``chain`` takes them, or ``running`` with its origin."""

    points: tuple[Point, ...]
    texts: tuple[str, ...]
    origin: int | None = None


def stack(
    strands: Sequence[Strand], side: Side, *, base: float | None = None, start: float | None = None,
    style: DimensionStyle = INCH_STYLE,
) -> Dimensions:  # fmt: skip
    """Return dimension strings one beyond the other, near to far, with room for each.

    Args:
        strands: The strings; shorter spans first, the overall length last.
        side: Where they stand.
        base: The outline's y or x; the outermost point of all if left out.
        start: Distance from the base to the first line; the style's own if left out.
        style: Measures.
    """
    marks: list[Mark] = []
    boxes: list[Box] = []
    strips: list[Box] = []
    lines: list[float] = []
    every = [p for strand in strands for p in strand.points]
    if not every:
        return Dimensions((), 0.0)
    outline = base if base is not None else _Frame.at(side, every, None).base
    inward = 0.0 if side in ("top", "left") else style.lift + style.height
    depth = 0.0
    for strand in strands:
        distance = max(depth + style.clear + inward, depth + style.clear + style.tick / 2)
        if not lines:
            distance = max(style.first if start is None else start, style.gap + inward)
        if strand.origin is None:
            drawn = chain(strand.points, strand.texts, side, distance, base=outline, style=style)
        else:
            drawn = running(
                strand.points, strand.texts, side, distance, origin=strand.origin, base=outline, style=style
            )
        marks += drawn.marks
        boxes += drawn.boxes
        strips += drawn.strips
        lines += drawn.lines
        depth = drawn.depth
    # extension lines of outer strings may pass where texts of inner ones were pushed aside: texts win
    words = [mark for mark in marks if isinstance(mark, Text)]
    rest = [mark for mark in marks if not isinstance(mark, Text)]
    clear = [Area((_box_ring(box),), fill="paper") for box in boxes]
    return Dimensions((*rest, *clear, *words), depth, tuple(boxes), tuple(strips), tuple(lines))


def _box_ring(box: Box) -> Ring:
    return ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))


def spread(wanted: Sequence[float], sizes: Sequence[float], pad: float) -> list[float]:
    """Return middles as near as can be (least squares) to the sorted ``wanted`` ones, in order and ``pad`` apart.

    Args:
        wanted: Where each would stand, ascending.
        sizes: How much room each takes along the line.
        pad: Least free space between two.
    """
    shifts = [0.0]
    for one, two in pairwise(sizes):
        shifts.append(shifts[-1] + (one + two) / 2 + pad)
    # without the shifts the task is to find the nearest ascending numbers: pool those that are out of order
    pools: list[tuple[float, int]] = []
    for value, shift in zip(wanted, shifts, strict=False):
        total, count = value - shift, 1
        while pools and pools[-1][0] / pools[-1][1] > total / count:
            before, number = pools.pop()
            total, count = total + before, count + number
        pools.append((total, count))
    level = [total / count for total, count in pools for _ in range(count)]
    return [value + shift for value, shift in zip(level, shifts, strict=False)]


@dataclass(frozen=True, slots=True)
class _Frame:
    """Along the side, and away from the outline: the same sums serve all four sides."""

    side: Side
    base: float

    @classmethod
    def at(cls, side: Side, points: Sequence[Point], base: float | None) -> _Frame:
        if base is None:
            across = [p[1] if side in ("top", "bottom") else p[0] for p in points]
            base = max(across) if side in ("top", "right") else min(across)
        return cls(side, base)

    @property
    def level(self) -> bool:
        return self.side in ("top", "bottom")

    @property
    def outward(self) -> float:
        return 1.0 if self.side in ("top", "right") else -1.0

    @property
    def text_outward(self) -> bool:
        """Whether above the line is also away from the outline."""
        return self.side in ("top", "left")

    def point(self, along: float, depth: float) -> Point:
        away = self.base + self.outward * depth
        return (along, away) if self.level else (away, along)

    def local(self, point: Point) -> Point:
        along, away = point if self.level else (point[1], point[0])
        return along, (away - self.base) * self.outward


class _Drawing:
    """Collects the marks of one string."""

    def __init__(self, frame: _Frame, style: DimensionStyle) -> None:
        self.frame, self.style = frame, style
        self.marks: list[Mark] = []
        self.boxes: list[Box] = []
        self.strips: list[Box] = []

    def line(self, low: float, high: float, depth: float) -> None:
        one, two = self.frame.point(low, depth), self.frame.point(high, depth)
        self.marks.append(Line((one, two), "fine"))
        half = self.style.tick / 2
        self.strips.append((one[0] - half, one[1] - half, two[0] + half, two[1] + half))

    def extensions(self, stations: Sequence[Point], depth: float) -> None:
        rows = []
        for along, start in stations:
            (x1, y1), (x2, y2) = (
                self.frame.point(along, start + self.style.gap),
                self.frame.point(along, depth + self.style.past),
            )
            rows.append((x1, y1, x2, y2))
        self.marks.append(Segments(tuple(rows), "fine"))

    def ticks(self, stations: Sequence[float], depth: float) -> None:
        """Draw strokes that rise to the right as one reads along the line; shorter ones where they are close."""
        rows = []
        for i, along in enumerate(stations):
            room = min([abs(along - other) for j, other in enumerate(stations) if j != i], default=self.style.tick)
            half = max(min(self.style.tick, 1.4 * room), 1.0) / 2 * 0.7071
            x, y = self.frame.point(along, depth)
            lean = half if self.frame.level else -half
            rows.append((x - lean, y - half, x + lean, y + half))
        self.marks.append(Segments(tuple(rows), "feature"))

    def text_above(self, text: str, along: float, depth: float) -> None:
        """Write a text over its line."""
        lift = self.style.lift if self.frame.text_outward else -self.style.lift
        self.write(text, along, depth + lift)

    def write(self, text: str, along: float, depth: float) -> None:
        """Write a text parallel to the line, its foot at ``depth``."""
        height, half = self.style.height, text_width(text, self.style.height) / 2
        x, y = self.frame.point(along, depth)
        if self.frame.level:
            self.marks.append(Text((x, y), text, height, "middle"))
            self.boxes.append((x - half, y - 0.1 * height, x + half, y + height))
        else:
            self.marks.append(Text((x, y), text, height, "middle", angle=90))
            self.boxes.append((x - height, y - half, x + 0.1 * height, y + half))

    def outer_row(self, tight: Sequence[tuple[float, str]], distance: float, depth: float) -> float:
        """Write texts that do not fit in a row beyond everything else; return the new depth."""
        style = self.style
        widths = [text_width(text, style.height) for _, text in tight]
        middles = spread([along for along, _ in tight], widths, style.height)  # less, and two read as one
        near = depth + 1.0  # leaders run straight out to here, then slant
        shift = max(abs(m - along) for m, (along, _) in zip(middles, tight, strict=True))
        far = near + (2.0 if shift > style.pad else 0.0)
        foot = far + 0.6 + (0.0 if self.frame.text_outward else style.height)
        for middle, (along, text) in zip(middles, tight, strict=True):
            run = [self.frame.point(along, distance), self.frame.point(along, near)]
            if far > near:
                run.append(self.frame.point(middle, far))
            self.marks.append(Line(tuple(run), "fine"))
            self.write(text, middle, foot)
        return far + 0.6 + style.height + 0.1 * style.height

    def end_texts(self, texts: Sequence[tuple[float, str]], distance: float) -> float:
        """Write texts at the ends of the extension lines, square to the dimension line; return the depth."""
        style, frame = self.style, self.frame
        end = distance + style.past
        middles = spread([along for along, _ in texts], [style.height] * len(texts), 0.45 * style.height)
        bent = any(abs(m - along) > 0.01 for m, (along, _) in zip(middles, texts, strict=True))
        start = end + (3.0 if bent else 0.0)
        longest = 0.0
        for middle, (along, text) in zip(middles, texts, strict=True):
            if bent:
                self.marks.append(Line((frame.point(along, end), frame.point(middle, start)), "fine"))
            longest = max(longest, text_width(text, style.height))
            self.end_text(text, middle, start + 1.0)
        return start + 1.0 + longest

    def end_text(self, text: str, along: float, depth: float) -> None:
        frame, height = self.frame, self.style.height
        width, half = text_width(text, height), height / 2
        x, y = frame.point(along, depth)
        if frame.level:
            anchor: Anchor = "start" if frame.side == "top" else "end"
            low = y if frame.side == "top" else y - width
            self.marks.append(Text((x + half, y), text, height, anchor, angle=90))
            self.boxes.append((x - half, low, x + half, low + width))
        else:
            anchor = "start" if frame.side == "right" else "end"
            left = x if frame.side == "right" else x - width
            self.marks.append(Text((x, y - half), text, height, anchor))
            self.boxes.append((left, y - half, left + width, y + half))
