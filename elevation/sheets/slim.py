"""The frame of a page that must print at full size on any printer: Letter or A4, a strip at its foot, bars both ways.

Wide margins, since office printers leave the edge of the paper free; two bars along each axis, since printers and
copiers stretch the axes differently.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from elevation.drawing.marks import Group, Line, Mark, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import fit, wrap
from elevation.fonts import text_width
from elevation.plan import Plan
from elevation.sheets.base import Content
from elevation.units import Unit

MARGIN = 12.7
"""Free on all four sides, mm: more than any office printer leaves white."""
MUST_MEASURE = (
    "100 mm must measure 100 mm and 4 in must measure 4 in, both ways. If not, print again at 100 %, not fitted to the"
    " page."
)
SLIM_PAPERS: dict[str, tuple[float, float]] = {
    "letter": (279.4, 215.9),
    "letter-upright": (215.9, 279.4),
    "a4": (297.0, 210.0),
    "a4-upright": (210.0, 297.0),
}
"""Width and height, mm."""
_LINE = 4.2
_STRIP = 4 * _LINE + 0.8
_BAR_ROW = 6.5  # mm of height for a row of level bars
_UPRIGHT = 14.0  # mm of width for the upright bars
_BETWEEN = 14.0
_BARS_MM = (("100 mm", 100.0), ("4 in", 101.6))
_LARGE = 5.0


@dataclass(frozen=True, slots=True)
class Area:
    """The free area of such a page, mm of paper."""

    x: float
    y: float
    width: float
    height: float

    @property
    def top(self) -> float:
        """Upper side."""
        return self.y + self.height


def slim_papers(unit: Unit) -> tuple[str, str]:
    """Return the paper that every printer near the reader has, lying and upright: Letter for inches, A4 for mm."""
    return ("letter", "letter-upright") if unit == "in" else ("a4", "a4-upright")


def slim_area(paper: str) -> Area:
    """Return what the strip and the bars leave free."""
    width, height = SLIM_PAPERS[paper]
    low = MARGIN + _STRIP + _BAR_ROW * _bar_rows(width) + 1.0
    return Area(MARGIN, low, width - 2 * MARGIN - _UPRIGHT, height - MARGIN - low)


def _bar_rows(width: float) -> int:
    """Return in how many rows the level bars stand."""
    return 1 if sum(length for _, length in _BARS_MM) + _BETWEEN <= width - 2 * MARGIN else len(_BARS_MM)


def slim_frame(plan: Plan, content: Content, number: tuple[int, int]) -> tuple[Mark, ...]:
    """Return the strip at the foot and the scale bars of a page on ``content.paper``; ``number`` is n of m."""
    width, _ = SLIM_PAPERS[content.paper]
    area = slim_area(content.paper)
    right, top = width - MARGIN, MARGIN + _STRIP
    marks: list[Mark] = [Line(((MARGIN, top), (right, top)), "rule")]
    room = right - MARGIN
    if any(t.sampled == 0 for t in plan.job.tile.values()):
        marks.append(Text((right, MARGIN + 1.5), "NOMINAL", _LARGE, "end", "semibold"))
        room -= text_width("NOMINAL", _LARGE, "semibold") + 4.0
    job = plan.job
    sheet = f"Sheet {number[0]} of {number[1]}"
    date = job.date.isoformat() if isinstance(job.date, datetime.date) else job.date
    name = " ".join(part for part in (job.number, job.title) if part)
    about = [content.title, f"Job file {plan.fingerprint}", *([date] if date else []), *_by(plan)]
    y = top - NUMBER - 1.2
    wide = text_width(sheet, NUMBER, "semibold")
    name = fit(name, right - MARGIN - wide - 4.0, NUMBER, "semibold")
    marks.append(Text((right, y), sheet, NUMBER, "end", "semibold"))
    marks.append(Text((MARGIN, y), name, NUMBER, "start", "semibold"))
    lines = [fit(". ".join(about), room, NUMBER), *wrap(f"{content.scale_text}. {MUST_MEASURE}", room, NUMBER)]
    for k, line in enumerate(lines, 1):
        marks.append(Text((MARGIN, y - k * _LINE), line, NUMBER))
    rows = _bar_rows(width)
    x, low = MARGIN, top + 2.2 + _BAR_ROW * (rows - 1)
    for words, length in _BARS_MM:
        marks.append(_bar(words, (x, low), length, upright=False))
        x, low = (x + length + _BETWEEN, low) if rows == 1 else (x, low - _BAR_ROW)
    for k, (words, length) in enumerate(_BARS_MM):
        marks.append(_bar(words, (right - 2.0 - 6.5 * k, area.y), length, upright=True))
    return tuple(marks)


def _by(plan: Plan) -> list[str]:
    return [plan.job.prepared_by] if plan.job.prepared_by else []


def _bar(words: str, at: tuple[float, float], length: float, *, upright: bool) -> Group:
    """Return a bar with a tick across each end; lower or left end at ``at``."""
    x, y = at
    if upright:
        lines = ((x, y, x, y + length), *((x - 1.5, v, x + 1.5, v) for v in (y, y + length)))
        label = Text((x - 0.9, y + length / 2), words, NUMBER, "middle", "regular", 90.0)
    else:
        lines = ((x, y, x + length, y), *((v, y - 1.5, v, y + 1.5) for v in (x, x + length)))
        label = Text((x + length / 2, y + 0.9), words, NUMBER, "middle")
    data = (("length", words), ("axis", "y" if upright else "x"))
    return Group((Segments(lines, "fine"), label), "", "scale-bar", words, data)
