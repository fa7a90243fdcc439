"""The trim round a niche from the front, its width enlarged so that the cuts at its corners can be seen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from elevation.checks.look import text
from elevation.cutting.trims import TrimPlan, TrimRun
from elevation.drawing.marks import Anchor, Area, Mark, Point, Text
from elevation.drawing.pens import NUMBER
from elevation.fonts import text_width
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.flow import Block, Fixed, Heading, Words

_WIDE = 4.2
"""Width of the trim on paper, mm: room for its tag."""
_TALL = 18.0
"""Height of the opening on paper, mm, at most."""
_SIDES = {"sill": (0, -1), "bottom": (0, -1), "head": (0, 1), "top": (0, 1), "left": (-1, 0), "right": (1, 0)}
_KINDS = {"mitre": "mitred", "butt": "butted", "piece": "corner pieces"}


def frame_blocks(plan: Plan, face: LaidFace, body: Body, width: float) -> list[Block]:
    """Return heading and drawing of the trim round the niche or opening that a face belongs to; empty without trim.

    Args:
        plan: The plan.
        face: One of its faces.
        body: Size of words of the sheet.
        width: Width of the column, mm of paper.
    """
    runs = {r.side: (t, r) for t in plan.trims for r in t.runs if (r.face, r.of) == (face.face.wall, face.face.of)}
    strips = {side: found for side, found in runs.items() if side in _SIDES and found[1].near != found[1].far}
    if not strips:
        return []
    names = list(dict.fromkeys(t.trim for t, _ in strips.values()))
    ids = {r.id for _, r in strips.values()}
    kinds = dict.fromkeys(c.kind for t in plan.trims for c in t.corners if ids.issuperset(c.runs))
    how = f"Corners: {' and '.join(_KINDS[k] for k in kinds)}. " if kinds else ""
    drawing = _Frame(plan, face, strips, width / body.words)
    return [
        Heading(f"Trim {' and '.join(names)} from the front, not to scale"),
        Fixed(drawing.tall, drawing.marks, after=1.5),
        Words(f"{how}Lengths over all, long point to long point; end cuts: trim schedule."),
    ]


class _Frame:
    """The frame on paper: an opening in the shape of the clear one as far as the column allows."""

    def __init__(
        self, plan: Plan, face: LaidFace, strips: Mapping[str, tuple[TrimPlan, TrimRun]], width: float
    ) -> None:
        self.plan, self.strips = plan, strips
        ring = plan.face(face.face.wall).face.cutout(face.face.of).shape.ring
        xs, ys = [p[0] for p in ring], [p[1] for p in ring]
        shape = (max(ys) - min(ys)) / (max(xs) - min(xs))
        self.aside = 5.0 + max(text_width(self._length(r), NUMBER) for _, r in strips.values())
        room = width - 2 * (self.aside + _WIDE)
        self.width = min(room, max(24.0, _TALL / shape))
        self.height = min(_TALL, max(12.0, self.width * shape))
        self.tall = self.height + 2 * (_WIDE + NUMBER + 2.0)

    def _length(self, run: TrimRun) -> str:
        return text(self.plan, run.length)

    def marks(self, x: float, top: float, width: float) -> Sequence[Mark]:
        """Return the drawing with its upper left corner at ``x``, ``top``."""
        left, low = x + (width - self.width) / 2, top - self.tall / 2 - self.height / 2
        right, high = left + self.width, low + self.height
        marks: list[Mark] = [Area((((left, low), (right, low), (right, high), (left, high)),), "fine")]
        corners = {"left": (left, low), "right": (right, high)}
        for side, (trim, run) in self.strips.items():
            marks += self._strip(side, trim, run, corners)
        return marks

    def _strip(self, side: str, trim: TrimPlan, run: TrimRun, corners: Mapping[str, Point]) -> list[Mark]:
        """Return a strip with its tag inside, its length beside it, and the corner piece at its end."""
        (left, low), (right, high) = corners["left"], corners["right"]
        dx, dy = _SIDES[side]
        level = dy != 0
        start, end = (left, right) if level else (low, high)
        near = (high if dy > 0 else low) if level else (right if dx > 0 else left)
        far = near + (dx + dy) * _WIDE
        inner, outer = [start, end], [start, end]
        marks: list[Mark] = []
        for k, (cut, out) in enumerate(zip(run.ends, (-1.0, 1.0), strict=True)):
            if cut.kind == "mitre" or cut.through:
                outer[k] += out * _WIDE
            if cut.through:
                inner[k] += out * _WIDE
            if cut.kind == "piece":
                at, mid = inner[k] + out * _WIDE / 2, (near + far) / 2
                marks.append(Area((_square((at, mid) if level else (mid, at), _WIDE / 2),), "feature", "pale"))
        points = [(inner[0], near), (inner[1], near), (outer[1], far), (outer[0], far)]
        ring = tuple(p if level else (p[1], p[0]) for p in points)
        marks.append(Area((ring,), "feature", "paper"))
        return [*marks, *self._words(run, (start + end) / 2, (near + far) / 2, far + (dx + dy) * 1.4, end - start)]

    def _words(self, run: TrimRun, middle: float, across: float, away: float, room: float) -> list[Mark]:
        """Return tag and length: ``middle`` along the strip, ``across`` inside it, ``away`` off its outer edge."""
        said, after = self._length(run), away > across
        if not run.upright:
            base = away if after else away - NUMBER
            return [
                Text((middle, across - NUMBER / 2), run.tag, NUMBER, "middle", "semibold"),
                Text((middle, base), said, NUMBER, "middle"),
            ]
        anchor: Anchor = "start" if after else "end"
        length = Text((away, middle - NUMBER / 2), said, NUMBER, anchor)
        if text_width(run.tag, NUMBER, "semibold") + 1.0 <= room:
            return [Text((across + NUMBER / 2, middle), run.tag, NUMBER, "middle", "semibold", 90.0), length]
        return [Text((away, middle + NUMBER), run.tag, NUMBER, anchor, "semibold"), length]


def _square(middle: Point, half: float) -> tuple[Point, ...]:
    x, y = middle
    return (x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)
