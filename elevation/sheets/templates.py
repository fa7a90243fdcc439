"""Full-size templates of the cuts that a number does not describe: 1:1 on Letter or A4, whatever the set's paper."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import ClassVar

from elevation.drawing.dimensions import dimension_text
from elevation.drawing.marks import Mark, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import PITCH, fit, wrap
from elevation.drawing.view import scale_text
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.slim import Area, slim_area, slim_papers
from elevation.sheets.template_parts import (
    CLEAR,
    OVERLAP,
    Spread,
    Template,
    Window,
    drawn,
    registration,
    spread,
    templates,
)
from elevation.units import Unit, format_length

_HEAD = 5.0
_LINE = NUMBER * PITCH
_GAP = 4.0
_LEAST = 70.0
"""Narrowest cell, mm: the words below a small template need it."""
_LEGEND = "Hatched: waste. Two strokes: factory edge. Dashed: edge of the whole tile."


@dataclass(frozen=True, slots=True)
class _Cell:
    """A template that fits a page, with its words below."""

    template: Template
    words: tuple[str, ...]
    width: float
    height: float

    @classmethod
    def of(cls, template: Template, unit: Unit) -> _Cell:
        x0, y0, x1, y1 = template.frame
        width = max(x1 - x0, _LEAST)
        words = wrap(_words(template, unit), width - 2 * CLEAR, NUMBER)
        return cls(template, words, width, _HEAD + 2.0 + y1 - y0 + 1.0 + len(words) * _LINE)

    def draw(self, x: float, top: float, unit: Unit) -> Iterator[Mark]:
        """Yield its marks, its upper left corner at ``x``, ``top``."""
        _, y0, _, y1 = self.template.frame
        head = fit(_head(self.template), self.width - CLEAR, _HEAD, "semibold")
        yield Text((x + CLEAR, top - _HEAD), head, _HEAD, "start", "semibold")
        low = top - _HEAD - 2.0 - (y1 - y0)
        yield from drawn(self.template, self.template.frame, (x, low), unit)
        for k, line in enumerate(self.words):
            yield Text((x + CLEAR, low - 1.0 - NUMBER - k * _LINE), line, NUMBER)


@dataclass(slots=True)
class _Page:
    """Cells in rows from the top, each row as high as its highest."""

    area: Area
    cells: list[tuple[_Cell, float, float]] = field(default_factory=list)
    x: float = 0.0
    top: float = 0.0
    row: float = 0.0

    def __post_init__(self) -> None:
        self.x, self.top = self.area.x, self.area.top

    def put(self, cell: _Cell) -> bool:
        """Place a cell; false where the page is full."""
        x, top, row = self.x, self.top, self.row
        if x > self.area.x and x + cell.width > self.area.x + self.area.width + 1e-6:
            x, top, row = self.area.x, top - row - _GAP, 0.0
        if top - cell.height < self.area.y - 1e-6:
            return False
        self.cells.append((cell, x, top))
        self.x, self.top, self.row = x + cell.width + _GAP, top, max(row, cell.height)
        return True

    def draw(self, unit: Unit) -> tuple[Mark, ...]:
        """Return the marks of all cells."""
        return tuple(mark for cell, x, top in self.cells for mark in cell.draw(x, top, unit))


class Templates(Sheet):
    """Full-size templates."""

    kind: ClassVar[str] = "templates"
    aside: ClassVar[bool] = True
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield small templates, several on a page, then those that take several; none where no cut needs one."""
        found = templates(plan)
        lying, upright = slim_papers(body.unit)
        turned = [t for t in found if _fits(t, slim_area(upright), body.unit)]
        others = [t for t in found if t not in turned]
        ways = [
            list(_pages(found, lying, body.unit)),
            [*_pages(turned, upright, body.unit), *_pages(others, lying, body.unit)],
            list(_pages(found, upright, body.unit)),
        ]
        fewest = min(len(pages) for pages in ways)
        for count, ready in enumerate(next(w for w in ways if len(w) == fewest), 1):
            yield _content(count, ready, body.unit)


def _fits(template: Template, area: Area, unit: Unit) -> bool:
    cell = _Cell.of(template, unit)
    return cell.width <= area.width and cell.height <= area.height


@dataclass(frozen=True, slots=True)
class _Ready:
    """A page that is settled; it is drawn only if its paper is the one taken."""

    title: str
    draw: Callable[[], tuple[Mark, ...]]
    paper: str


def _pages(found: Sequence[Template], paper: str, unit: Unit) -> Iterator[_Ready]:
    """Yield every page, all on one paper: small templates first, packed."""
    area = slim_area(paper)
    small = [_Cell.of(t, unit) for t in found if _fits(t, area, unit)]
    for page in _packed(small, area):
        numbers = ", ".join(n for cell, _, _ in page.cells for n in cell.template.numbers)
        title = f"Template{'s' if ', ' in numbers else ''} {numbers}"
        yield _Ready(title, partial(page.draw, unit), paper)
    for template in found:
        if not _fits(template, area, unit):
            yield from _spread_pages(template, paper, unit)


def _content(count: int, page: _Ready, unit: Unit) -> Content:
    description = f"{page.title}: full size, seen from the face, waste hatched, factory edges marked."
    return Content(
        str(count), page.title, scale_text(1, unit), None, page.draw(), description, full_size=True, paper=page.paper
    )


def _packed(cells: Sequence[_Cell], area: Area) -> Iterator[_Page]:
    """Yield pages of cells, high ones first, so that rows are filled well."""
    pages: list[_Page] = []
    for cell in sorted(cells, key=lambda c: (-round(c.height, 3), c.template.first.order)):
        if not any(page.put(cell) for page in pages):
            pages.append(_Page(area))
            pages[-1].put(cell)
    yield from pages


def _spread_pages(template: Template, paper: str, unit: Unit) -> Iterator[_Ready]:
    """Yield every page of a template that takes several, from the upper left."""
    area = slim_area(paper)
    words = _words(template, unit)
    taped = f"{words} Fold or cut at the dashed line, lay mark on mark, tape."
    if template.is_whole_tile:
        corner = format_length(math.hypot(*template.size), 0.5 if unit == "mm" else 25.4 / 32, unit)
        taped += f" Taped, the tile measures {corner} {unit} from corner to corner."
    lines = wrap(taped, area.width, NUMBER)
    found = spread(template, area.width, area.height - _HEAD - 3.0 - len(lines) * _LINE)
    many = len(found.windows) > 1
    for window in found.windows:
        title = f"Template {template.numbers[0]}"
        if many:
            title += f", page {window.row}-{window.column} of {found.rows}x{found.columns}"
        said = lines if many else wrap(words, area.width, NUMBER)
        yield _Ready(title, partial(_spread_marks, template, area, unit, title, said, found, window), paper)


def _spread_marks(
    template: Template, area: Area, unit: Unit, title: str, said: Sequence[str], found: Spread, window: Window
) -> tuple[Mark, ...]:
    """Return the marks of one page of a template that takes several."""
    marks: list[Mark] = []
    head = f"{_head(template)}   {title.partition(', ')[2]}".strip()
    marks.append(
        Text((area.x, area.top - _HEAD), fit(head, area.width, _HEAD, "semibold"), _HEAD, "start", "semibold")
    )
    y = area.top - _HEAD - 2.0 - NUMBER
    for line in said:
        marks.append(Text((area.x, y), line, NUMBER))
        y -= _LINE
    at = (area.x, area.y)
    shared = OVERLAP if len(found.windows) > 1 else 0.0
    marks += drawn(template, window.box, at, unit, shared=shared)
    marks += registration(found, window.box, at, unit)
    return tuple(marks)


def _head(template: Template) -> str:
    more = len(template.numbers) - 1
    return template.numbers[0] + (f" and {more} more" if more else "")


def _words(template: Template, unit: Unit) -> str:
    """Return what stands beside a template."""
    edges = template.first.factory_edges
    factory = f"Factory edges {', '.join(edges)}." if edges else "No factory edge."
    size = f"{dimension_text(template.measure.size)} {unit} as on the cut sheet, of {template.tile.name}."
    which = f"For {', '.join(template.numbers)}. " if len(template.numbers) > 1 else ""
    remarks = "".join(f" {r[0].upper()}{r[1:]}." for r in template.measure.remarks)
    more = "" if template.is_whole_tile else " Beyond what is shown the tile goes on."
    return f"{which}Face up, arrow up. {size} {factory}{remarks} {_LEGEND}{more}"
