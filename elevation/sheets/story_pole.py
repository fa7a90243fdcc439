"""The story pole at full size: one strip over many rows and pages, for all walls on the same course lines.

Heights run to the right, so that a row of the pole lies along the page; rows overlap, and the line to join them at
stands in the middle of what they share. A mark stands on the page at its exact distance: nothing is rounded.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.drawing.marks import Area, Line, Mark, Segments, Text, Weight
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import fit, wrap
from elevation.drawing.view import scale_text
from elevation.fonts import text_width
from elevation.geom import EPS
from elevation.layout import LaidFace, LaidZone
from elevation.plan import Plan
from elevation.sheets.base import Body, Content
from elevation.sheets.set_out_data import CourseLine, course_lines, heights, signed
from elevation.wall import is_field

OVERLAP = 20.0
"""What a row shares with the next one, mm."""
_COURSE = 15.0  # mm: height of the lane of course marks
_LANE = 5.2  # mm: height of a line of words below it
_ROW_GAP = 7.0
_BARS = 24.0  # mm kept free at the right for the upright scale bars
_BELOW, _ABOVE = 12.0, 72.0  # mm that the pole runs on past its first and last mark, the words of which run upward


@dataclass(frozen=True, slots=True)
class PoleMark:
    """A mark of the pole.

    Attributes:
        above: Height above the level line, mm.
        words: What it is; empty for the upper edge of a course.
    """

    above: float
    words: str


@dataclass(frozen=True, slots=True)
class Pole:
    """A story pole; heights in mm above the level line.

    Attributes:
        walls: Ids of the walls it serves.
        has_level: Heights are from the level line, else from the walls' lower left corner.
        courses: Course lines, from below.
        marks: What else the walls have, from below.
    """

    walls: tuple[str, ...]
    has_level: bool
    courses: tuple[CourseLine, ...]
    marks: tuple[PoleMark, ...]

    @property
    def span(self) -> tuple[float, float]:
        """Lowest and highest point of the pole."""
        places = [m.above for m in self.marks] + [c.above for c in self.courses if not c.is_cut] + [0.0]
        places += [c.above + c.top - c.y for c in self.courses[:-1]]
        return min(places) - _BELOW, max(places) + _ABOVE

    def rows(self, width: float) -> tuple[tuple[float, float], ...]:
        """Return from where to where each row of the pole runs, for rows at most ``width`` mm long."""
        low, high = self.span
        step = width - OVERLAP
        count = max(1, math.ceil((high - low - OVERLAP - 1e-6) / step))
        return tuple((low + k * step, min(low + k * step + width, high)) for k in range(count))


def poles(plan: Plan) -> tuple[Pole, ...]:
    """Return the poles of a job: walls whose course lines agree from the level line share one."""
    groups: list[list[LaidFace]] = []
    for laid in plan.walls:
        for group in groups:
            if _same_lines(group[0], laid):
                group.append(laid)
                break
        else:
            groups.append([laid])
    return tuple(_pole(plan, g) for g in groups)


def _same_lines(one: LaidFace, two: LaidFace) -> bool:
    if not (one.face.has_datum and two.face.has_datum):
        return False
    if len(one.field) != len(two.field):
        return False
    restarts = one.field[-1].origin[1] != one.field[0].origin[1]
    pairs = zip(one.field, two.field, strict=True)
    return all(_agree(one, a, two, b, same=n > 0 and restarts) for n, (a, b) in enumerate(pairs))


def _agree(one: LaidFace, a: LaidZone, two: LaidFace, b: LaidZone, *, same: bool) -> bool:
    """Tell whether two fields have the same course lines; ``same``: the same first one, above a band."""
    if abs(a.lattice.b[1] - b.lattice.b[1]) >= 1e-6 or abs(a.joint - b.joint) >= 1e-6:
        return False
    apart = (a.origin[1] - one.face.datum[1] - b.origin[1] + two.face.datum[1]) / a.lattice.b[1]
    return abs(apart - (0 if same else round(apart))) * a.lattice.b[1] < EPS


def _pole(plan: Plan, group: Sequence[LaidFace]) -> Pole:
    lines: dict[int, CourseLine] = {}
    for laid in group:
        for c in course_lines(plan, laid):
            key = round(c.above)
            if is_field(c.zone) and (key not in lines or lines[key].is_cut):
                lines[key] = c
    courses = tuple(sorted(lines.values(), key=lambda c: c.above))
    things = [(h.above, f"{f.face.wall} {h.words}") for f in group for h in heights(f) if abs(h.above) > EPS]
    # courses of a band stand where the field has none
    breaks = [(over, under) for over, under in _between(courses) if under - over > _widest_joint(plan)]
    things += [
        (c.above, f"{f.face.wall} {c.zone} course {c.label}")
        for f in group for c in course_lines(plan, f)
        if not is_field(c.zone) and any(over < c.above < under for over, under in breaks)
    ]  # fmt: skip
    found = sorted(things)
    # the same height on several walls is one mark
    marks: list[tuple[float, list[str]]] = []
    for above, words in found:
        if marks and above - marks[-1][0] <= EPS:
            marks[-1][1].append(words)
        else:
            marks.append((above, [words]))
    told = [PoleMark(above, _joined(words)) for above, words in marks]
    return Pole(
        tuple(laid.face.wall for laid in group), group[0].face.has_datum,
        courses, tuple(told),
    )  # fmt: skip


def _between(courses: Sequence[CourseLine]) -> Iterator[tuple[float, float]]:
    """Yield from where to where there is no course between two, from below."""
    for below, above in pairwise(courses):
        yield below.above + below.top - below.y, above.above


def _widest_joint(plan: Plan) -> float:
    return max(z.joint for laid in plan.walls for z in laid.zones) + EPS


def _joined(words: Sequence[str]) -> str:
    by_thing: dict[str, list[str]] = {}
    for word in words:
        wall, _, thing = word.partition(" ")
        by_thing.setdefault(thing, []).append(wall)
    return "; ".join(f"{', '.join(walls)} {thing}" for thing, walls in by_thing.items())


def pole_pages(plan: Plan, body: Body) -> Iterator[Content]:
    """Yield the pages of every pole."""
    for pole in poles(plan):
        spans = pole.rows(body.width - _BARS)
        sheets: list[list[tuple[int, float]]] = [[]]
        under = body.top - _head_height(pole, body, len(spans))
        top = under
        for k, span in enumerate(spans):
            tall = _tall(plan, pole, span)
            if sheets[-1] and top - tall < body.y:
                sheets.append([])
                top = under
            sheets[-1].append((k, top))
            top -= tall + _ROW_GAP
        name, count = "-".join(pole.walls), len(sheets)
        title = f"Story pole, wall{'s' if len(pole.walls) > 1 else ''} {', '.join(pole.walls)}"
        for n, rows in enumerate(sheets, 1):
            marks: list[Mark] = list(_head(pole, body, n, count, len(spans)))
            for k, upper in rows:
                marks += _row(plan, pole, body.x, spans, k, upper)
            yield Content(
                f"pole-{name}" if n == 1 else f"pole-{name}-{n}", title if n == 1 else f"{title}, continued ({n})",
                scale_text(1, body.unit), None, tuple(marks),
                f"Story pole at full size, page {n} of {count}: course lines, level line, niche edges, tub and "
                "ceiling.",
                full_size=True,
            )  # fmt: skip


_TITLE = 5.0


def _head_lines(pole: Pole, body: Body, rows: int) -> tuple[str, ...]:
    origin = "level line" if pole.has_level else "lower left corner of the wall"
    words = (
        "FULL SIZE. 100 mm and 4 in must measure so both ways; if not, print again at 100 %. Cut the rows out and "
        "join them at "
        f"the match lines, 1 to {rows}; right is up. Hold 0 at the {origin}. Marks of rims, floor and ceiling are "
        "as read: "
        "check them, never strike lines from them."
    )
    return wrap(words, body.width - _BARS - 4.0, NUMBER)


def _level_bars(body: Body) -> bool:
    """Tell whether the two level scale bars fit side by side."""
    return body.width - _BARS > 225.0


def _head_height(pole: Pole, body: Body, rows: int) -> float:
    """Return how much height stands above the first row: title, words, level scale bars, mm."""
    lines = len(_head_lines(pole, body, rows))
    return 2.0 + _TITLE + 3.0 + lines * 1.6 * NUMBER + (9.0 if _level_bars(body) else 17.0) + 4.0


def _head(pole: Pole, body: Body, page: int, count: int, rows: int) -> Iterator[Mark]:
    """Yield the title, what to do with the pole, and the scale bars along both axes."""
    walls = f"wall{'s' if len(pole.walls) > 1 else ''} {', '.join(pole.walls)}"
    title = f"Story pole, {walls}: page {page} of {count}"
    y = body.top - _TITLE
    yield Text((body.x, y), fit(title, body.width - _BARS - 4.0, _TITLE, "semibold"), _TITLE, weight="semibold")
    y -= 3.0 + NUMBER
    for line in _head_lines(pole, body, rows):
        yield Text((body.x, y), line, NUMBER)
        y -= 1.6 * NUMBER
    y -= 1.0
    for n, (length, word) in enumerate(((100.0, "100 mm"), (101.6, "4 in"))):
        x, low = (body.x + n * 112.0, y) if _level_bars(body) else (body.x, y - n * 8.0)
        yield Line(((x, low), (x + length, low)), "feature")
        yield Segments(((x, low - 1.2, x, low + 1.2), (x + length, low - 1.2, x + length, low + 1.2)), "fine")
        yield Text((x + length / 2, low - 1.0 - NUMBER), word, NUMBER, "middle")
    for length, word, x in ((100.0, "100 mm", body.right - 12.0), (101.6, "4 in", body.right - 2.0)):
        low = body.top - 2.0 - length
        yield Line(((x, low), (x, low + length)), "feature")
        yield Segments(((x - 1.2, low, x + 1.2, low), (x - 1.2, low + length, x + 1.2, low + length)), "fine")
        yield Text((x - 1.0, low + length / 2), word, NUMBER, "middle", angle=90)


def _placed(plan: Plan, pole: Pole, span: tuple[float, float]) -> list[tuple[PoleMark, int]]:
    """Return each mark of a row with the line its words stand on: lower than those of marks over its words."""
    there = [m for m in pole.marks if span[0] <= m.above <= span[1]]
    turned = [m for m in there if _extent(plan, m, span)[0] < m.above]
    # words to the right: the last mark highest, so that no line runs through the words of the one before; to the left:
    # the first one highest
    order = [*turned, *(m for m in reversed(there) if m not in turned)]
    out: list[tuple[PoleMark, int]] = []
    for mark in order:
        left, right = _extent(plan, mark, span)
        over = [lane for other, lane in out if left - 1.0 <= other.above <= right + 1.0]
        over += [lane for other, lane in out if _meet((left, right), _extent(plan, other, span))]
        out.append((mark, max(over, default=-1) + 1))
    return out


def _extent(plan: Plan, mark: PoleMark, span: tuple[float, float]) -> tuple[float, float]:
    """Return from where to where a mark's words run: to its right, or to its left where the row ends."""
    wide = text_width(_words(plan, mark), NUMBER) + 2.0
    return (mark.above, mark.above + wide) if mark.above + wide < span[1] - 1.0 else (mark.above - wide, mark.above)


def _meet(one: tuple[float, float], two: tuple[float, float]) -> bool:
    return one[0] < two[1] + 2.0 and two[0] < one[1] + 2.0


def _words(plan: Plan, mark: PoleMark) -> str:
    return f"{mark.words}  {signed(mark.above, plan.job.step / 2, plan.job.units)}"


def _tall(plan: Plan, pole: Pole, span: tuple[float, float]) -> float:
    """Return how tall a row is, mm."""
    lanes = max((lane for _, lane in _placed(plan, pole, span)), default=-1) + 1
    level = 1 if span[0] < 0.0 < span[1] else 0
    return _COURSE + _LANE * (max(1, lanes) + level) + 2.0


def _row(
    plan: Plan, pole: Pole, x0: float, spans: Sequence[tuple[float, float]], k: int, top: float
) -> Iterator[Mark]:
    """Yield one row of the pole, its upper edge at ``top``."""
    low, high = spans[k]
    count = len(spans)
    bottom = top - _tall(plan, pole, spans[k])
    foot = top - _COURSE

    def at(above: float) -> float:
        return x0 + above - low

    free = (low + (OVERLAP / 2 if k else 0.0), high - (OVERLAP / 2 if k + 1 < count else 0.0))
    yield from _courses(plan, pole, spans[k], free, at, top, foot)
    yield Area((((x0, bottom), (at(high), bottom), (at(high), top), (x0, top)),), "whole")
    yield Line(((x0, foot), (at(high), foot)), "hatch")
    yield Text((x0 + OVERLAP / 2 + 2.0, top + 1.2), f"row {k + 1} of {count}", NUMBER, weight="semibold")
    tip = at(high) - OVERLAP / 2 - 2.0
    yield Text((tip - 9.0, top + 1.2), "up", NUMBER, "end")
    yield Segments(((tip - 8.0, top + 2.4, tip, top + 2.4), (tip - 2.0, top + 3.4, tip, top + 2.4),
                    (tip - 2.0, top + 1.4, tip, top + 2.4)), "fine")  # fmt: skip
    for place in ([low + OVERLAP / 2] if k > 0 else []) + ([high - OVERLAP / 2] if k + 1 < count else []):
        yield Line(((at(place), bottom - 2.0), (at(place), top + 2.0)), "match")
    if low <= 0.0 <= high:
        yield Line(((at(0.0), bottom), (at(0.0), top)), "cut")
        name = "LEVEL LINE  0" if pole.has_level else "LOWER LEFT CORNER  0"
        yield from _word(at(0.0), bottom + 1.5, name, at(high), bold=True)
    for mark, lane in _placed(plan, pole, spans[k]):
        y = foot - 1.8 - NUMBER - lane * _LANE
        yield Line(((at(mark.above), y - 0.6), (at(mark.above), foot)), "feature")
        yield from _word(at(mark.above), y, _words(plan, mark), at(high))


def _word(mark: float, y: float, text: str, limit: float, *, bold: bool = False) -> Iterator[Mark]:
    """Yield words right of their mark, or left of it where the row ends."""
    weight: Weight = "semibold" if bold else "regular"
    wide = text_width(text, NUMBER, weight)
    left = mark + 1.0 if mark + wide + 2.0 < limit - 1.0 else mark - 1.0 - wide
    yield Text((left, y), text, NUMBER, weight=weight)


def _courses(
    plan: Plan, pole: Pole, span: tuple[float, float], free: tuple[float, float], at: Callable[[float], float],
    top: float, foot: float,
) -> Iterator[Mark]:  # fmt: skip
    """Yield both edges of every course, the joint between them, its number and the height of its lower edge.

    Words stand between the match lines only, in ``free``.
    """
    low, high = span
    edges = [(c, c.above, c.above + c.top - c.y) for c in pole.courses]
    # the last course ends at the ceiling, the first at the floor: what its slot would be beyond them is not marked
    least = min([m.above for m in pole.marks], default=low) - EPS
    most = max([m.above for m in pole.marks], default=high) + EPS
    for over, under in _between(pole.courses):
        # what is wider is no joint but a band, with tile of its own
        if low <= over and under <= high and over < under <= over + _widest_joint(plan):
            ring = ((at(over), foot), (at(under), foot), (at(under), top), (at(over), top))
            yield Area((ring,), None, "pale")
    for c, under, over in edges:
        for place in (under, over):
            if low <= place <= high and least <= place <= most:
                yield Line(((at(place), foot), (at(place), top)), "feature")
        a, b = max(under, free[0], least), min(over, free[1], most)
        height = signed(under, plan.job.step / 2, plan.job.units)
        label = next((t for t in (f"course {c.label}", c.label) if text_width(t, 3.5, "semibold") + 2.0 < b - a), "")
        if label:
            yield Text((at((a + b) / 2), top - 6.0), label, 3.5, "middle", "semibold")
        # the height belongs to the lower edge: it is written only where that edge stands in the row
        if under >= max(low, least) and text_width(height, NUMBER) + 3.0 < b - a:
            wide = text_width(height, NUMBER) + 2.0
            x = at(0.0) if under < 0.0 < under + wide else at(a)  # clear of the level line
            yield Text((x + 1.5, foot + 2.0), height, NUMBER)
