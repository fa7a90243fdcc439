"""Tables: columns as wide as what they hold, long text wrapped, rows split over pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from elevation.drawing.marks import Anchor, Line, Mark, Text, Weight
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import DESCENT, PITCH, wrap
from elevation.fonts import text_width

PAD = 1.5
"""Free space left and right of a cell's text, mm."""
AIR = 1.1
"""Free space above and below a cell's text, mm."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        title: Heading.
        anchor: Where its text is lined up; figures end together.
        least: Narrowest text width it may be squeezed to, mm; never narrower than its longest word, if there is room.
        weight: Weight of its cells.
    """

    title: str
    anchor: Anchor = "start"
    least: float = 8.0
    weight: Weight = "regular"


@dataclass(frozen=True)
class Table:
    """A table laid out: widths and lines are fixed, so that its parts on other pages look the same.

    Attributes:
        columns: The columns.
        widths: Width of each column with its free space, mm.
        header: Lines of each heading.
        rows: Lines of each cell, by row.
        text: Height of capitals, mm.
    """

    columns: tuple[Column, ...]
    widths: tuple[float, ...]
    header: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[tuple[str, ...], ...], ...]
    text: float

    @property
    def width(self) -> float:
        """Width over all, mm."""
        return sum(self.widths)

    @cached_property
    def height(self) -> float:
        """Height over all, heading included, mm."""
        return self._row_height(self.header) + sum(self._row_height(row) for row in self.rows)

    def split(self, first: float, following: float | None = None) -> list[Table]:
        """Return the table in parts that fit, each with the heading.

        Args:
            first: Height free on the first page, mm.
            following: Height free on the others; the same if left out.

        Raises:
            ValueError: A page cannot take the heading and the tallest row.
        """
        rest = following if following is not None else first
        parts: list[Table] = []
        part: list[tuple[tuple[str, ...], ...]] = []
        head = self._row_height(self.header)
        used, free = head, first
        for row in self.rows:
            need = self._row_height(row)
            if used + need > free + 1e-9:
                if part or (not parts and free < rest):
                    # nothing on the first page is better than a row that does not fit it
                    parts += [self._with(part)] if part else []
                    part, used, free = [], head, rest
                if used + need > free + 1e-9:
                    raise ValueError(f"a row {need:.1f} mm high does not fit {free:.1f} mm below its heading")
            part.append(row)
            used += need
        return [*parts, self._with(part)]

    def draw(self, x: float, top: float) -> tuple[Mark, ...]:
        """Return the marks of the table with its upper left corner at ``x``, ``top``."""
        marks: list[Mark] = []
        right = x + self.width
        y = top
        marks.append(Line(((x, y), (right, y)), "feature"))
        y = self._draw_row(marks, self.header, x, y, heading=True)
        marks.append(Line(((x, y), (right, y)), "feature"))
        for row in self.rows:
            y = self._draw_row(marks, row, x, y, heading=False)
            marks.append(Line(((x, y), (right, y)), "hatch"))
        if self.rows:
            marks[-1] = Line(((x, y), (right, y)), "feature")
        return tuple(marks)

    def _with(self, rows: Sequence[tuple[tuple[str, ...], ...]]) -> Table:
        return Table(self.columns, self.widths, self.header, tuple(rows), self.text)

    def _row_height(self, row: Sequence[Sequence[str]]) -> float:
        lines = max(map(len, row), default=1)
        return 2 * AIR + self.text * (1 + (lines - 1) * PITCH + DESCENT / 2)

    def _draw_row(
        self, marks: list[Mark], row: Sequence[Sequence[str]], x: float, top: float, *, heading: bool
    ) -> float:
        for column, width, cell in zip(self.columns, self.widths, row, strict=True):
            share = {"start": 0.0, "middle": 0.5, "end": 1.0}[column.anchor]
            at = x + PAD + share * (width - 2 * PAD)
            weight: Weight = "semibold" if heading else column.weight
            for k, line in enumerate(cell):
                y = top - AIR - self.text * (1 + k * PITCH)
                if line:
                    marks.append(Text((at, y), line, self.text, column.anchor, weight))
            x += width
        return top - self._row_height(row)


def lay_out(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], *, width: float | None = None, text: float = NUMBER
) -> Table:
    """Return a table with columns as wide as their content, squeezed and wrapped where that is too wide.

    Args:
        columns: The columns.
        rows: Cells by row, as text.
        width: Most width over all, mm; no limit if left out.
        text: Height of capitals, mm.

    Raises:
        ValueError: A row has not one cell a column.
    """
    for row in rows:
        if len(row) != len(columns):
            raise ValueError(f"a row of {len(row)} cells does not fit {len(columns)} columns: {row!r}")
    wanted, least = [], []
    for k, column in enumerate(columns):
        cells = [(column.title, "semibold"), *((row[k], column.weight) for row in rows)]
        lines = [(line, w) for cell, w in cells for line in cell.splitlines() or [""]]
        wanted.append(max(_measure(line, text, w) for line, w in lines) + 0.01)
        words = [(word, w) for line, w in lines for word in line.split() or [""]]
        least.append(min(wanted[-1], max(column.least, *(_measure(word, text, w) + 0.01 for word, w in words))))
    inner = wanted if width is None else _squeeze(wanted, least, width - 2 * PAD * len(columns))
    header = tuple(wrap(c.title, w, text, "semibold") for c, w in zip(columns, inner, strict=True))
    body = tuple(
        tuple(wrap(cell, w, text, c.weight) for cell, w, c in zip(row, inner, columns, strict=True)) for row in rows
    )
    return Table(tuple(columns), tuple(w + 2 * PAD for w in inner), header, body, text)


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], x: float, top: float, *, width: float | None = None,
    text: float = NUMBER,
) -> tuple[tuple[Mark, ...], float]:  # fmt: skip
    """Return the marks of a table and its height, mm; ``x``, ``top`` is its upper left corner."""
    laid = lay_out(columns, rows, width=width, text=text)
    return laid.draw(x, top), laid.height


def _measure(line: str, height: float, weight: str) -> float:
    return text_width(line, height, "semibold" if weight == "semibold" else "regular")


def _squeeze(wanted: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    """Return widths that add to no more than ``room``: the widest columns give way first, down to their least."""
    if sum(wanted) <= room:
        return list(wanted)
    if sum(least) >= room:
        # words must break: those of the widest columns, so that short words stay whole as long as can be
        wanted, least = least, [0.0] * len(least)
    room = max(room, 1.0)
    low, high = 0.0, max(wanted)
    for _ in range(60):
        limit = (low + high) / 2
        total = sum(max(min(w, limit), m) for w, m in zip(wanted, least, strict=True))
        low, high = (low, limit) if total > room else (limit, high)
    return [max(min(w, low), m) for w, m in zip(wanted, least, strict=True)]
