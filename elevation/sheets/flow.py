"""Blocks of words, tables and small drawings, set one below the other in columns, page after page."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from elevation.drawing.marks import Line, Mark, Text, Weight
from elevation.drawing.pens import NUMBER
from elevation.drawing.table import Column, Table, lay_out
from elevation.drawing.text import DESCENT, PITCH, wrap
from elevation.sheets.base import Body
from elevation.sheets.transform import enlarged

HEADING = 3.5
AFTER = 3.0
"""Free space below a block, mm."""
_SHORT = 14
BEFORE = 2.5
"""Free space above a heading that follows something, mm."""
GUTTER = 9.0
"""Free space between columns, mm."""


class Block(ABC):
    """Something that stands in a column."""

    keep: bool = False
    """It must not stand at the foot of a column: the next block goes with it."""
    after: float = AFTER
    prefers_whole: bool = False
    """It is parted only where even a fresh column does not take it."""

    @abstractmethod
    def height(self, width: float) -> float:
        """Return how much height it takes in a column of a width, mm."""

    @abstractmethod
    def draw(self, x: float, top: float, width: float) -> tuple[Mark, ...]:
        """Return its marks with its upper left corner at ``x``, ``top``."""

    def split(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        """Return what of it fits into ``room`` mm of height, and the rest; a block that fits whole has no rest."""
        return (self, None) if self.height(width) <= room + 1e-9 else (None, self)


@dataclass(slots=True)
class Heading(Block):
    """A heading with a rule below it."""

    text: str
    keep: bool = True
    after: float = 2.0

    def height(self, width: float) -> float:
        """Return its height, mm."""
        return HEADING * (1 + (len(self._lines(width)) - 1) * PITCH) + 1.6

    def _lines(self, width: float) -> tuple[str, ...]:
        return wrap(self.text, width, HEADING, "semibold")

    def draw(self, x: float, top: float, width: float) -> tuple[Mark, ...]:
        """Return its marks."""
        marks: list[Mark] = []
        for n, line in enumerate(self._lines(width)):
            marks.append(Text((x, top - HEADING * (1 + n * PITCH)), line, HEADING, "start", "semibold"))
        y = top - self.height(width)
        return (*marks, Line(((x, y), (x + width, y)), "feature"))


@dataclass(slots=True)
class Words(Block):
    """A paragraph, with a mark at its head that the lines hang from.

    Attributes:
        text: What it says.
        mark: Number or bullet at its head.
        size: Height of capitals, mm.
        weight: Weight of the mark, and of the text when there is no mark.
    """

    text: str
    mark: str = ""
    size: float = NUMBER
    weight: Weight = "regular"
    hang: float = 7.0
    after: float = 1.5
    keep: bool = False

    def _lines(self, width: float) -> tuple[str, ...]:
        return wrap(self.text, width - (self.hang if self.mark else 0.0), self.size, self._weight)

    @property
    def _weight(self) -> Weight:
        return "regular" if self.mark else self.weight

    def height(self, width: float) -> float:
        """Return its height, mm."""
        return self.size * (1 + (len(self._lines(width)) - 1) * PITCH + DESCENT)

    def draw(self, x: float, top: float, width: float) -> tuple[Mark, ...]:
        """Return its marks."""
        marks: list[Mark] = []
        if self.mark:
            marks.append(Text((x, top - self.size), self.mark, self.size, "start", self.weight))
        left = x + (self.hang if self.mark else 0.0)
        for n, line in enumerate(self._lines(width)):
            if line:
                marks.append(Text((left, top - self.size * (1 + n * PITCH)), line, self.size, "start", self._weight))
        return tuple(marks)

    def split(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        """Return the lines that fit and the others; never a line alone on either side."""
        if self.height(width) <= room + 1e-9:
            return self, None
        lines = self._lines(width)
        count = int((room / self.size - 1 - DESCENT) / PITCH + 1 + 1e-9)
        count = min(count, len(lines) - 2)
        if count < 2:
            return None, self
        head = Words("\n".join(lines[:count]), self.mark, self.size, self.weight, self.hang, self.after)
        mark = " " if self.mark else ""
        return head, Words(" ".join(lines[count:]), mark, self.size, self.weight, self.hang, self.after)


@dataclass(slots=True)
class Rows(Block):
    """A table; it breaks between rows and repeats its heading."""

    columns: Sequence[Column]
    rows: Sequence[Sequence[str]]
    size: float = NUMBER
    laid: Table | None = None
    after: float = AFTER + 1.0
    keep: bool = False
    tables: dict[float, Table] = field(default_factory=dict)

    @property
    def prefers_whole(self) -> bool:  # type: ignore[override]
        """Short tables are read as one."""
        return len(self.rows) <= _SHORT

    def _table(self, width: float) -> Table:
        if self.laid is not None:
            return self.laid
        if width not in self.tables:
            self.tables[width] = lay_out(self.columns, self.rows, width=width, text=self.size)
        return self.tables[width]

    def height(self, width: float) -> float:
        """Return its height, mm."""
        return self._table(width).height

    def draw(self, x: float, top: float, width: float) -> tuple[Mark, ...]:
        """Return its marks."""
        return self._table(width).draw(x, top)

    def split(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        """Return the rows that fit, and the others."""
        table = self._table(width)
        if table.height <= room + 1e-9:
            return self, None
        one = Table(table.columns, table.widths, table.header, table.rows[:1], table.text)
        if one.height > room + 1e-9:
            return None, self
        count = 1
        while Table(table.columns, table.widths, table.header, table.rows[: count + 1], table.text).height <= room:
            count += 1
        parts = [
            Rows(self.columns, (), self.size, Table(table.columns, table.widths, table.header, rows, table.text))
            for rows in (table.rows[:count], table.rows[count:])
        ]
        return parts[0], parts[1]


@dataclass(slots=True)
class Fixed(Block):
    """A drawing of known height."""

    tall: float
    make: Callable[[float, float, float], Sequence[Mark]]
    after: float = AFTER
    keep: bool = False

    def height(self, width: float) -> float:
        """Return its height, mm."""
        return self.tall

    def draw(self, x: float, top: float, width: float) -> tuple[Mark, ...]:
        """Return its marks."""
        return tuple(self.make(x, top, width))


def columns_for(width: float, least: float) -> tuple[int, float]:
    """Return how many columns at least ``least`` mm wide fit, and their width, mm."""
    count = max(1, int((width + GUTTER) / (least + GUTTER)))
    return count, (width - GUTTER * (count - 1)) / count


def flow(
    blocks: Sequence[Block], body: Body, *, least: float = 92.0, tops: Sequence[float] = (), even: bool = True,
    then: Body | None = None,
) -> list[tuple[Mark, ...]]:  # fmt: skip
    """Return the marks of each page.

    Args:
        blocks: In order.
        body: Free area of every page.
        least: Narrowest column, mm, before words are enlarged.
        tops: Where each column of the first page starts, when something stands above it.
        even: Where one page holds all, make its columns about equally long.
        then: Free area of the pages after the first, where it differs.
    """
    if body.words != 1.0:
        k = body.words
        small, starts = _small(body), [t / k for t in tops]
        wide = _small(then) if then is not None else None
        pages = flow(blocks, small, least=least, tops=starts, even=even, then=wide)
        return [enlarged(page, k) for page in pages]
    placed = _set(blocks, body, least, tops, body.y, then)
    if not even or len(placed) > 1:
        return [page.draw() for page in placed]
    low, high = body.y, body.top
    for _ in range(12):
        floor = (low + high) / 2
        tried = _set(blocks, body, least, tops, floor)
        if len(tried) == 1 and not _runs_over(blocks, body, least, tops, floor):
            low, placed = floor, tried
        else:
            high = floor
    return [page.draw() for page in placed]


def count_pages(blocks: Sequence[Block], body: Body, *, least: float = 92.0, tops: Sequence[float] = ()) -> int:
    """Return how many pages ``flow`` takes, without drawing them."""
    return len(_set(blocks, _small(body), least, [t / body.words for t in tops], body.y / body.words))


def _small(body: Body) -> Body:
    """Return a free area in the measure of its words."""
    k = body.words
    return replace(body, x=body.x / k, y=body.y / k, width=body.width / k, height=body.height / k, words=1.0)


def _runs_over(blocks: Sequence[Block], body: Body, least: float, tops: Sequence[float], floor: float) -> bool:
    """Tell whether some block is taller than a column, so that it would run past ``floor``."""
    _, width = columns_for(body.width, least)
    room = min([body.top, *tops]) - floor
    return any(b.split(width, room)[0] is None for b in blocks)


@dataclass(slots=True)
class _PageOfBlocks:
    """Blocks with their places on a page: they are drawn once all have found theirs."""

    width: float
    blocks: list[tuple[Block, float, float]] = field(default_factory=list)

    def draw(self) -> tuple[Mark, ...]:
        return tuple(mark for block, x, top in self.blocks for mark in block.draw(x, top, self.width))


class _Pen:
    """Where the next block goes."""

    def __init__(
        self, body: Body, least: float, tops: Sequence[float], floor: float, then: Body | None = None
    ) -> None:
        self.body, self.floor, self.least, self.then = body, floor, least, then
        self.count, self.width = columns_for(body.width, least)
        self.tops = [*tops, *[body.top] * self.count][: self.count]
        self.pages = [_PageOfBlocks(self.width)]
        self.column, self.y, self.fresh = 0, self.tops[0], True

    @property
    def x(self) -> float:
        return self.body.x + self.column * (self.width + GUTTER)

    @property
    def is_short(self) -> bool:
        """Whether something stands above the column, so that a later one has more room."""
        return self.tops[self.column] < self.body.top - 1e-9

    def next_column(self) -> None:
        self.column += 1
        if self.column == self.count:
            if self.then is not None:
                self.body = self.then
                self.count, self.width = columns_for(self.body.width, self.least)
            self.pages.append(_PageOfBlocks(self.width))
            self.column, self.tops = 0, [self.body.top] * self.count
        self.y, self.fresh = self.tops[self.column], True

    def put(self, block: Block) -> None:
        if isinstance(block, Heading) and not self.fresh:
            self.y -= BEFORE
        self.pages[-1].blocks.append((block, self.x, self.y))
        self.y -= block.height(self.width) + block.after
        self.fresh = False


def _set(
    blocks: Sequence[Block], body: Body, least: float, tops: Sequence[float], floor: float, then: Body | None = None
) -> list[_PageOfBlocks]:
    pen = _Pen(body, least, tops, floor, then)
    rest: list[Block] = list(blocks)
    while rest:
        room = pen.y - floor - (0.0 if pen.fresh or not isinstance(rest[0], Heading) else BEFORE)
        head, tail = _parted(rest[0], pen.width, room, fresh=pen.fresh and not pen.is_short)
        if head is not None and not _company_fits(rest, pen.width, room):
            head = None
        if head is None and (not pen.fresh or pen.is_short):
            pen.next_column()
            continue
        if head is None:
            head, tail = rest[0], None  # taller than a page: it stands alone and runs over
        pen.put(head)
        rest[:1] = [tail] if tail is not None else []
    return pen.pages


def _parted(block: Block, width: float, room: float, *, fresh: bool) -> tuple[Block | None, Block | None]:
    """Return what of a block goes here and what goes on; short tables stay whole unless the column is ``fresh``."""
    head, tail = block.split(width, room)
    return (None, block) if tail is not None and block.prefers_whole and not fresh else (head, tail)


def _company_fits(rest: Sequence[Block], width: float, room: float) -> bool:
    """Tell whether a block fits together with what must not be parted from it."""
    for k, block in enumerate(rest):
        if _parted(block, width, room, fresh=k == 0)[0] is None:
            return False
        if not block.keep or k + 1 == len(rest):
            return True
        room -= block.height(width) + block.after
    return True
