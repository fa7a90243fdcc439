"""What the framer needs of a niche, as a card, and a section through its sill at a larger scale."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from elevation.checks.look import text as exact
from elevation.checks.room import floor_level
from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Line, Mark, Point, Ring, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.table import Column
from elevation.drawing.view import scale_text, scales
from elevation.features import Niche
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.flow import Block, Fixed, Heading, Rows, Words
from elevation.units import format_length
from elevation.wall import Framing, framing_of

_BELOW, _ABOVE = 50.0, 24.0
"""How much of the wall under the sill, and of the back above it, the section shows, mm of model."""
_TALL = 52.0
_ASIDE = 26.0
"""Room for words beside the section, mm of paper."""
_ROW = 4.4
_Said = Callable[[float], str]
_Place = Callable[[Point], Point]


def card(plan: Plan, face: LaidFace, body: Body, width: float) -> list[Block]:
    """Return framing card and section for the niche that a face belongs to; empty for an opening.

    Args:
        plan: The plan.
        face: One of the niche's faces.
        body: Unit, step and size of words of the sheet.
        width: Width of the column they stand in, mm of paper.
    """
    wall = plan.face(face.face.wall)
    niche = next((n for n in plan.job.wall_by_id(wall.face.id).niche if n.id == face.face.of), None)
    if niche is None:
        return []
    section = _Section(plan, wall, niche, body.words)
    ratio = section.ratio(width, body)
    rough = framing_of(plan.job, wall.face, niche)
    return [*_card(plan, wall, niche, rough, body), *section.blocks(ratio, body)]


def _card(plan: Plan, wall: LaidFace, niche: Niche, rough: Framing, body: Body) -> list[Block]:
    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    x0, _, x1, _ = wall.face.bounds
    rows = [
        ("Width", said(niche.width), said(rough.width)),
        ("Height", said(niche.height), said(rough.height)),
        ("Depth: clear from finished wall, rough from the studs", said(niche.depth), said(rough.depth)),
        ("Lower side above the wall's", said(niche.y), said(rough.bottom)),
    ]
    floor = floor_level(plan, wall)
    if floor is not None:
        rows.append(("Lower side above finished floor", said(niche.y - floor), said(rough.bottom - floor)))
    if rough.from_datum is not None:
        clear = niche.y - wall.face.datum[1]
        # one row has one word: the two may stand on either side of the level line
        word = "above" if min(clear, rough.from_datum) >= 0 else "from"
        rows.append((f"Lower side {word} the datum", _signed(clear, said), _signed(rough.from_datum, said)))
    rows += [
        ("From the wall's left side", said(niche.x - x0), said(rough.to_left)),
        ("From its right side", said(x1 - niche.x - niche.width), said(rough.to_right)),
    ]
    blocks: list[Block] = [
        Heading("Framing card"),
        Rows((Column("", least=30), Column("Clear", "end"), Column("Rough", "end", weight="semibold")), rows),
        Words(
            f"Rough is clear and {exact(plan, rough.build)} on each side: tile, bed, membrane, board. "
            "Framing level; sides of the wall as measured."
        ),
    ]
    if rough.slack is not None:
        blocks.append(Words(_bay(rough, said)))
    blocks.append(Words("Verify before framing.", weight="semibold", after=3.0))
    return blocks


def _signed(value: float, said: _Said) -> str:
    return said(value) if value >= 0 else f"{said(-value)} below"


def _bay(rough: Framing, said: _Said) -> str:
    """Return whether the rough opening fits its bay."""
    assert rough.slack is not None
    assert rough.niche.bay is not None
    left, right = rough.slack
    bay = said(rough.niche.bay[1] - rough.niche.bay[0])
    if rough.too_wide > 0:
        return f"Does NOT fit the bay, {bay} between studs: {said(rough.too_wide)} too wide."
    if min(left, right) < 0:
        side = "left" if left < 0 else "right"
        return f"Reaches {said(-min(left, right))} into the {side} stud; the bay, {bay}, would take it."
    return f"Fits the bay, {bay} between studs: {said(left)} to spare at the left, {said(right)} at the right."


@dataclass(frozen=True, slots=True)
class _Section:
    """The section: u runs from the finished face of the wall into the niche, y up from the front edge of the sill."""

    plan: Plan
    wall: LaidFace
    niche: Niche
    words: float

    @property
    def rise(self) -> float:
        """How much higher the sill is at the back, mm."""
        return self.niche.pitch * self.niche.depth / 304.8

    def layers(self) -> tuple[float, float, float, float]:
        """Return thickness of tile, bed, membrane and board, mm."""
        job, room = self.plan.job, self.plan.job.room
        tile = job.tile[job.wall_by_id(self.wall.face.id).layout.tile or ""].thickness
        return tile, room.bed, room.membrane, room.board

    def ratio(self, width: float, body: Body) -> int:
        """Return the largest standard scale at which it fits the column."""
        wide = self.niche.depth + 2 * sum(self.layers())
        tall = _BELOW + _ABOVE + self.rise
        room = width - _ASIDE * self.words, _TALL * self.words
        fits = [r for r in scales(body.unit) if wide / r <= room[0] and tall / r <= room[1]]
        return fits[0] if fits else scales(body.unit)[-1]

    def solids(self) -> dict[str, list[Ring]]:
        """Return what is cut through, by what it is; mm of the section."""
        tile, bed, membrane, board = self.layers()
        depth, rise = self.niche.depth, self.rise
        own = self.niche.layout.tile if self.niche.layout is not None else None
        back = self.plan.job.tile[own].thickness if own else tile
        edge = next(e for e in self.wall.edges if (e.border.of, e.border.side) == (self.niche.id, "sill"))
        trim = self.plan.job.trim[edge.border.trim] if edge.border.trim else None
        joint = trim.joint if trim is not None else self.wall.zones[0].joint
        low, high = -_BELOW, rise + _ABOVE
        under = -(tile + bed + membrane)
        base = under - board
        # the edge that shows covers the other tile's thickness; a mitre shares it
        mitre = trim is not None and trim.kind == "mitre"
        front = 0.0 if mitre or (trim is None and self.niche.lap == "return") else tile + joint
        inner = tile if mitre else front
        top = -edge.offset
        soft = next(
            e.offset for e in self.plan.face(f"{self.wall.face.id}.{self.niche.id}.back").edges
            if e.border.side == "sill" and not e.border.of
        )  # fmt: skip

        def sill(u: float) -> float:
            return rise * u / depth

        end = depth + back + bed + membrane + board
        found: dict[str, list[Ring]] = {
            "tile": [
                ((front, sill(front)), (depth, rise), (depth, rise - tile), (inner, sill(front) - tile)),
                ((0.0, low), (tile, low), (tile, top - (tile if mitre else 0.0)), (0.0, top)),
                ((depth, rise + soft), (depth + back, rise + soft), (depth + back, high), (depth, high)),
            ],
            "bed": [
                ((tile, sill(tile) - tile), (depth, rise - tile), (depth, under + membrane), (tile, under + membrane)),
                _box(tile, low, tile + bed, under + membrane),
                _box(depth + back, under + membrane, depth + back + bed, high),
            ],
            "board": [
                _box(tile + bed + membrane, base, end, under),
                _box(tile + bed + membrane, low, tile + bed + membrane + board, base),
                _box(end - board, under, end, high),
            ],
            "framing": [_box(tile + bed + membrane + board, low, end, base)],
        }
        if trim is not None and not mitre:
            shown: list[Ring] = [_box(0.0, -trim.face, tile, 0.0)]
            if trim.kind == "profile":
                shown.append(_box(tile, max(low, -trim.face - 22.0), tile + min(bed, 1.0), 0.0))
            found["trim"] = shown
        return found

    def blocks(self, ratio: int, body: Body) -> list[Block]:
        """Return heading, drawing and what it says in words."""
        tile, bed, membrane, board = self.layers()

        def said(value: float) -> str:
            return format_length(value, body.step, body.unit)

        def fine(value: float) -> str:
            return f"{value / 25.4:.3f} in" if body.unit == "in" else f"{value:.1f} mm"

        slope = math.hypot(self.niche.depth, self.rise)
        foot = "foot" if body.unit == "in" else "305 mm"
        edge = next(e for e in self.wall.edges if (e.border.of, e.border.side) == (self.niche.id, "sill"))
        name = edge.border.trim
        names = [
            ("trim", f"trim {name}" if name else ""),
            ("tile", f"tile {exact(self.plan, tile)}"),
            ("bed", f"bed {exact(self.plan, bed)}, at the back {exact(self.plan, bed + self.rise)}"),
            ("board", f"board {exact(self.plan, board)}" + (" under membrane" if membrane else "")),
            ("framing", "framing, level"),
        ]
        solids = self.solids()
        rows = [(kind, text) for kind, text in names if kind in solids and text]
        scale = 1 / (ratio * self.words)  # the page enlarges the whole column by ``words``
        tall = (_BELOW + _ABOVE + self.rise) * scale + 8.0 + _ROW * len(rows)
        run = f"run {said(self.niche.depth)}"

        def make(x: float, top: float, width: float) -> Sequence[Mark]:
            left = x + 4.0
            level = top - 8.0 - (_ABOVE + self.rise) * scale

            def at(p: Point) -> Point:
                return left + p[0] * scale, level + p[1] * scale

            return self._marks(solids, rows, run, f"fall {fine(self.rise)}", at)

        return [
            Heading(f"Section through the sill, {scale_text(ratio, body.unit)}"),
            Fixed(tall, make),
            Words(
                f"Pitch {said(self.niche.pitch)} to the {foot}, falling to the room: over a run of "
                f"{said(self.niche.depth)} it falls {fine(self.rise)}; true length of the slope {fine(slope)}. "
                "The bed makes the fall.",
                after=3.0,
            ),
        ]

    def _marks(
        self, solids: dict[str, list[Ring]], rows: list[tuple[str, str]], run: str, fall: str, at: _Place
    ) -> list[Mark]:
        depth, rise = self.niche.depth, self.rise
        marks: list[Mark] = []
        for kind in ("framing", "board", "bed", "tile", "trim"):
            for ring in solids.get(kind, []):
                paper = tuple(at(p) for p in ring)
                marks.append(Area((paper,), "feature" if kind in ("tile", "trim") else "fine", "paper"))
                if kind == "tile":
                    marks.append(hatch([[paper]], inset=0.35))
                if kind == "trim":
                    marks.append(Area((paper,), "feature", "ink"))
        (a, b, c, d) = (at(p) for p in solids["framing"][0])
        marks += [Line((a, c), "hatch"), Line((b, d), "hatch")]
        top = at((0.0, rise + _ABOVE))[1] + 2.0
        zero, end = at((0.0, 0.0)), at((depth, rise))
        marks += [
            Line(((zero[0], zero[1] + 1.5), (zero[0], top + 1.5)), "fine"),
            Line(((end[0], at((depth, rise + _ABOVE))[1]), (end[0], top + 1.5)), "fine"),
            Line(((zero[0], top), (end[0], top)), "fine"),
            Text(((zero[0] + end[0]) / 2, top + 1.0), run, NUMBER, "middle"),
        ]
        for x in (zero[0], end[0]):
            marks.append(Line(((x - 1.1, top - 1.1), (x + 1.1, top + 1.1)), "feature"))
        # level line from the front edge, so that the fall is seen against it, and an arrow the way the water runs
        far = at((solids["board"][0][1][0], 0.0))[0]
        marks += [Line((zero, (far + 4.0, zero[1])), "hidden"), Text((far + 1.5, zero[1] + 1.2), fall, NUMBER)]
        y = end[1] + 3.0
        head, tail = zero[0] + 0.3 * (end[0] - zero[0]), zero[0] + 0.85 * (end[0] - zero[0])
        marks.append(Line(((tail, y + 0.3), (head, y)), "feature"))
        marks.append(Area((((head - 2.2, y), (head, y + 0.8), (head, y - 0.8)),), None, "ink"))
        marks.append(Text(((head + tail) / 2, y + 1.4), "to the room", NUMBER, "middle"))
        low = at((0.0, -_BELOW))[1]
        for n, (kind, text) in enumerate(rows):
            ring = tuple(at(p) for p in solids[kind][0])
            foot = low - _ROW * (len(rows) - n) + 1.4
            x = zero[0] + (0.45 + 0.12 * n) * (end[0] - zero[0])
            if kind == "trim":
                marks.append(Line((ring[3], (zero[0] - 2.0, ring[3][1]), (zero[0] - 2.0, foot)), "fine"))
                marks.append(Text((zero[0] - 1.0, foot), text, NUMBER))
                continue
            y = sum(p[1] for p in ring) / len(ring)
            marks += [Line(((x, y), (x, foot)), "fine"), Text((x + 1.0, foot), text, NUMBER)]
        return marks


def _box(x0: float, y0: float, x1: float, y1: float) -> Ring:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
