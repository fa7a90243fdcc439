"""The drawing of a wall at one scale: how much paper it takes, and its marks once it has its place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from elevation.drawing.dimensions import INCH_STYLE, METRIC_STYLE, Dimensions, Side, Strand, spread, stack
from elevation.drawing.labels import Request
from elevation.drawing.marks import Anchor, Area, Group, Line, Mark, Point, Text
from elevation.drawing.pens import DIMENSION, NUMBER
from elevation.drawing.text import DESCENT
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import EPS
from elevation.geom import bounds as ring_bounds
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.chains import Chain
from elevation.sheets.course_list import CourseRow, Sizes
from elevation.sheets.end_gaps import gap_words
from elevation.sheets.wall_dimensions import LEVEL, wall_chains
from elevation.sheets.wall_labels import Stage, place_words
from elevation.sheets.wall_tiles import tile_marks
from elevation.sheets.wall_trims import Tags, border_words, place_tags
from elevation.sheets.wall_view import Drawn, wall_marks
from elevation.wall import is_field

Box = tuple[float, float, float, float]

_OPEN = {"trim", "bare"}
_NUMBERS_ASIDE = 3.0  # mm from the wall to its course numbers: outside the line of a soft joint
_SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
_FREE = 9.0  # mm of margin on a side without dimensions
_END_DOWN = 3.2  # mm from the wall down to the tops of FRONT and BACK
_TAG = 2.0  # mm between the end of a line and its name
_LEVEL_PAST = 5.0  # mm that the level line runs past the wall


@dataclass(frozen=True, slots=True)
class Window:
    """The part of a wall that a page shows, mm on the face."""

    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True)
class Margins:
    """Paper taken on each side of the wall, mm."""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True)
class Figure:
    """A wall at one scale.

    Attributes:
        plan: The plan.
        laid: The wall.
        rows: Its courses.
        sizes: Width and height of a piece as printed.
        body: The page.
        ratio: Model length over paper length.
        window: What of the wall is shown; ``None``: all.
        given: Dimensions of the whole wall by side, when they have been worked out already.
    """

    plan: Plan
    laid: LaidFace
    rows: tuple[CourseRow, ...]
    sizes: Sizes
    body: Body
    ratio: int
    window: Window | None = None
    given: dict[Side, list[Chain]] | None = None

    @cached_property
    def all_chains(self) -> dict[Side, list[Chain]]:
        """Dimensions of the whole wall by side."""
        if self.given is not None:
            return self.given
        return wall_chains(
            self.plan, self.laid, self.rows, self.sizes, self.body.step, self.body.unit, working=self.working
        )

    @property
    def working(self) -> bool:
        """Whether the drawing is for people at work: numbers, hatch, level line."""
        return self.body.edition != "homeowner"

    @cached_property
    def frame(self) -> Window:
        """What is shown, mm on the face."""
        return self.window or Window(*self.laid.face.bounds)

    @cached_property
    def chains(self) -> dict[Side, list[Chain]]:
        """Its dimensions by side, as far as both ends of a span are shown."""
        f = self.frame
        ends = {"bottom": (f.x0, f.x1), "top": (f.x0, f.x1), "left": (f.y0, f.y1), "right": (f.y0, f.y1)}
        if self.window is None:
            return self.all_chains
        inner = inner_edges(self)
        cut = {
            side: [] if inner[side] else [_clipped(c, *ends[side]) for c in chains]
            for side, chains in self.all_chains.items()
        }
        return {side: [c for c in chains if c is not None] for side, chains in cut.items()}

    @cached_property
    def every(self) -> int:
        """Every how many courses are numbered at the side."""
        heights = [(r.high - r.low) / self.ratio for r in self._field]
        least = min(heights, default=1e9)
        return next(n for n in (1, 2, 5, 10, 20, 50, 100, 1000, 100_000) if n * least >= 1.25 * NUMBER)

    @property
    def _field(self) -> list[CourseRow]:
        return list({r.course: r for r in reversed(self.rows) if is_field(r.zone)}.values())[::-1]

    @cached_property
    def numbered(self) -> list[CourseRow]:
        """The courses that carry their number at the side."""
        f = self.frame
        rows = [r for r in self._field if f.y0 - EPS <= (r.low + r.high) / 2 <= f.y1 + EPS]
        return [r for r in rows if self.every == 1 or r.course % self.every == 0 or r.course == 1]

    @cached_property
    def margins(self) -> Margins:
        """The paper taken on each side."""
        at = self.strings(self.view_at(0.0, 0.0))
        right = at["right"].depth
        if self.tagged:
            right = max(right, _LEVEL_PAST) + _TAG + self._tag_width
        return Margins(
            max(at["left"].depth, self.column + _FREE),
            max(right, _FREE),
            max(at["bottom"].depth, _FREE),
            max(at["top"].depth, _FREE),
        )

    @property
    def size(self) -> tuple[float, float]:
        """Width and height over all, mm of paper."""
        m, f = self.margins, self.frame
        return (m.left + (f.x1 - f.x0) / self.ratio + m.right, m.bottom + (f.y1 - f.y0) / self.ratio + m.top)

    @cached_property
    def column(self) -> float:
        """Width of the column of course numbers, mm of paper."""
        if not self.numbered:
            return 0.0
        return _NUMBERS_ASIDE + max(text_width(r.label, NUMBER) for r in self.numbered)

    @property
    def _shows_level(self) -> bool:
        f, y = self.frame, self.laid.face.datum[1]
        return self.working and self.laid.face.has_datum and f.y0 - EPS <= y <= f.y1 + EPS

    @property
    def _tag_width(self) -> float:
        return text_width(LEVEL, NUMBER) if self.tagged else 0.0

    @property
    def tagged(self) -> bool:
        """Whether the level line has its name at its end, since no dimension names it."""
        return self._shows_level and not any(c.end_note == LEVEL for c in self.chains["right"])

    def view_at(self, x: float, y: float) -> View:
        """Return the view with the lower left corner of what is shown at ``x``, ``y``."""
        return View(self.ratio, (self.frame.x0, self.frame.y0), (x, y), self.body.unit)

    def strings(self, view: View) -> dict[Side, Dimensions]:
        """Return the dimension strings of every side."""
        f = self.frame
        style = INCH_STYLE if self.body.unit == "in" else METRIC_STYLE
        out: dict[Side, Dimensions] = {}
        for side in _SIDES:
            level = side in ("bottom", "top")
            base = {"left": view.x(f.x0), "right": view.x(f.x1), "bottom": view.y(f.y0), "top": view.y(f.y1)}[side]
            strands = [_strand(c, view, base, level=level) for c in self.chains[side]]
            aside = 2.5 if side != "left" else self.column + 1.5
            out[side] = stack(strands, side, base=base, start=aside + style.first, style=style)
        return out

    @cached_property
    def ends(self) -> tuple[str, str] | None:
        """What is written under the two ends of a wall that ends the room: FRONT and BACK."""
        outline = set(self.laid.face.outline.borders)
        sides = {b.side: b for i, b in enumerate(self.laid.face.borders) if i in outline}
        left, right = sides.get("left"), sides.get("right")
        if left is None or right is None or not self.working:
            return None

        def is_open(border: object) -> bool:
            return getattr(border, "kind", "") in _OPEN or getattr(border, "meets", None) in ("outside", "wall")

        if left.meets == "corner" and is_open(right):
            return "BACK", "FRONT"
        if right.meets == "corner" and is_open(left):
            return "FRONT", "BACK"
        return None


@dataclass(frozen=True)
class Result:
    """The marks of a drawing, and the numbers for which it had no room."""

    marks: tuple[Mark, ...]
    left_out: tuple[str, ...]


def wall_figure(figure: Figure, box: Box) -> Result:
    """Return the drawing in the middle of a box (x, y, width, height; mm of paper)."""
    m, f = figure.margins, figure.frame
    width, height = figure.size
    x = box[0] + (box[2] - width) / 2 + m.left
    y = box[1] + (box[3] - height) / 2 + m.bottom
    view = figure.view_at(x, y)
    strings = figure.strings(view)
    pieces = _shown(figure)
    drawn = Drawn()
    for zone in figure.laid.zones:
        own = [p for p in pieces if p.zone == zone.place.id]
        # numbers and hatches need white ground; who only looks sees the tile's colour
        colour = "paper" if figure.working else figure.plan.job.tile[zone.place.tile].colour
        drawn.marks += tile_marks(
            own, zone.joint, view, figure.body.unit, figure.sizes, numbers=figure.working, colour=colour
        )
    wall_marks(figure.plan, figure.laid, view, drawn, working=figure.working)
    marks: list[Mark] = list(drawn.marks)
    if figure.window is not None:
        marks = [Group(tuple(marks), clip=_clip(figure, view)), *_match_lines(figure, view)]
    words, taken = _words(figure, view, strings)
    obstacles = [b for s in strings.values() for b in s.obstacles] + taken + drawn.keep
    bounds = (box[0], box[1], box[0] + box[2], box[1] + box[3])
    shown = (view.x(f.x0), view.y(f.y0), view.x(f.x1), view.y(f.y1))
    stage = Stage(figure.laid, view, shown, bounds)
    names, tags = drawn.names, Tags((), (), ())
    gaps: list[Request] = []
    if figure.working:
        tags = place_tags(figure.plan, figure.laid, view, shown, bounds, obstacles)
        names = [*names, *border_words(figure.plan, figure.laid, view)]
        gaps = list(gap_words(figure.plan, figure.laid, view, figure.body.step))
    standing = [*obstacles, *tags.boxes]
    labels, left_out = place_words(stage, pieces, names, standing, numbers=figure.working, gaps=gaps)
    dimensions = [mark for s in strings.values() for mark in s.marks]
    return Result((*marks, *dimensions, *words, *tags.marks, *labels), (*left_out, *tags.left_out))


def _strand(chain: Chain, view: View, base: float, *, level: bool) -> Strand:
    if level:
        points: tuple[Point, ...] = tuple((view.x(s), base) for s in chain.stations)
    else:
        points = tuple((base, view.y(s)) for s in chain.stations)
    room = [view.length(b - a) for a, b in zip(chain.stations, chain.stations[1:], strict=False)]
    return Strand(points, chain.choose(room, lambda t: text_width(t, DIMENSION)))


def _clipped(chain: Chain, low: float, high: float) -> Chain | None:
    """Return the spans of a chain that lie between two places."""
    kept = [i for i, s in enumerate(chain.stations) if low - EPS <= s <= high + EPS]
    if len(kept) < 2:
        return None
    end_note = chain.end_note if kept[-1] == len(chain.stations) - 1 else ""
    texts = tuple(chain.texts[i] for i in kept[:-1])
    return Chain(tuple(chain.stations[i] for i in kept), texts, chain.note, end_note)


def _shown(figure: Figure) -> list[Piece]:
    pieces = figure.plan.pieces_of(figure.laid.face.id)
    if figure.window is None:
        return list(pieces)
    w = figure.window
    out = []
    for p in pieces:
        x0, y0, x1, y1 = ring_bounds(p.outer)
        if x0 < w.x1 and x1 > w.x0 and y0 < w.y1 and y1 > w.y0:
            out.append(p)
    return out


def inner_edges(figure: Figure) -> dict[Side, bool]:
    """Return which sides of what is shown are match lines."""
    f, (x0, y0, x1, y1) = figure.frame, figure.laid.face.bounds
    return {"left": f.x0 > x0 + EPS, "right": f.x1 < x1 - EPS, "bottom": f.y0 > y0 + EPS, "top": f.y1 < y1 - EPS}


def _clip(figure: Figure, view: View) -> Box:
    """Return the rectangle beyond which nothing shows: at the match lines, and clear of the wall elsewhere."""
    f, inner = figure.frame, inner_edges(figure)
    past = {side: 0.0 if inner[side] else _FREE for side in _SIDES}
    x, y = view.x(f.x0) - past["left"], view.y(f.y0) - past["bottom"]
    return x, y, view.x(f.x1) + past["right"] - x, view.y(f.y1) + past["top"] - y


def _match_lines(figure: Figure, view: View) -> list[Mark]:
    f, inner, past = figure.frame, inner_edges(figure), 6.0
    x0, x1, y0, y1 = view.x(f.x0), view.x(f.x1), view.y(f.y0), view.y(f.y1)
    lines = {
        "left": ((x0, y0 - past), (x0, y1 + past)),
        "right": ((x1, y0 - past), (x1, y1 + past)),
        "bottom": ((x0 - past, y0), (x1 + past, y0)),
        "top": ((x0 - past, y1), (x1 + past, y1)),
    }
    return [Line(lines[side], "match") for side in _SIDES if inner[side]]


def _words(figure: Figure, view: View, strings: dict[Side, Dimensions]) -> tuple[list[Mark], list[Box]]:
    """Return course numbers, names of level and plumb line, notes of chains, FRONT and BACK, and what they cover."""
    f = figure.frame
    x0, x1, y0, y1 = view.x(f.x0), view.x(f.x1), view.y(f.y0), view.y(f.y1)
    marks: list[Mark] = []
    boxes: list[Box] = []

    def write(text: Text, air: float = 0.0) -> None:
        a, b, c, d = text_box(text)
        # extension lines may pass here: the word wins
        marks.extend((Area((((a, b), (c, b), (c, d), (a, d)),), fill="paper"), text))
        boxes.append((a - air, b - air, c + air, d + air))

    rows = figure.numbered
    wanted = []
    for row in rows:
        low = max(row.low, min(p[1] for piece in row.pieces for p in piece.outer))
        high = min(row.high, max(p[1] for piece in row.pieces for p in piece.outer))
        wanted.append(view.y((low + high) / 2))
    # a thin first or last course moves its number, and perhaps its neighbours', a little
    for row, middle in zip(rows, spread(wanted, [NUMBER] * len(rows), 0.15 * NUMBER) if rows else [], strict=True):
        write(Text((x0 - _NUMBERS_ASIDE, middle - NUMBER / 2), row.label, NUMBER, "end"))
    if figure.tagged:
        at = (x1 + max(strings["right"].depth, _LEVEL_PAST) + _TAG, view.y(figure.laid.face.datum[1]) - NUMBER / 2)
        write(Text(at, LEVEL, NUMBER))
    for side in _SIDES:
        base = {"left": x0, "right": x1, "bottom": y0, "top": y1}[side]
        outward = 1.0 if side in ("right", "top") else -1.0
        for chain, line in zip(figure.chains[side], strings[side].lines, strict=True):
            away = base + outward * line
            for note, station, way in ((chain.note, 0, -1.0), (chain.end_note, -1, 1.0)):
                if not note:
                    continue
                if side in ("bottom", "top"):
                    at = (view.x(chain.stations[station]) + 4.0 * way, away - NUMBER / 2)
                    write(Text(at, note, NUMBER, "end" if way < 0 else "start"))
                else:
                    at = (away + NUMBER / 2, view.y(chain.stations[station]) + 4.0 * way)
                    write(Text(at, note, NUMBER, "end" if way < 0 else "start", angle=90))
    if figure.ends is not None:
        y = y0 - _END_DOWN - DIMENSION
        widths = [text_width(word, DIMENSION, "semibold") for word in figure.ends]
        # under a wall too narrow for both they stand outside its ends
        inside = sum(widths) + 8.0 <= x1 - x0
        left: Anchor = "start" if inside else "end"
        right: Anchor = "end" if inside else "start"
        away = 1.5 if inside else -1.5
        hidden = inner_edges(figure)
        if not hidden["bottom"] and not hidden["left"]:
            write(Text((x0 + away, y), figure.ends[0], DIMENSION, left, "semibold"), 1.2)
        if not hidden["bottom"] and not hidden["right"]:
            write(Text((x1 - away, y), figure.ends[1], DIMENSION, right, "semibold"), 1.2)
    return marks, boxes


def text_box(text: Text) -> Box:
    """Return what a level or upright text covers, from the foot of its letters to its capitals; mm of paper."""
    width = text_width(text.text, text.height, text.weight)
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    x, y = text.at
    if text.angle == 90:
        return x - text.height, y - before, x + DESCENT * text.height, y - before + width
    return x - before, y - DESCENT * text.height, x - before + width, y + text.height
