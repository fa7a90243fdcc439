"""The title block: a strip down the right side of every sheet, with what tells one sheet of one job from another."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field

from elevation.drawing.marks import Line, Mark, Text, Weight
from elevation.drawing.text import DESCENT, PITCH, fit, wrap
from elevation.fonts import text_width
from elevation.plan import Plan
from elevation.sheets.base import Content, Edition
from elevation.sheets.paper import Paper
from elevation.sheets.scale_bar import scale_bar

PAD = 3.0
"""Free space at the sides of the strip, mm."""
LABEL = 1.8
FIGURE = 2.5
_READERS: dict[Edition, str] = {
    "installer": "For the installer",
    "homeowner": "For the homeowner",
    "permit": "For the permit desk",
    "bid": "For the bid",
}


@dataclass(slots=True)
class _Strip:
    """Writes downward, or upward, in a strip; remembers where it stands."""

    x: float
    right: float
    top: float
    bottom: float
    marks: list[Mark] = field(default_factory=list)

    @property
    def room(self) -> float:
        return self.right - self.x - 2 * PAD

    def rule(self, y: float) -> None:
        self.marks.append(Line(((self.x, y), (self.right, y)), "rule"))

    def line(self, text: str, y: float, height: float, weight: Weight = "regular") -> None:
        self.marks.append(Text((self.x + PAD, y), text, height, "start", weight))

    def down(self, label: str, text: str, height: float = FIGURE, most: int = 2, weight: Weight = "regular") -> None:
        """Write a labelled field below what stands so far, at most so many lines."""
        lines = shortened(text, self.room, height, most, weight)
        self.top -= 1.6 + LABEL
        self.line(label, self.top, LABEL)
        self.top -= 0.9 + LABEL * DESCENT
        for n, words in enumerate(lines):
            self.top -= height * (1 if n == 0 else PITCH)
            self.line(words, self.top, height, weight)
        self.top -= height * DESCENT + 1.0
        self.rule(self.top)


def shortened(text: str, width: float, height: float, most: int, weight: Weight = "regular") -> tuple[str, ...]:
    """Return text wrapped to at most so many lines, the last one shortened where it must be."""
    lines = wrap(text, width, height, weight)
    if len(lines) <= most:
        return lines
    return (*lines[: most - 1], fit(lines[most - 1] + " " + " ".join(lines[most:]), width, height, weight))


def title_block(
    plan: Plan, paper: Paper, edition: Edition, content: Content, number: tuple[int, int]
) -> tuple[Mark, ...]:
    """Return the marks of the title block of a page; ``number`` is n of m."""
    job = plan.job
    right = paper.width - paper.margin
    strip = _Strip(right - paper.strip, right, paper.height - paper.margin, paper.margin)
    strip.marks.append(Line(((strip.x, strip.bottom), (strip.x, strip.top)), "feature"))
    small = paper.strip <= 50
    _lower(strip, plan, paper, edition, content, number)
    strip.down("JOB", job.title, 3.5 if _width_lines(job.title, strip.room, 3.5) <= 3 else FIGURE, 5, "semibold")
    for label, text in (
        ("JOB NUMBER", job.number), ("CLIENT", job.client), ("ADDRESS", job.address), ("PREPARED BY", job.prepared_by),
        ("DATE", None if job.date is None else _date(job.date)),
    ):  # fmt: skip
        if text:
            strip.down(label, text, FIGURE, 1 if small and len(plan.job.revision) > 1 else 2)
    if any(t.sampled == 0 for t in job.tile.values()):
        _nominal(strip)
    _revisions(strip, plan)
    return tuple(strip.marks)


def _width_lines(text: str, width: float, height: float) -> int:
    return len(wrap(text, width, height, "semibold"))


def _date(value: str | datetime.date) -> str:
    return value if isinstance(value, str) else value.isoformat()


def _nominal(strip: _Strip) -> None:
    """Write NOMINAL, large: the sizes of the tile are a guess until ten of them were measured."""
    height = min(7.0, strip.room / text_width("NOMINAL", 1.0, "semibold"))
    strip.top -= 2.0 + height
    strip.line("NOMINAL", strip.top, height, "semibold")
    for n, words in enumerate(
        wrap("Tile not measured. Measure ten tiles and joints before any cut.", strip.room, FIGURE)
    ):
        strip.top -= FIGURE * PITCH if n else FIGURE + 1.5
        strip.line(words, strip.top, FIGURE)
    strip.top -= 2.0
    strip.rule(strip.top)


def _revisions(strip: _Strip, plan: Plan) -> None:
    """Write as many revisions as there is room for, the latest first."""
    listed = list(reversed(plan.job.revision))
    if not listed:
        return
    if strip.top - strip.bottom < 12:
        return
    strip.top -= 1.6 + LABEL
    strip.line("REVISION", strip.top, LABEL)
    strip.top -= 1.2
    for n, revision in enumerate(listed):
        head = f"{revision.mark}   {_date(revision.date)}"
        note = shortened(revision.note, strip.room, FIGURE, 2)
        need = FIGURE * (1 + PITCH * len(note)) + FIGURE * DESCENT + 1.6
        left = len(listed) - n
        if strip.top - need < strip.bottom + (6.0 if left > 1 else 0.0):
            strip.top -= 1.0 + FIGURE
            strip.line(f"and {left} more in the job file", strip.top, FIGURE)
            strip.top -= 1.0
            return
        strip.top -= 1.2 + FIGURE
        strip.line(fit(head, strip.room, FIGURE, "semibold"), strip.top, FIGURE, "semibold")
        for words in note:
            strip.top -= FIGURE * PITCH
            strip.line(words, strip.top, FIGURE)
        strip.top -= FIGURE * DESCENT


def _lower(
    strip: _Strip, plan: Plan, paper: Paper, edition: Edition, content: Content, number: tuple[int, int]
) -> None:
    """Write what stands at the foot of the strip, and leave ``bottom`` above it."""
    y = strip.bottom + 2.6
    units = "inches" if plan.job.units == "in" else "millimetres"
    foot = [
        f"job file {plan.fingerprint}",
        f"All lengths in {units}.",
        "Dimensions to finished tile.",
        f"Scale as shown on {paper.label}." if content.scale_text else f"Laid out for {paper.label}.",
    ]
    size = FIGURE if paper.height > 250 else 2.0
    for words in reversed(foot):
        strip.line(words, y, size)
        y += size * PITCH
    y += 0.8
    strip.rule(y)
    y += 2.6
    n, m = number
    said = f"Sheet {n} of {m}"
    strip.line(said, y, min(5.0, strip.room / text_width(said, 1.0, "semibold")), "semibold")
    y += 5.0 + 2.0
    strip.line(_READERS[edition], y, FIGURE)
    y += FIGURE + 1.8
    strip.rule(y)
    if content.scale_ratio is not None:
        y += 3.0
        bar, height = scale_bar(content.scale_ratio, plan.job.units, strip.x + PAD, y, strip.room)
        strip.marks += bar
        y += height + 1.2
    if content.scale_text:
        lines = wrap(content.scale_text, strip.room, FIGURE)
        y += (
            1.8 + FIGURE * PITCH * (len(lines) - 1)
            if content.scale_ratio is None
            else FIGURE * PITCH * (len(lines) - 1)
        )
        low = y
        for k, words in enumerate(lines):
            strip.line(words, low - k * FIGURE * PITCH, FIGURE)
        y = low + FIGURE + 1.6
        strip.line("SCALE", y, LABEL)
        y += LABEL + 1.4
    if content.scale_text or content.scale_ratio is not None:
        strip.rule(y)
    height = 3.5
    lines = shortened(content.title, strip.room, height, 4, "semibold")
    y += 1.8 + height * DESCENT
    for words in reversed(lines):
        strip.line(words, y, height, "semibold")
        y += height * PITCH
    y += 0.4 - height * (PITCH - 1) + 1.0
    strip.line("SHEET", y, LABEL)
    y += LABEL + 1.4
    strip.rule(y)
    strip.bottom = y
