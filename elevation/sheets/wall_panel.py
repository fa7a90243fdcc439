"""What stands beside an elevation: course list, edges, legend, notes, as blocks that flow into columns."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from elevation.checks.look import text
from elevation.drawing.dimensions import dimension_text
from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Circle, Line, Mark, Segments, Text
from elevation.drawing.pens import DIMENSION, NUMBER
from elevation.drawing.table import Column, Table, lay_out
from elevation.drawing.text import paragraph
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.layout.regions import facing_of
from elevation.pieces import EdgeRun
from elevation.plan import Plan
from elevation.sheets.course_list import ListLine
from elevation.sheets.wall_trims import trim_runs_at, trim_words
from elevation.sheets.wall_view import MITRE_INSIDE, start_mark
from elevation.units import Unit, format_length
from elevation.wall import is_field, side_words, zone_words

HEAD = DIMENSION
"""Capital height of a block's heading, mm."""
_UNDER = 2.6  # mm from a heading's foot to what it heads
_BETWEEN = 7.0  # mm between blocks, one above the other
COLUMNS = 9.0
"""Space between two columns of blocks, mm."""
_SWATCH = (11.0, 4.2)
_ROW = 6.2

Draw = Callable[[float, float], tuple[Mark, ...]]


@dataclass(frozen=True)
class Block:
    """Something in the panel.

    Attributes:
        width: Width, mm.
        height: Height, mm.
        draw: Returns its marks, given the left side and the top.
        split: Returns it in parts, given the height free for the first and for the others; ``None``: stays whole.
    """

    width: float
    height: float
    draw: Draw
    split: Callable[[float, float], list[Block]] | None = None


@dataclass(frozen=True)
class Flow:
    """Blocks in columns.

    Attributes:
        placed: Each with its left side and its top, measured from the upper left corner, downward.
        width: Over all, mm.
        height: Over all, mm.
    """

    placed: tuple[tuple[Block, float, float], ...]
    width: float
    height: float

    def draw(self, x: float, top: float) -> tuple[Mark, ...]:
        """Return the marks with the upper left corner at ``x``, ``top``."""
        return tuple(m for block, dx, dy in self.placed for m in block.draw(x + dx, top - dy))


def flow(blocks: Sequence[Block], height: float) -> Flow | None:
    """Return the blocks in columns no higher than ``height``, mm; ``None`` when one of them does not fit."""
    placed: list[tuple[Block, float, float]] = []
    left = down = column = 0.0
    waiting = list(blocks)
    tallest = 0.0
    while waiting:
        block = waiting.pop(0)
        free = height - down
        if block.height > free + 1e-9 and block.split is not None:
            try:
                parts = block.split(free, height)
            except ValueError:
                return None
            if len(parts) > 1:
                waiting = [*parts, *waiting]
                continue
            block = parts[0]
        if block.height > free + 1e-9:
            if down == 0:
                return None
            left, down, column = left + column + COLUMNS, 0.0, 0.0
            waiting.insert(0, block)
            continue
        placed.append((block, left, down))
        tallest = max(tallest, down + block.height)
        column = max(column, block.width)
        down += block.height + _BETWEEN
    return Flow(tuple(placed), left + column, tallest)


def pages(first: Block | None, others: Sequence[Block], width: float, height: float) -> list[Flow]:
    """Return a long table, split over pages as need be, and the other blocks side by side below its end.

    Args:
        first: The long table.
        others: What follows it.
        width: Of a page, mm.
        height: Of a page, mm.

    Raises:
        ValueError: A block does not fit a page.
    """
    parts = [] if first is None else [first]
    if first is not None and first.height > height and first.split is not None:
        parts = first.split(height, height)
    found = [Flow(((p, 0.0, 0.0),), p.width, p.height) for p in parts]
    if not others:
        return found
    down = found[-1].height + _BETWEEN if found else 0.0
    below = flow(others, height - down)
    if below is not None and below.width <= width + 1e-9 and found:
        last = found[-1]
        placed = tuple((b, x, y + down) for b, x, y in below.placed)
        found[-1] = Flow((*last.placed, *placed), max(last.width, below.width), down + below.height)
        return found
    alone = flow(others, height)
    if alone is None or alone.width > width + 1e-9:
        raise ValueError(f"the tables of a wall do not fit {width:.0f} by {height:.0f} mm")
    return [*found, alone]


def list_block(lines: Sequence[ListLine], text: float, width: float) -> Block:
    """Return the course list; ``width`` is the most it may take, mm."""
    blanks = [b for b in ("left", "right", "height") if any(b in line.blanks for line in lines)]
    zones = list(dict.fromkeys(line.zone for line in lines))
    columns = [Column("Course", "start", 6.0, "semibold"), Column("Pieces, from the left", "start", 34.0)]
    columns += [Column(f"{b.capitalize()},\nas measured") for b in blanks]
    rows = []
    # parts of the field side by side have the same courses, and are told apart
    shared = [c for z in zones if is_field(z) for c in {line.courses for line in lines if line.zone == z}]
    for line in lines:
        of = zone_words(line.zone) if not is_field(line.zone) or len(set(shared)) < len(shared) else ""
        course = line.courses if not of or len(zones) == 1 else f"{of}: {line.courses}"
        rows.append([course, dimension_text(line.text), *(_blank(line, b) for b in blanks)])
    return _table_block("COURSE LIST", lay_out(columns, rows, width=width, text=text))


def _blank(line: ListLine, name: str) -> str:
    """Return the ruled space for what is measured; for several courses, at the lowest and at the highest."""
    if name not in line.blanks:
        return ""
    return "_____" if line.count == 1 else "_____ to _____"


def _table_block(title: str, table: Table) -> Block:
    top = HEAD + _UNDER

    def draw(x: float, y: float) -> tuple[Mark, ...]:
        return (Text((x, y - HEAD), title, HEAD, weight="semibold"), *table.draw(x, y - top))

    def split(first: float, following: float) -> list[Block]:
        least = table.split(1e9)[0].height / max(1, len(table.rows)) * 3
        if first - top < least:
            first = 0.0
        parts = [p for p in table.split(max(first - top, 0.0), following - top) if p.rows]
        again = f"{title.removesuffix(', CONTINUED')}, CONTINUED"
        return [_table_block(title if k == 0 else again, p) for k, p in enumerate(parts)]

    return Block(table.width, top + table.height, draw, split)


def edge_block(plan: Plan, laid: LaidFace, step: float, unit: Unit) -> Block | None:
    """Return the table of edges: what the tile meets, and the joint or trim there."""
    holes = {c.id for c in laid.face.cutouts if c.kind == "hole"}
    facing = {(b.of, b.side): facing_of(b.line) for b in laid.face.borders}
    rows = []
    for run in plan.runs:
        if run.face != laid.face.id or run.of in holes:
            continue
        least, most = (format_length(g, step, unit) for g in run.gap)
        gap = least if least == most else f"{least} to {most}"
        # a return's tile shows its edge there, or the trim round the corner, and this one ends beside it
        beside = "beside the trim" if run.meets == "outside" else "behind a return"
        bare = f"{beside}, joint {gap}" if run.gap[1] > EPS else "bare edge"
        ends = trim_words(plan, run) if run.trim else bare
        joint = f"soft joint {gap}" if run.kind == "soft" else ends
        # of a trim the length it is cut to, as the trim schedule has it; of all others the edge of the tile
        trims = [text(plan, r.length).removesuffix(f" {unit}") for r in trim_runs_at(plan, run)]
        lengths = trims or [format_length(run.length, step, unit)]
        rows.append(
            [_edge_name(run, facing[run.of, run.side]), run.meets or "", dimension_text(joint),
             dimension_text(", ".join(lengths))]
        )  # fmt: skip
    if not rows:
        return None
    columns = [Column("Edge"), Column("Meets"), Column("Joint or trim"), Column("Length", "end")]
    return _table_block("EDGES", lay_out(columns, rows))


def _edge_name(run: EdgeRun, facing: str) -> str:
    """Return what the table calls a side; one that only has a number is told by where it faces, too."""
    side = side_words(run.side) + (f", {facing}" if run.side.isdigit() else "")
    return f"{run.of} {side}".strip()


_LEGEND: tuple[tuple[str, str], ...] = (
    ("whole", "whole tile"),
    ("cut", "cut, with its number"),
    ("soft", "soft joint, drawn beside its edge"),
    ("trim", "trim"),
    ("mitre", "edge of the tile mitred"),
    ("level", "level line"),
    ("plumb", "plumb line: left edge of the first tile"),
    ("start", "start: first tile stands up and right"),
    ("hole", "centre of a hole"),
    ("cover", "cover plate"),
    ("back", "back of a niche"),
    ("zone", "border of a zone"),
    ("stud", "stud"),
    ("glass", "glass: keep holes clear of it"),
)


def legend_block(used: set[str], extra: dict[str, str]) -> Block | None:
    """Return the legend of what occurs.

    Args:
        used: Names of what occurs.
        extra: What to add to the words of some of them.
    """
    if not any(name in used for name, _ in _LEGEND):
        return None
    tall, rows = legend_rows(used, extra)
    top = HEAD + _UNDER

    def draw(x: float, y: float) -> tuple[Mark, ...]:
        return Text((x, y - HEAD), "LEGEND", HEAD, weight="semibold"), *rows(x, y - top)

    return Block(_SWATCH[0] + 65.0, top + tall, draw)


def legend_rows(
    used: set[str], extra: dict[str, str] | None = None
) -> tuple[float, Callable[[float, float], tuple[Mark, ...]]]:
    """Return the height of the legend's rows, mm, and what draws them from their upper left corner.

    Args:
        used: Names of what occurs.
        extra: What to add to the words of some of them.
    """
    entries = [(name, words + (extra or {}).get(name, "")) for name, words in _LEGEND if name in used]

    def draw(x: float, y: float) -> tuple[Mark, ...]:
        marks: list[Mark] = []
        for k, (name, words) in enumerate(entries):
            low = y - k * _ROW - _SWATCH[1]
            marks += _swatch(name, x, low)
            marks.append(Text((x + _SWATCH[0] + 3.0, low + (_SWATCH[1] - NUMBER) / 2), words, NUMBER))
        return tuple(marks)

    return _ROW * len(entries), draw


def _swatch(name: str, x: float, y: float) -> tuple[Mark, ...]:
    w, h = _SWATCH
    ring = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
    middle = y + h / 2
    if name == "whole":
        return (Area((ring,), "whole"),)
    if name == "cut":
        return Area((ring,), "cut"), hatch([(ring,)])
    if name == "trim":
        low, high = middle - 0.4, middle + 0.4
        return (Segments(((x, low, x + w, low), (x, high, x + w, high)), "feature"),)
    if name == "glass":
        low, high = middle - 0.6, middle + 0.6
        return (Area(((((x, low), (x + w, low), (x + w, high), (x, high))),), "centre"),)
    if name == "mitre":
        inner = x + w - MITRE_INSIDE
        return Area((ring,), "whole"), Line(((inner, y), (inner, y + h)), "fine")
    if name == "start":
        return start_mark((x + w / 2, middle))
    if name == "hole":
        cx = x + w / 2
        return (Segments(((cx - 2.1, middle, cx + 2.1, middle), (cx, middle - 2.1, cx, middle + 2.1)), "fine"),)
    if name == "cover":
        return (Circle((x + w / 2, middle), 2.1, "hidden"),)
    if name == "back":
        return Area((ring,), "feature"), Segments(
            ((x, middle, x + w, middle), (x + w / 2, y, x + w / 2, y + h)), "hatch"
        )
    pens = {"soft": "soft", "level": "centre", "plumb": "centre", "zone": "feature", "stud": "hidden"}
    return (Line(((x, middle), (x + w, middle)), pens[name]),)


def note_block(notes: Sequence[str], width: float) -> Block | None:
    """Return the notes, wrapped to ``width``, mm."""
    if not notes:
        return None
    top = HEAD + _UNDER

    def laid(x: float, y: float) -> tuple[list[Mark], float]:
        marks: list[Mark] = [Text((x, y - HEAD), "NOTES", HEAD, weight="semibold")]
        down = top
        for note in notes:
            lines, tall = paragraph(dimension_text(note), x, y - down, width, NUMBER)
            marks += lines
            down += tall + 1.4
        return marks, down - 1.4

    return Block(width, laid(0.0, 0.0)[1], lambda x, y: tuple(laid(x, y)[0]))
