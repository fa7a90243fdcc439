"""Elevations: every wall drawn to scale with its cuts numbered, dimensioned, and its course list beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from elevation.drawing.labels import PAD
from elevation.drawing.marks import Mark
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View, scale_text, scales
from elevation.layout import LaidFace, start_words
from elevation.pieces import Piece
from elevation.pieces.numbers import prefix
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Sheet
from elevation.sheets.course_list import CourseRow, ListLine, Sizes, course_rows, list_lines
from elevation.sheets.shelf_notes import shelf_notes
from elevation.sheets.wall_dimensions import wall_chains
from elevation.sheets.wall_figure import Figure, Window, wall_figure
from elevation.sheets.wall_labels import LEGIBLE, fits_inside
from elevation.sheets.wall_panel import Block, Flow, edge_block, flow, legend_block, list_block, note_block, pages
from elevation.sheets.wall_trims import legend_words
from elevation.sheets.wall_view import Drawn, wall_marks
from elevation.units import format_length
from elevation.wall import is_field

LARGEST = {"in": 4, "mm": 5}
"""Elevations are not drawn larger than this."""
SMALLEST = {"in": 48, "mm": 50}
"""Nor smaller: a wall that needs more is broken over several pages."""
_GAP = 10.0  # mm between drawing and panel
_NOTE_WIDTH = 84.0
_MOST_PARTS = 6  # a wall is broken into so many for the sake of its numbers
_MANY = 0.1  # share of the cuts: so many more with their number inside are worth another page
_CROWDED = 0.4  # share of the cuts: with more numbers than that on leaders a drawing is hard to read
_PART = "Part {} of {}; the parts meet at the match lines."
_TOLD = 24  # numbers that a note names one by one
_LIST_TEXTS = (3.5, 2.5)


def printed_sizes(plan: Plan, body: Body) -> Sizes:
    """Return how the width and height of a piece are printed: cuts as they are measured everywhere in the set."""
    cuts = plan.measures

    def sizes(piece: Piece) -> tuple[str, str]:
        cut = cuts.get(piece.id)
        if cut is not None:
            return cut.width, cut.height
        return format_length(piece.width, body.step, body.unit), format_length(piece.height, body.step, body.unit)

    return sizes


@dataclass(frozen=True)
class _Layout:
    """A way to fill the page.

    Attributes:
        ratio: The drawing's scale.
        panel: What stands with it.
        beside: Beside the drawing, or below it.
        holds: What the panel holds: ``list``, ``edges`` or ``notes``; each holds what follows it too.
        text: Height of the list's text, mm.
    """

    ratio: int
    panel: Flow
    beside: bool
    holds: str
    text: float


class ElevationSheet(Sheet):
    """One wall a page, with its course list; more pages where one does not take both."""

    kind = "elevation"

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of every wall, in the order of the job."""
        sizes = printed_sizes(plan, body)
        for laid in plan.walls:
            yield from _WallPages(plan, laid, body, sizes).pages()


class _WallPages:
    """Composes the pages of one wall."""

    def __init__(self, plan: Plan, laid: LaidFace, body: Body, sizes: Sizes) -> None:
        self.plan, self.laid, self.body = plan, laid, body
        self.working = body.edition != "homeowner"
        self.sizes = sizes
        self.rows: tuple[CourseRow, ...] = course_rows(plan, laid, self.sizes) if self.working else ()
        self.lines: tuple[ListLine, ...] = list_lines(self.rows) if body.edition == "installer" else ()
        self.chains = wall_chains(plan, laid, self.rows, sizes, body.step, body.unit, working=self.working)
        self.figures: dict[int, Figure] = {}
        self.lists: dict[float, Block | None] = {}
        self.used = self._used()
        self.untold = ""
        self.title = f"Wall {laid.face.id}, {laid.face.title}"

    def pages(self) -> Iterator[Content]:
        layout = self._layout()
        parts = self._legible() if layout is None or self._loses_numbers(layout.ratio) else None
        if layout is not None and parts is None:
            parts = self._calmer(layout.ratio)
        if layout is None and parts is None:
            smallest = self._ratios()[-1]
            parts = smallest, self._windows(smallest, 10_000)
        if parts is not None:
            yield from self._broken(*parts)
            return
        assert layout is not None
        marks = self._drawn(layout, self._figure(layout.ratio))
        yield self._content(self.laid.face.id, self.title, layout.ratio, marks)
        if self.untold or (layout.holds != "list" and self.working):
            with_list, with_tables = layout.holds != "list", layout.holds == "notes"
            yield from self._more_pages(2, with_list=with_list, with_tables=with_tables)

    # ---- which layout

    def _layout(self) -> _Layout | None:
        """Return the layout at the largest scale; less stands beside the drawing where that helps the numbers."""
        best: _Layout | None = None
        for text in _LIST_TEXTS if self.lines else ():
            found = self._largest("list", text)
            if found is not None and (best is None or found.ratio < best.ratio):
                best = found
        for beside in ("edges", "notes") if self.working else ("notes",):
            found = self._largest(beside)
            if found is None:
                continue
            if best is None or (found.ratio < best.ratio and self._helps(best.ratio, found.ratio)):
                best = found
        return best

    def _helps(self, one: int, two: int) -> bool:
        """Tell whether many more numbers stand inside their cuts at the second scale than at the first."""
        return self._outside(one) - self._outside(two) > _MANY

    def _outside(self, ratio: int) -> float:
        """Return the share of the cuts whose number does not fit inside."""
        cuts = [p for p in self.plan.pieces_of(self.laid.face.id) if p.number is not None]
        out = sum(not fits_inside(p.number or "", p.width / ratio, p.height / ratio) for p in cuts)
        return out / len(cuts) if cuts else 0.0

    def _ratios(self) -> list[int]:
        unit = self.body.unit
        return [r for r in scales(unit) if LARGEST[unit] <= r <= SMALLEST[unit]]

    def _largest(self, beside: str, text: float = 2.5) -> _Layout | None:
        """Return the layout at the largest scale with the list, the edges or only notes beside the drawing."""
        for ratio in self._ratios():
            found = self._around(self._figure(ratio), beside, text)
            if found is not None:
                return found
        return None

    def _around(self, figure: Figure, holds: str, text: float = 2.5, more: Sequence[str] = ()) -> _Layout | None:
        """Return the layout of a drawing with its panel beside it, or below; ``None`` when they do not fit."""
        width, height = figure.size
        if width > self.body.width or height > self.body.height:
            return None
        blocks = self._blocks(holds, text, figure, more)
        column = flow(blocks, self.body.height)
        if column is not None and column.width + _GAP + width <= self.body.width:
            return _Layout(figure.ratio, column, True, holds, text)
        below = flow(blocks, self.body.height - height - _GAP)
        if below is not None and below.width <= self.body.width:
            return _Layout(figure.ratio, below, False, holds, text)
        return None

    def _figure(self, ratio: int, window: Window | None = None) -> Figure:
        if window is None and ratio in self.figures:
            return self.figures[ratio]
        figure = Figure(self.plan, self.laid, self.rows, self.sizes, self.body, ratio, window, self.chains)
        if window is None:
            self.figures[ratio] = figure  # several panels are tried with the same drawing
        return figure

    def _blocks(self, holds: str, text: float, figure: Figure, more: Sequence[str] = ()) -> list[Block]:
        blocks: list[Block | None] = []
        if holds == "list":
            blocks.append(self._list(text))
        if holds != "notes":
            blocks += self._tables
        blocks.append(note_block([*more, *self._notes(figure)], _NOTE_WIDTH))
        return [b for b in blocks if b is not None]

    def _list(self, text: float) -> Block | None:
        if text not in self.lists:
            self.lists[text] = list_block(self.lines, text, min(0.46 * self.body.width, 190.0))
        return self.lists[text]

    @cached_property
    def _tables(self) -> list[Block | None]:
        if not self.working:
            return []
        return [
            edge_block(self.plan, self.laid, self.body.step, self.body.unit),
            legend_block(self.used, self._legend_words()),
        ]

    def _used(self) -> set[str]:
        """Return what occurs on the wall, for the legend."""
        drawn = Drawn()
        wall_marks(self.plan, self.laid, View(1, (0.0, 0.0), (0.0, 0.0), self.body.unit), drawn, working=self.working)
        kinds = {"whole" if p.is_whole else "cut" for p in self.plan.pieces_of(self.laid.face.id)}
        return drawn.used | kinds

    # ---- words

    def _length(self, value: float) -> str:
        return format_length(value, self.body.step, self.body.unit)

    def _extent(self) -> str:
        x0, y0, x1, y1 = self.laid.face.bounds
        return f"{self._length(x1 - x0)} by {self._length(y1 - y0)}"

    def _legend_words(self) -> dict[str, str]:
        face = self.laid.face
        above = face.datum[1] - face.bounds[1]
        level = f", {self._length(above)} above the lower left corner"
        return {"level": level, "trim": legend_words(self.plan, self.laid) if self.working else ""}

    def _notes(self, figure: Figure) -> list[str]:
        if not self.working:
            return []
        chosen = start_words(self.plan.choice, self.laid.face.id)
        notes = [f"{chosen}."] if chosen else []
        x0, y0, _, _ = self.laid.face.bounds
        for (x, y), radius, border in self.laid.face.arcs:
            centre = f"{self._length(x - x0)} across, {self._length(y - y0)} up"
            side = self.laid.face.borders[border].side
            notes.append(f"Side {side}: arc of radius {self._length(abs(radius))}, its centre {centre}.")
        words = "Courses are counted from the lowest up"
        if any(r.course < 1 for r in self.rows):
            words += "; those below course 1 carry letters, downward"
        root = self._tied()
        if root:
            words += f". Course lines are those of wall {root}: the same number stands at the same level"
        notes.append(f"{words}.")
        notes.append(f"A number is wall, course, place from the left, whole tiles counted: {self._example()}.")
        if self.lines and any(line.blanks for line in self.lines):
            notes.append("As measured: measure on the wall before cutting, at the first and last course of a line.")
        zones = [z.place.id for z in self.laid.zones if z.place.shape is not None]
        if zones:
            told = ", ".join(f"{prefix(self.laid, z)} for zone {z}" for z in zones)
            notes.append(f"In a zone the number begins with the wall, the zone's first letters and a point: {told}.")
        notes += shelf_notes(self.plan, self.laid.face.id, self._length)
        if figure.every > 1:
            notes.append(f"Every {_nth(figure.every)} course is numbered at the side.")
        return notes

    def _example(self) -> str:
        face = self.laid.face.id
        return next((p.number for p in self.plan.pieces_of(face) if p.number is not None), f"{face}4-1")

    def _tied(self) -> str:
        start = self.laid.zones[0].place.pattern.start
        wall = getattr(getattr(start, "y", None), "wall", "")
        return str(wall)

    # ---- pages

    def _drawn(self, layout: _Layout, figure: Figure, more: Sequence[str] = ()) -> list[Mark]:
        """Return the marks of a drawing and its panel."""
        body = self.body
        if layout.beside:
            box = (body.x, body.y, body.width - layout.panel.width - _GAP, body.height)
            panel_at = (body.right - layout.panel.width, body.top)
        else:
            low = layout.panel.height + _GAP
            box = (body.x, body.y + low, body.width, body.height - low)
            panel_at = (body.x, body.y + layout.panel.height)
        drawn = wall_figure(figure, box)
        panel = self._with_left_out(layout, figure, drawn.left_out, more)
        return [*drawn.marks, *panel.draw(*panel_at)]

    def _with_left_out(
        self, layout: _Layout, figure: Figure, numbers: Sequence[str], more: Sequence[str] = ()
    ) -> Flow:
        """Return the panel with a note of the numbers that found no place on the drawing."""
        if not numbers:
            return layout.panel
        note = f"No room on the drawing for: {', '.join(numbers)}."
        if len(numbers) > _TOLD:
            note = (
                f"At this scale {len(numbers)} cuts carry no number, from {numbers[0]} to {numbers[-1]}: "
                "count course and place, or see the cut sheet."
            )
        height, width = layout.panel.height, layout.panel.width
        if layout.beside:
            height = self.body.height
        found = flow(self._blocks(layout.holds, layout.text, figure, [*more, note]), height)
        # the drawing has its place already: what does not fit its panel is told on a page of its own
        if found is not None and found.width <= width + 1e-9:
            return found
        self.untold = note
        return layout.panel

    def _content(self, name: str, title: str, ratio: int | None, marks: Sequence[Mark]) -> Content:
        pieces = self.plan.pieces_of(self.laid.face.id)
        cuts = sum(not p.is_whole for p in pieces)
        return Content(
            name,
            title,
            scale_text(ratio, self.body.unit) if ratio else "",
            ratio,
            tuple(marks),
            f"{title}: {self._extent()} {self.body.unit}, {len(pieces) - cuts} whole and {cuts} cut tiles.",
        )

    def _more_pages(self, first: int, *, with_list: bool, with_tables: bool) -> Iterator[Content]:
        """Yield what found no room beside the drawing: course list, tables, a note of numbers left out."""
        body = self.body
        listed = with_list and bool(self.lines)
        table = list_block(self.lines, _LIST_TEXTS[0], body.width) if listed else None
        others = [*self._tables] if with_tables else []
        others.append(note_block([self.untold], _NOTE_WIDTH) if self.untold else None)
        words = "course list" if listed else "more"
        for k, page in enumerate(pages(table, [b for b in others if b is not None], body.width, body.height)):
            name = f"{self.laid.face.id}-{first + k}"
            yield self._content(name, f"{self.title}: {words}", None, page.draw(body.x, body.top))

    @property
    def _lowest_course(self) -> float:
        return min((r.high - r.low for r in self.rows), default=1e9)

    def _loses_numbers(self, ratio: int) -> bool:
        """Tell whether courses are too thin at a scale for numbers beside their cuts."""
        return bool(self.lines) and self._lowest_course / ratio < LEGIBLE

    def _legible(self) -> tuple[int, list[Window]] | None:
        """Return the smallest scale at which numbers have room, and the parts; ``None`` when they are too many."""
        for ratio in reversed([r for r in self._ratios() if self._lowest_course / r >= NUMBER + 2 * PAD]):
            windows = self._windows(ratio, _MOST_PARTS)
            if windows:
                return ratio, windows
        return None

    def _calmer(self, ratio: int) -> tuple[int, list[Window]] | None:
        """Return a larger scale and two parts where on one page too many numbers would stand beside their cuts."""
        if not self.lines or self._outside(ratio) <= _CROWDED:
            return None
        for larger in reversed([r for r in self._ratios() if r < ratio]):
            if self._outside(larger) <= _CROWDED / 2:
                windows = self._windows(larger, 2)
                return (larger, windows) if windows else None
        return None

    def _broken(self, ratio: int, windows: Sequence[Window]) -> Iterator[Content]:
        """Yield a wall part by part from the lower left."""
        number = 1
        for window in windows:
            figure = self._figure(ratio, window)
            part = [_PART.format(number, len(windows)), f"The whole wall is {self._extent()}."]
            layout = self._around(figure, "notes", more=part)
            assert layout is not None
            name = self.laid.face.id if number == 1 else f"{self.laid.face.id}-{number}"
            title = f"{self.title}, part {number} of {len(windows)}"
            yield self._content(name, title, ratio, self._drawn(layout, figure, part))
            number += 1
        yield from self._more_pages(number, with_list=True, with_tables=True)

    def _windows(self, ratio: int, most: int) -> list[Window]:
        """Return the parts of a wall: as few as will do, alike, row by row from below; none if more than ``most``."""
        x0, y0, x1, y1 = self.laid.face.bounds
        for count in range(2, most + 1):
            for across in range(1, count + 1):
                up = -(-count // across)
                if across * up != count:
                    continue
                xs = [x0 + (x1 - x0) * i / across for i in range(across + 1)]
                ys = [y0, *(self._between_courses(y0 + (y1 - y0) * j / up) for j in range(1, up)), y1]
                found = [Window(a, c, b, d) for c, d in pairwise(ys) for a, b in pairwise(xs)]
                parts = [_PART.format(99, 99), f"The whole wall is {self._extent()}."]
                if all(self._around(self._figure(ratio, w), "notes", more=parts) for w in found):
                    return found
        return []

    def _between_courses(self, y: float) -> float:
        """Return the middle of the joint between two courses that is nearest to a height."""
        joint = self.laid.zones[0].joint
        return min((r.low - joint / 2 for r in self.rows if is_field(r.zone)), key=lambda v: abs(v - y), default=y)


def _nth(number: int) -> str:
    return {2: "2nd", 3: "3rd"}.get(number, f"{number}th")
