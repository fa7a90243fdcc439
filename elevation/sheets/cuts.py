"""The cut sheet: every distinct cut to scale, from its factory edges, in cutting order, with a box for each piece."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import ClassVar

from elevation.drawing.marks import Line, Mark, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import fit, wrap
from elevation.drawing.view import scale_text, scales
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.cut_cells import GAP, PAD, Cell, SketchCell, TaperCell
from elevation.sheets.cut_groups import CAUTIONS, CutGroup, cut_groups
from elevation.sheets.flow import HEADING
from elevation.sheets.stacking import stacking_pages

LEGEND = (
    "Seen from the face. Heavy line: the piece; hatched: waste. Two strokes across an edge: factory edge, which"
    " dimensions are taken from. In brackets: not cut. Write the number on the back."
)
_HEAD = HEADING + 4.0
_BRIEF = 4
"""Fewer near-alike tapers than this are drawn one by one."""


_ALIKE = 26.0
"""Tapers whose sizes differ by more than about an inch are drawn apart, mm."""


@dataclass(frozen=True, slots=True)
class _Section:
    """The cells of a wall at one scale."""

    wall: str
    title: str
    ratio: int
    cells: tuple[Cell, ...]


class Cuts(Sheet):
    """The cut sheet."""

    kind: ClassVar[str] = "cuts"
    aside: ClassVar[bool] = True
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield its pages; none when every tile is whole."""
        sections = list(_sections(plan, body))
        count = 0
        for ratio, same in groupby(sorted(sections, key=lambda s: s.ratio), key=lambda s: s.ratio):
            for walls, marks in _pages(list(same), body):
                count += 1
                names = ", ".join(walls)
                word = "wall" if len(walls) == 1 else "walls"
                yield Content(
                    str(count), f"Cut sheet, {word} {names}", scale_text(ratio, body.unit), float(ratio), marks,
                    f"Cuts of {word} {names} in cutting order, to scale, with dimensions from factory edges.",
                )  # fmt: skip
        yield from stacking_pages(plan, body)


def _sections(plan: Plan, body: Body) -> Iterator[_Section]:
    titles = {w.face.id: w.face.title for w in plan.walls}
    for wall, groups in cut_groups(plan):
        by_ratio: dict[int, list[CutGroup]] = {}
        for group in groups:
            by_ratio.setdefault(_ratio(group, body), []).append(group)
        for ratio, same in sorted(by_ratio.items()):
            number = sum(len(g.pieces) for g in same)
            # cuts of a wall in two places would seem to be all of them in each
            tiles = dict.fromkeys(plan.job.tile[g.first.tile].name for g in same) if len(by_ratio) > 1 else ()
            name = ", ".join((wall, *tiles))
            title = f"Wall {name}: {_count(number, 'cut')} of {_count(len(same), 'kind')}.   {titles[wall]}"
            yield _Section(wall, title, ratio, tuple(_cells(same, ratio, body, named=len(plan.job.tile) > 1)))


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def _ratio(group: CutGroup, body: Body) -> int:
    """Return the scale at which a tile takes about a quarter of the sheet's width, so that rows hold several."""
    long, short = group.tile.length, group.tile.width
    width, height = (short, long) if group.first.upright else (long, short)
    wide = max(80.0, 0.135 * body.width)
    for ratio in scales(body.unit):
        if width / ratio <= min(wide, 0.36 * body.width) and height / ratio <= min(
            max(70.0, 0.2 * body.height), 0.36 * body.height
        ):
            return ratio
    return scales(body.unit)[-1]


def _cells(groups: Sequence[CutGroup], ratio: int, body: Body, *, named: bool) -> Iterator[Cell]:
    """Yield cells, numbered in cutting order; a run of near-alike tapers as one table."""
    runs: list[list[CutGroup]] = []
    for group in groups:
        mine = next((r for r in runs if group.first.kind == "tapered" and _near(r[0], group)), None)
        if mine is None:
            runs.append([group])
        else:
            mine.append(group)
    order = 0
    for run in runs:
        if len(run) >= _BRIEF:
            order += 1
            yield from TaperCell.of(run, ratio, body, order, named=named)
            continue
        for group in run:
            order += 1
            yield from SketchCell.of(group, ratio, body, order, named=named)


def _near(one: CutGroup, two: CutGroup) -> bool:
    """Tell whether two tapers may share a table: same tile, dimensions, factory edges, and nearly the same size."""
    if (one.first.kind, one.first.tile, one.first.upright) != (two.first.kind, two.first.tile, two.first.upright):
        return False
    a, b = one.measure.dimensions, two.measure.dimensions
    if [(d.label, d.origin, d.full) for d in a] != [(d.label, d.origin, d.full) for d in b]:
        return False
    near = all(abs(p.mm - q.mm) <= _ALIKE for p, q in zip(a, b, strict=True))
    return near and one.first.factory_edges == two.first.factory_edges


class _Grid:
    """Columns of a page that are filled in order, each cell where there is most room."""

    def __init__(self, body: Body, cells: Sequence[Cell]) -> None:
        self.body = body
        least = sorted(cell.least for cell in cells)
        usual = least[(3 * len(least)) // 4 if len(least) > 3 else -1]
        self.count = max(1, int((body.width + GAP) / (min(usual, body.width) + GAP)))
        self.width = (body.width - GAP * (self.count - 1)) / self.count
        self.tops = [body.top] * self.count
        self.marks: list[Mark] = []
        self.walls: list[str] = []
        self.cautions: list[str] = []

    def heading(self, text: str) -> None:
        """Write a wall's name across the page, below all that stands so far."""
        top = min(self.tops)
        self.marks += _heading(text, self.body, top)
        self.tops = [top - _HEAD] * self.count

    def span(self, cell: Cell) -> tuple[int, float]:
        """Return how many columns a cell takes, and how wide it is then."""
        count = min(self.count, max(1, math.ceil((cell.least - 1e-6 + GAP) / (self.width + GAP))))
        return count, count * (self.width + GAP) - GAP

    def place(self, cell: Cell, extra: float = 0.0) -> tuple[int, float] | None:
        """Return column and top for a cell, ``None`` where the page is full; ``extra`` goes before it."""
        count, width = self.span(cell)
        starts = range(self.count - count + 1)
        tops = [min(self.tops) if extra else min(self.tops[k : k + count]) for k in starts]
        column = max(starts, key=lambda k: (tops[k], -k))
        wanted = list(dict.fromkeys([*self.cautions, *cell.cautions]))
        if tops[column] - extra - cell.height(width) < self.body.y + _foot_height(wanted, self.body):
            return None
        return column, tops[column]

    def put(self, cell: Cell, wall: str) -> None:
        """Draw a cell where there is most room, whether it fits or not."""
        count, width = self.span(cell)
        found = self.place(cell)
        column, top = found if found is not None else (0, min(self.tops))
        tall = cell.height(width)
        self.marks += cell.draw(self.body.x + column * (self.width + GAP), top, width, tall)
        self.tops[column : column + count] = [top - tall - GAP] * count
        self.walls.append(wall)
        self.cautions = list(dict.fromkeys([*self.cautions, *cell.cautions]))

    def page(self) -> tuple[tuple[str, ...], tuple[Mark, ...]]:
        """Return what the page shows, and start the next one."""
        found = tuple(dict.fromkeys(self.walls)), (*self.marks, *_foot(self.cautions, self.body))
        self.tops = [self.body.top] * self.count
        self.marks, self.walls, self.cautions = [], [], []
        return found


def _pages(sections: Sequence[_Section], body: Body) -> Iterator[tuple[tuple[str, ...], tuple[Mark, ...]]]:
    """Yield the walls and the marks of each page of one scale."""
    grid = _Grid(body, [cell for s in sections for cell in s.cells])
    for section in sections:
        headed = False
        for cell in section.cells:
            if grid.walls and grid.place(cell, 0.0 if headed else _HEAD) is None:
                yield grid.page()
            if not headed:
                grid.heading(section.title)
            elif not grid.walls:
                grid.heading(f"Wall {section.wall}, continued")
            headed = True
            grid.put(cell, section.wall)
    if grid.walls:
        yield grid.page()


def _heading(text: str, body: Body, top: float) -> list[Mark]:
    y = top - HEADING - 1.4
    line = fit(text, body.width, HEADING, "semibold")
    return [
        Text((body.x, top - HEADING), line, HEADING, "start", "semibold"),
        Line(((body.x, y), (body.right, y)), "feature"),
    ]


def _foot_lines(cautions: Sequence[str], body: Body) -> list[str]:
    said = " ".join(CAUTIONS[c] for c in CAUTIONS if c in cautions)
    return [
        *wrap(LEGEND, body.width, NUMBER),
        *wrap(f"Caution. {said} Follow the maker's instructions.", body.width, NUMBER),
    ]


def _foot_height(cautions: Sequence[str], body: Body) -> float:
    return len(_foot_lines(cautions, body)) * NUMBER * 1.6 + PAD


def _foot(cautions: Sequence[str], body: Body) -> list[Mark]:
    """Return the legend and the cautions of the tools on a page, at its foot."""
    marks: list[Mark] = []
    lines = _foot_lines(cautions, body)
    y = body.y + (len(lines) - 1) * NUMBER * 1.6 + 0.8
    top = y + NUMBER + 1.6
    marks.append(Segments(((body.x, top, body.right, top),), "rule"))
    for line in lines:
        marks.append(Text((body.x, y), line, NUMBER))
        y -= NUMBER * 1.6
    return marks
