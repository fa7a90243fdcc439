"""The cells of a cut sheet: one cut with its sketch, or a table of tapers that are nearly alike."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.drawing.dimensions import dimension_text
from elevation.drawing.marks import Area, Group, Mark, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import PITCH, fit, wrap
from elevation.fonts import text_width
from elevation.pieces.measure import Dimension
from elevation.sheets.base import Body
from elevation.sheets.cut_groups import CutGroup
from elevation.sheets.sketch import Sketch, sketch

GAP = 4.0
"""Free space between cells, mm."""
PAD = 2.0
"""Free space inside a cell, mm."""
SIZE = 3.5
"""Height of a cell's heading, mm."""
BOX = 2.8
"""Side of a box to tick, mm."""
LINE = NUMBER * PITCH
_MOST_ROWS = 9
"""Lines of numbers in a cell; more go to a cell of their own."""
_APART = 2.5
"""Least space between a cut's size and how many there are, mm."""


class Cell(ABC):
    """A cell of the sheet.

    Attributes:
        least: Narrowest width it can be drawn in, mm.
        cautions: Keys of the cautions its tools call for.
    """

    least: float
    cautions: tuple[str, ...]

    @abstractmethod
    def height(self, width: float) -> float:
        """Return how high it is at a width, mm."""

    @abstractmethod
    def draw(self, x: float, top: float, width: float, height: float) -> tuple[Mark, ...]:
        """Return its marks, its upper left corner at ``x``, ``top``."""


def _border(x: float, top: float, width: float, height: float) -> Area:
    return Area((((x, top - height), (x + width, top - height), (x + width, top), (x, top)),), "hatch")


def _tick_box(x: float, y: float) -> Area:
    low = y - (BOX - NUMBER) / 2
    return Area((((x, low), (x + BOX, low), (x + BOX, low + BOX), (x, low + BOX)),), "fine")


@dataclass(frozen=True, slots=True)
class SketchCell(Cell):
    """One cut: size, quantity, sketch, fence, tool, and a box for each piece."""

    group: CutGroup
    drawn: Sketch
    numbers: tuple[str, ...]
    more: str
    order: int
    named: bool
    least: float
    cautions: tuple[str, ...]

    @classmethod
    def of(cls, group: CutGroup, ratio: int, body: Body, order: int, *, named: bool) -> Iterator[SketchCell]:
        """Yield the cell of a group; several when it has more numbers than a cell takes.

        Args:
            group: The cuts.
            ratio: Scale 1:n.
            body: Free area of the sheet.
            order: Its place in cutting order on its wall.
            named: Say which tile it is.
        """
        drawn = sketch(group.first, group.measure, ratio, body.unit, mitred=group.mitred)
        least = max(62.0, drawn.width + 2 * PAD)
        head = f"{order}) {dimension_text(group.measure.size)}{_quantity(len(group.pieces))}"
        least = max(least, text_width(head, SIZE, "semibold") + 2 * PAD + _APART)
        across = max(1, int((least - 2 * PAD) / _number_width(group.numbers)))
        most = across * _MOST_ROWS
        chunks = [group.numbers[i : i + most] for i in range(0, len(group.numbers), most)]
        for k, numbers in enumerate(chunks):
            more = f", part {k + 1} of {len(chunks)}" if len(chunks) > 1 else ""
            least = max(least, text_width(head + more, SIZE, "semibold") + 2 * PAD + _APART)
            yield cls(group, drawn, numbers, more, order, named, least, group.tool.cautions)

    def _words(self, width: float) -> list[str]:
        group = self.group
        said = [group.tile.name] if self.named else []
        fence = group.measure.fence
        if fence is not None:
            side = "width" if fence[0] == "x" else "height"
            said.append(f"Fence {dimension_text(fence[2])} ({side})")
        said.append(_factory(group))
        said.append(group.tool.text)
        said += [r[0].upper() + r[1:] for r in group.measure.remarks]
        return list(wrap(". ".join(said) + ".", width - 2 * PAD, NUMBER))

    def _rows(self, width: float) -> list[tuple[str, ...]]:
        across = max(1, int((width - 2 * PAD) / _number_width(self.group.numbers)))
        return [self.numbers[i : i + across] for i in range(0, len(self.numbers), across)]

    def height(self, width: float) -> float:
        """Return its height, mm."""
        lines = len(self._words(width)) + len(self._rows(width))
        return 2 * PAD + SIZE * PITCH + 1.0 + self.drawn.height + 2.0 + lines * LINE + 0.6

    def draw(self, x: float, top: float, width: float, height: float) -> tuple[Mark, ...]:
        """Return its marks."""
        group = self.group
        marks: list[Mark] = [_border(x, top, width, height)]
        y = top - PAD - SIZE
        quantity = f"{_quantity(len(group.pieces))}{self.more}"
        wide = text_width(quantity, SIZE, "semibold")
        size = fit(
            f"{self.order}) {dimension_text(group.measure.size)}", width - 2 * PAD - wide - _APART, SIZE, "semibold"
        )
        marks.append(Text((x + PAD, y), size, SIZE, "start", "semibold"))
        marks.append(Text((x + width - PAD, y), quantity, SIZE, "end", "semibold"))
        y -= SIZE * (PITCH - 1) + 1.0
        words, rows = self._words(width), self._rows(width)
        foot = top - height + PAD + (len(words) + len(rows)) * LINE + 1.0
        # what is over goes above and below the sketch
        spare = (y - foot - 1.5 - self.drawn.height) / 2
        shown = self.drawn.moved_to(x + (width - self.drawn.width) / 2, y - spare - self.drawn.height)
        data = (
            ("numbers", " ".join(self.numbers)),
            ("size", group.measure.size),
            ("quantity", str(len(self.numbers))),
        )
        marks.append(Group(shown, "", "cut-sketch", f"{group.measure.size}", data))
        y = foot - NUMBER
        for line in words:
            marks.append(Text((x + PAD, y), line, NUMBER))
            y -= LINE
        y -= 1.0
        step = _number_width(group.numbers)
        for row in rows:
            for k, number in enumerate(row):
                at_x = x + PAD + k * step
                marks.append(_tick_box(at_x, y))
                marks.append(Text((at_x + BOX + 1.0, y), number, NUMBER, "start", "semibold"))
            y -= LINE
        return tuple(marks)


def _quantity(count: int) -> str:
    return f"{count} pieces" if count > 1 else "1 piece"


def _factory(group: CutGroup) -> str:
    edges = group.first.factory_edges
    if len(edges) == 4:
        return "All four edges factory, as far as they are left"
    return f"Factory edge{'s' if len(edges) > 1 else ''} {', '.join(edges)}" if edges else "No factory edge"


def _number_width(numbers: Sequence[str]) -> float:
    return max(text_width(n, NUMBER, "semibold") for n in numbers) + BOX + 1.0 + 3.0


@dataclass(frozen=True, slots=True)
class TaperCell(Cell):
    """Tapers that differ by little: one sketch with letters, and a table of their numbers."""

    groups: tuple[CutGroup, ...]
    drawn: Sketch
    rows: tuple[tuple[str, ...], ...]
    columns: tuple[float, ...]
    more: str
    order: int
    named: bool
    least: float
    cautions: tuple[str, ...]

    @classmethod
    def of(cls, groups: Sequence[CutGroup], ratio: int, body: Body, order: int, *, named: bool) -> Iterator[TaperCell]:
        """Yield the cell of a run of tapers; several when the table is long."""
        first = groups[0]
        drawn = sketch(first.first, first.measure, ratio, body.unit)
        rows = [
            (number, *(_value(d) for d in group.measure.dimensions)) for group in groups for number in group.numbers
        ]
        head = ("Number", *_heads(first))
        widths = []
        for k, title in enumerate(head):
            widest = max(text_width(row[k], NUMBER, "semibold" if k == 0 else "regular") for row in rows)
            word = max(text_width(part, NUMBER) for part in title.split())
            widths.append(max(widest, word) + 3.0)
        least = max(62.0, drawn.width + 2 * PAD, sum(widths) + BOX + 1.0 + 2 * PAD)
        cautions = tuple(dict.fromkeys(c for g in groups for c in g.tool.cautions))
        room = body.height - 60.0 - drawn.height
        most = max(4, int(room / LINE))
        chunks = [rows[i : i + most] for i in range(0, len(rows), most)]
        for k, chunk in enumerate(chunks):
            more = f", part {k + 1} of {len(chunks)}" if len(chunks) > 1 else ""
            yield cls(tuple(groups), drawn, tuple(chunk), tuple(widths), more, order, named, least, cautions)

    def _words(self, width: float) -> list[str]:
        first = self.groups[0]
        tools = list(dict.fromkeys(g.tool.text for g in self.groups))
        said = [first.tile.name] if self.named else []
        said += ["Drawn: the first of the list, the others differ as written", _factory(first), *tools]
        said += [r[0].upper() + r[1:] for r in first.measure.remarks]
        return list(wrap(". ".join(said) + ".", width - 2 * PAD, NUMBER))

    def _head(self) -> list[tuple[str, ...]]:
        names = ("Number", *_heads(self.groups[0]))
        return [wrap(n, w - 2.9, NUMBER) for n, w in zip(names, self.columns, strict=True)]

    def height(self, width: float) -> float:
        """Return its height, mm."""
        lines = len(self._words(width)) + len(self.rows) + max(len(h) for h in self._head())
        return 2 * PAD + SIZE * PITCH + 1.0 + self.drawn.height + 2.0 + lines * LINE + 2.0

    def draw(self, x: float, top: float, width: float, height: float) -> tuple[Mark, ...]:
        """Return its marks."""
        marks: list[Mark] = [_border(x, top, width, height)]
        y = top - PAD - SIZE
        count = sum(len(g.pieces) for g in self.groups)
        quantity = f"{count} pieces{self.more}"
        marks.append(Text((x + PAD, y), f"{self.order}) Tapers", SIZE, "start", "semibold"))
        marks.append(Text((x + width - PAD, y), quantity, SIZE, "end", "semibold"))
        y -= SIZE * (PITCH - 1) + 1.0
        shown = self.drawn.moved_to(x + (width - self.drawn.width) / 2, y - 0.5 - self.drawn.height)
        marks.append(Group(shown, "", "cut-sketch", "tapers", (("numbers", " ".join(r[0] for r in self.rows)),)))
        y -= self.drawn.height + 2.5 + NUMBER
        for line in self._words(width):
            marks.append(Text((x + PAD, y), line, NUMBER))
            y -= LINE
        y -= 1.0
        head = self._head()
        for row in range(max(len(h) for h in head)):
            at_x = x + PAD + BOX + 1.0
            for words, wide in zip(head, self.columns, strict=True):
                if row < len(words):
                    marks.append(Text((at_x, y), words[row], NUMBER))
                at_x += wide
            y -= LINE
        for values in self.rows:
            marks.append(_tick_box(x + PAD, y))
            at_x = x + PAD + BOX + 1.0
            for k, (value, wide) in enumerate(zip(values, self.columns, strict=True)):
                marks.append(Text((at_x, y), value, NUMBER, "start", "semibold" if k == 0 else "regular"))
                at_x += wide
            y -= LINE
        return tuple(marks)


def _heads(group: CutGroup) -> list[str]:
    """Return what each number of a taper is; of the two ends of one, which end it is as the tile faces you."""
    tapered = [d for axis in ("x", "y") for d in group.measure.taper(axis) or ()]
    return [f"{d.side} {d.label.split()[-1]}" if d in tapered else d.label for d in group.measure.dimensions]


def _value(d: Dimension) -> str:
    text = dimension_text(d.text)
    return f"({text})" if d.full else text
