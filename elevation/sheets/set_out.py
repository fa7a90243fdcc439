"""Set-out: per wall the lines from the level line and the plumb line; then the story pole at full size."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import ClassVar

from elevation.drawing.marks import Mark
from elevation.drawing.table import Column
from elevation.drawing.view import scale_text
from elevation.layout import LaidFace
from elevation.layout.sensitivity import not_judged
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.flow import GUTTER, Block, Heading, Rows, Words, columns_for, count_pages, flow
from elevation.sheets.hole_table import hole_blocks
from elevation.sheets.set_out_data import (
    CourseLine,
    Height,
    base_of,
    course_lines,
    gaps,
    heights,
    measured_to,
    setting_order,
    side_at,
    signed,
)
from elevation.sheets.set_out_drawing import SetOutSizes
from elevation.sheets.story_pole import pole_pages
from elevation.sheets.wall_view import start_line
from elevation.units import format_length
from elevation.wall import is_field, side_words, zone_words
from elevation.wall.as_found import as_found

_PANEL = 78.0
"""Narrowest column of words, mm."""
_SMALLEST = 0.3
"""Share of the page's width below which a drawing is not made smaller to save a page."""
_GAP = 8.0
Say = Callable[[float], str]
"""Writes a length, mm."""
_SIDE_BY_SIDE = 8
"""So many course lines stand in one column of their table; more take two."""


class SetOut(Sheet):
    """The set-out of every wall, then its story pole."""

    kind: ClassVar[str] = "set-out"
    aside: ClassVar[bool] = True
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of each wall, then the pages of each story pole."""
        for laid in plan.walls:
            yield from _wall_pages(plan, laid, body)
        yield from pole_pages(plan, body)


def _wall_pages(plan: Plan, laid: LaidFace, body: Body) -> Iterator[Content]:
    blocks = _blocks(plan, laid, body)
    sizes = SetOutSizes(plan, laid, body)
    ratio, pages = _best(sizes, body, blocks)
    name = laid.face.wall
    about = f"Wall {name}: course lines from the level line, plumb line of the start, joint at each station."
    yield Content(
        name, f"Wall {name}, set-out", scale_text(ratio, body.unit), float(ratio),
        (*sizes.marks(ratio, body.x, body.y + body.height), *pages[0]), about,
    )  # fmt: skip
    for n, marks in enumerate(pages[1:], 2):
        yield Content(f"{name}-{n}", f"Wall {name}, set-out, continued ({n})", "", None, marks, about)


def _best(sizes: SetOutSizes, body: Body, blocks: Sequence[Block]) -> tuple[int, list[tuple[Mark, ...]]]:
    """Return the drawing's scale and the pages of words round it: fewest pages first, then the largest drawing."""
    least = _PANEL * body.words
    gutter = GUTTER * body.words
    count, column = columns_for(body.width, least)
    found: dict[int, tuple[int, list[float]]] = {}
    room = body.width
    while room >= _SMALLEST * body.width:
        ratio, width, height = sizes.fit(room, body.height)
        if ratio in found:
            break
        over = math.ceil((width + _GAP) / (column + gutter) - 1e-6)
        low = body.top - height - _GAP
        tops = [low if k < over else body.top for k in range(count)]
        found[ratio] = (count_pages(blocks, body, least=least, tops=tops), tops)
        if found[ratio][0] == 1:
            break
        room = width - 0.1  # the next scale
    ratio = min(found, key=lambda r: (found[r][0], r))
    # where there is room to spare, the words stand side by side over the whole width
    return ratio, flow(blocks, body, least=least, tops=found[ratio][1])


def _blocks(plan: Plan, laid: LaidFace, body: Body) -> list[Block]:
    job, wall = plan.job, laid.face.wall
    fine = job.step / 2

    def say(mm: float) -> str:
        return format_length(mm, fine, job.units)

    blocks: list[Block] = []
    found = as_found(job, laid.face)
    if found is not None:
        blocks += [Heading("As found"), *(Words(w[0].upper() + w[1:] + ".", "-", hang=3.5) for w in found.words)]
    blocks += [
        Heading("Set in this order"),
        *(Words(t, f"{n}.", hang=5.0) for n, t in enumerate(_order(plan, laid, say), 1)),
    ]
    blocks.append(Words("Order: common practice. Low-point start at a tub: US Navy, NAVEDTRA 14044.", after=3.0))
    blocks += [Heading("Measured"), *(Words(t, "-", hang=3.5) for t in measured_to(plan, laid))]
    lines = course_lines(plan, laid)
    told = "level line" if laid.face.has_datum else "lower left corner"
    cells = [(_label(c), signed(c.above, fine, body.unit)) for c in reversed(lines)]
    cut = " (cut): the wall ends above the line, no line can be struck." if any(c.is_cut for c in lines) else ""
    blocks += [
        Heading("Course lines"),
        Words(
            f"Lower edge of each course of tiles, from the {told}; + is up. Mark all of them from there, never one "
            "from "
            f"another.{cut}", keep=True,
        ),
        _course_table(cells),
    ]  # fmt: skip
    there = [(h.words, signed(h.above, fine, job.units)) for h in reversed(heights(laid))]
    blocks += [Heading("Also on this wall"), Rows((Column("What", least=24), Column("Height", "end")), there)]
    blocks += hole_blocks(plan, laid, say)
    found_gaps = gaps(plan, laid)
    table = [
        (side_words(g.edge), _station(g.from_line, say, level=g.level), say(g.reading), say(g.gap))
        for g in found_gaps
        if g.reading is not None
    ]
    unread: dict[str, list[str]] = {}
    for g in found_gaps:
        if g.reading is None:
            unread.setdefault(say(g.gap), []).append(g.edge)
    table += [(_edges(edges), "all along", "-", joint) for joint, edges in unread.items()]
    if table:
        columns = (
            Column("Edge", least=20),
            Column("At", least=18),
            Column("Read", "end"),
            Column("Joint", "end", weight="semibold"),
        )
        blocks += [Heading("Joint at each station"), Rows(columns, table)]
    blocks += _tape(plan, wall, say)
    return blocks


def _edges(names: Sequence[str]) -> str:
    """Return several edges in words: ``left, w1 top``, ``sides 1, 2``."""
    if len(names) > 1 and all(n.isdigit() for n in names):
        return f"sides {', '.join(names)}"
    return ", ".join(side_words(n) for n in names)


def _label(c: CourseLine) -> str:
    name = c.label if is_field(c.zone) else f"{c.zone} {c.label}"
    return f"{name} (cut)" if c.is_cut else name


def _course_table(cells: Sequence[tuple[str, str]]) -> Rows:
    """Return the table of course lines, read downwards; many of them in two columns."""
    columns = (Column("Course", least=14), Column("Height", "end", weight="semibold"))
    if len(cells) <= _SIDE_BY_SIDE:
        return Rows(columns, cells)
    half = (len(cells) + 1) // 2
    right = [*cells[half:], ("", "")][:half]
    return Rows((*columns, *columns), [(*a, *b) for a, b in zip(cells[:half], right, strict=True)])


def _station(mm: float | None, say: Say, *, level: bool) -> str:
    if mm is None:
        return "all along"
    if level:
        return f"{say(mm)} across"
    return "level line" if abs(mm) < 0.5 else f"{say(abs(mm))} {'up' if mm > 0 else 'down'}"


def _order(plan: Plan, laid: LaidFace, say: Say) -> Iterator[str]:
    if laid.face.has_datum:
        base = laid.face.datum[1]
        below = [h for h in heights(laid) if h.above < 0]
        ends = [
            h
            for h in below
            if h.point and h.above == max(b.above for b in below if b.name == h.name and b.point == h.point)
        ]
        told = ", ".join(f"{say(-h.above)} above the {_thing(h)}" for h in ends or below[:1])
        yield f"Shoot the level line, {told}." if told else f"Shoot the level line, {say(base)} up."
    x = start_line(laid)
    y = base_of(laid) if laid.face.has_datum else laid.face.bounds[1] + 1.0
    left, right = side_at(laid, "left", y), side_at(laid, "right", y)
    where = "on the level line" if laid.face.has_datum else "at the bottom"
    if left is not None and right is not None:
        sides = f"{say(x - left)} from the left side, {say(right - x)} from the right"
        yield f"Plumb line of the start, left edge of tiles: {sides}, {where}."
    else:
        yield f"Plumb line of the start, left edge of tiles: {say(x)} right of the lower left corner."
    yield from setting_order(plan, laid)


def _thing(height: Height) -> str:
    return f"{height.point} point of the {height.name}" if height.point else height.name


def _tape(plan: Plan, wall: str, say: Say) -> list[Block]:
    shown = [e for e in plan.sensitivity if e.wall == wall and e.reach > 0]
    reasons: dict[str, list[str]] = {}
    for n in not_judged(plan.job, plan.faces):
        if n.wall == wall:
            reasons.setdefault(n.why, []).append(n.what)
    left_out = [Words(f"Not judged: {', '.join(what)} ({why}).") for why, what in reasons.items()]
    if not shown:
        return [Heading("If the tape was off"), *left_out] if left_out else []
    rows: list[tuple[str, ...]] = []
    for e in shown:
        drawn = "whole" if e.drawn is None else say(e.drawn)
        worst = "whole" if e.worst is None else say(e.worst)
        if e.is_sliver:
            worst += ", sliver"
        is_open = e.drawn is None and e.strip > plan.job.step / 2
        zone = zone_words(e.zone)
        name = side_words(e.edge) + (f" ({zone})" if zone else "")
        rows.append((name, drawn, worst, say(e.strip) if is_open else "-", "; ".join(r.words for r in e.again[:1])))
    columns = [
        Column("Edge", least=14), Column("Drawn", "end"), Column("At worst", "end", least=14), Column("Open", "end"),
        Column("Take again", least=24),
    ]  # fmt: skip
    any_open = any(r[3] != "-" for r in rows)
    if not any_open:
        columns, rows = [c for c in columns if c.title != "Open"], [(*r[:3], r[4]) for r in rows]
    tape = format_length(plan.job.tape, plan.job.step / 4, plan.job.units)
    return [
        Heading("If the tape was off"),
        Words(
            f"Smallest cut at each edge as drawn, and at worst when every reading may be off by {tape}, the lines "
            "kept where "
            "they are drawn."
            + (" Open: strip that may stay open beyond whole tiles and their joint." if any_open else ""), keep=True,
        ),
        Rows(columns, rows),
        *left_out,
    ]  # fmt: skip
