"""The section through the sill of a niche or window, at a larger scale: fall, tile, bed, board, trim, shelf."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import shapely

from elevation.checks.look import text as exact
from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Line, Mark, Point, Ring, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import scale_text, scales
from elevation.fonts import text_width
from elevation.layout.section import Section, ShelfCut, Solid, What
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.flow import Block, Fixed, Heading, Words
from elevation.sheets.wall_trims import trim_name
from elevation.units import format_length

_TALL = 52.0
_TALLER = 26.0
"""How tall the drawing may be, and how much more for every part above, mm of paper."""
_ASIDE = 26.0
"""Room for words beside the section, mm of paper."""
_ROW = 4.4
_CLEAR = 0.8
"""Space between the section and the first name below it, mm of paper."""
_BREAK = 5.0
"""Space between two parts of the section, mm of paper."""
_HEAD = 8.0
"""Room for the run above the section, mm of paper."""
_ARROW = 7.5
"""Least height above the sill that takes an arrow with words, mm of paper."""
_HATCHED: tuple[What, ...] = ("tile", "shelf")
_ORDER: tuple[What, ...] = ("framing", "board", "bed", "frame", "tile", "joint", "shelf", "trim")


def section_blocks(plan: Plan, section: Section, body: Body, width: float) -> list[Block]:
    """Return heading, drawing and what it says in words.

    Args:
        plan: For the names of trims.
        section: What is cut through.
        body: Unit, step and size of words of the sheet.
        width: Width of the column it stands in, mm of paper.
    """
    ratio = _ratio(section, width, body)
    scale = 1 / (ratio * body.words)  # the page enlarges the whole column by ``words``
    figure = _Figure(section, scale, _labels(plan, section, body))

    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    r = section.recess
    foot = "foot" if body.unit == "in" else "305 mm"
    run = f"run {said(r.depth)}"
    fall = f"fall {_fine(r.rise, body)}"
    blocks: list[Block] = [
        Heading(f"Section through the sill, {scale_text(ratio, body.unit)}"),
        Words(
            f"Pitch {said(r.pitch)} to the {foot}, falling to the room: over a run of {said(r.depth)} it falls "
            f"{_fine(r.rise, body)}; true length of the slope {_fine(r.slope, body)}. The bed makes the fall.",
            keep=True,
        ),
        Fixed(figure.tall, lambda x, top, _: figure.marks(x, top, run, fall)),
    ]
    blocks += [Words(_shelf(s, r.depth, said, foot), after=3.0) for s in section.shelves]
    rear = "back" if r.niche is not None else "frame"
    return [
        *blocks,
        Words(
            f"Tile keeps no water out: the membrane runs over the sill, up the jambs and to the {rear}, as its "
            "maker's instructions say.",
            after=3.0,
        ),
    ]


def _fine(value: float, body: Body) -> str:
    return f"{value / 25.4:.3f} in" if body.unit == "in" else f"{value:.1f} mm"


def _shelf(shelf: ShelfCut, depth: float, said: Callable[[float], str], foot: str) -> str:
    """Return a shelf in words."""
    falls = f"It falls {said(shelf.pitch)} to the {foot}" if shelf.fall > 0 else "It is level: water will stand on it"
    return (
        f"Shelf {shelf.name}: clear {said(shelf.length)} x {said(depth)}, {said(shelf.thickness)} thick, its front "
        f"edge in the plane of the wall, {said(shelf.top)} from the front edge of the sill to its top. {falls}. Let "
        f"in behind the tile at both ends and the back, {said(shelf.let_in)}; soft joints above and below."
    )


def _ratio(section: Section, width: float, body: Body) -> int:
    """Return the largest standard scale at which it fits the column."""
    tall = sum(high - low for low, high in section.windows)
    room = width - _ASIDE * body.words, (_TALL + _TALLER * (len(section.windows) - 1)) * body.words
    fits = [r for r in scales(body.unit) if section.end / r <= room[0] and tall / r <= room[1]]
    return fits[0] if fits else scales(body.unit)[-1]


def _labels(plan: Plan, section: Section, body: Body) -> list[tuple[What, str]]:
    """Return what is named below the section, from the left."""
    tile, bed, membrane, board = section.layers
    trim = next((name for name, t in plan.job.trim.items() if t is section.trim), None)
    labels: list[tuple[What, str]] = [
        ("tile", f"tile {exact(plan, tile)}"),
        ("bed", f"bed {exact(plan, bed)}, at the back {exact(plan, bed + section.recess.rise)}"),
        ("board", f"board {exact(plan, board)}" + (" under membrane" if membrane else "")),
        ("framing", "framing, level"),
        ("joint", f"soft joint {exact(plan, section.soft)}"),
    ]
    if trim is not None:
        labels.insert(0, ("trim", trim_name(plan, trim)))
    if section.of("frame"):
        labels.append(("frame", f"{section.recess.word} frame"))
    return [(what, words) for what, words in labels if what == "trim" or section.of(what)]


@dataclass(frozen=True, slots=True)
class _Figure:
    """The section on the paper: its windows one above the other."""

    section: Section
    scale: float
    labels: Sequence[tuple[What, str]]

    @property
    def tall(self) -> float:
        """Height over all, mm of paper."""
        windows = self.section.windows
        drawn = sum(high - low for low, high in windows) * self.scale + _BREAK * (len(windows) - 1)
        return _HEAD + drawn + _ROW * len(self.labels) + _CLEAR

    def marks(self, x: float, top: float, run: str, fall: str) -> list[Mark]:
        """Return the marks, upper left corner at ``x``, ``top``."""
        windows = self.section.windows
        left, low = x + 4.0, top - self.tall + _ROW * len(self.labels) + _CLEAR
        floors = [
            low + sum(h - w for w, h in windows[:k]) * self.scale + _BREAK * k for k in range(len(windows))
        ]  # fmt: skip

        def place(k: int) -> Callable[[Point], Point]:
            return lambda p: (left + p[0] * self.scale, floors[k] + (p[1] - windows[k][0]) * self.scale)

        marks: list[Mark] = []
        for k, window in enumerate(windows):
            marks += self._solids(place(k), window)
        for k in range(len(windows) - 1):
            marks += self._break(left, floors[k] + (windows[k][1] - windows[k][0]) * self.scale, floors[k + 1])
        head = floors[-1] + (windows[-1][1] - windows[-1][0]) * self.scale + 2.0
        marks += self._dimensions(place(0), head, run, fall)
        marks += self._arrow(place(0), (windows[0][1] - self.section.recess.rise) * self.scale)
        marks += self._names(place(0), low)
        for shelf, ring in zip(self.section.shelves, self.section.of("shelf"), strict=True):
            middle = (ring[1][1] + ring[2][1]) / 2
            shown = next((k for k, (a, b) in enumerate(windows) if a <= middle <= b), None)
            if shown is not None:
                near, far = place(shown)((ring[1][0], middle)), place(shown)((self.section.end, middle))
                marks.append(Line((near, (far[0] + 1.5, near[1])), "fine"))
                marks.append(Text((far[0] + 2.0, near[1] - NUMBER / 2), f"shelf {shelf.name}", NUMBER))
        return marks

    def _solids(self, at: Callable[[Point], Point], window: tuple[float, float]) -> list[Mark]:
        marks: list[Mark] = []
        for what in _ORDER:
            for solid in self.section.solids:
                if solid.what == what:
                    for ring in _clipped(solid, window):
                        marks += self._solid(what, tuple(at(p) for p in ring))
        if window == self.section.windows[0]:
            (a, b, c, d) = (at(p) for p in self.section.of("framing")[0])
            marks += [Line((a, c), "hatch"), Line((b, d), "hatch")]
        return marks

    def _solid(self, what: What, paper: Ring) -> list[Mark]:
        trim = self.section.trim
        if what == "joint" or (what == "trim" and trim is not None and trim.kind == "profile"):
            return [Area((paper,), "fine", "grey" if what == "joint" else "ink")]
        if what in _HATCHED or what == "trim":
            angles = (135.0,) if what != "tile" else (45.0,)
            return [Area((paper,), "feature", "paper"), hatch([[paper]], inset=0.35, angles=angles)]
        return [Area((paper,), "feature" if what == "frame" else "fine", "paper")]

    def _break(self, left: float, low: float, high: float) -> list[Mark]:
        """Return the lines between two parts: what lies between is not drawn."""
        right = left + self.section.end * self.scale
        middle, third = (left + right) / 2, (high - low) / 3
        marks: list[Mark] = []
        for y in (low + 0.8, high - 0.8):
            points = ((left - 1.5, y), (middle - 1.2, y), (middle - 0.4, y + third), (middle + 0.4, y - third),
                      (middle + 1.2, y), (right + 1.5, y))  # fmt: skip
            marks.append(Line(points, "fine"))
        return marks

    def _dimensions(self, at: Callable[[Point], Point], head: float, run: str, fall: str) -> list[Mark]:
        r = self.section.recess
        zero, end = at((0.0, 0.0)), at((r.depth, r.rise))
        marks: list[Mark] = [
            Line(((zero[0], zero[1] + 1.5), (zero[0], head + 1.5)), "fine"),
            Line(((end[0], head - 2.0), (end[0], head + 1.5)), "fine"),
            Line(((zero[0], head), (end[0], head)), "fine"),
            Text(((zero[0] + end[0]) / 2, head + 1.0), run, NUMBER, "middle"),
        ]
        ticks = tuple((x - 1.1, head - 1.1, x + 1.1, head + 1.1) for x in (zero[0], end[0]))
        marks.append(Segments(ticks, "feature"))
        # level line from the front edge, so that the fall is seen against it
        far = at((self.section.end, 0.0))[0]
        marks += [Line((zero, (far + 4.0, zero[1])), "hidden"), Text((far + 1.5, zero[1] + 1.2), fall, NUMBER)]
        return marks

    def _arrow(self, at: Callable[[Point], Point], room: float) -> list[Mark]:
        """Return the arrow the way the water runs, with words where there is room."""
        r = self.section.recess
        if r.rise <= 0:
            return []
        zero, end = at((0.0, 0.0)), at((r.depth, r.rise))
        words = "to the room"
        wordy = room >= _ARROW and text_width(words, NUMBER) < end[0] - zero[0] - 2.0
        y = end[1] + (3.0 if wordy else min(2.0, room / 2))
        head, tail = zero[0] + 0.3 * (end[0] - zero[0]), zero[0] + 0.85 * (end[0] - zero[0])
        marks: list[Mark] = [
            Line(((tail, y + 0.3), (head, y)), "feature"),
            Area((((head - 2.2, y), (head, y + 0.8), (head, y - 0.8)),), None, "ink"),
        ]
        if wordy:
            marks.append(Text(((head + tail) / 2, y + 1.4), words, NUMBER, "middle"))
        return marks

    def _names(self, at: Callable[[Point], Point], low: float) -> list[Mark]:
        """Return what things are called, each below the one to its right, so that no line crosses a word."""
        zero, end = at((0.0, 0.0)), at((self.section.recess.depth, self.section.recess.rise))
        marks: list[Mark] = []
        for n, (what, words) in enumerate(self.labels):
            foot = low - _CLEAR - _ROW * (len(self.labels) - n) + 1.4
            if what == "trim":
                # a mitre has no body: the line starts where the two tiles meet
                rings = self.section.of("trim")
                y = at((0.0, (rings[0][0][1] / 2) if rings else 0.0))[1]
                marks.append(Line(((zero[0], y), (zero[0] - 2.0, y), (zero[0] - 2.0, foot)), "fine"))
                marks.append(Text((zero[0] - 1.0, foot), words, NUMBER))
                continue
            ring = tuple(at(p) for p in self.section.of(what)[0])
            x = zero[0] + (0.33 + 0.12 * n) * (end[0] - zero[0])
            if what in ("joint", "frame"):
                x = sum(p[0] for p in ring) / len(ring)
            y = sum(p[1] for p in ring) / len(ring)
            marks += [Line(((x, y), (x, foot)), "fine"), Text((x + 1.0, foot), words, NUMBER)]
        return marks


def _clipped(solid: Solid, window: tuple[float, float]) -> list[Ring]:
    """Return what of a solid stands within the heights shown."""
    if all(window[0] <= y <= window[1] for _, y in solid.ring):
        return [solid.ring]
    area = shapely.Polygon(solid.ring)
    found = shapely.intersection(area, shapely.box(-1e6, window[0], 1e6, window[1]))
    return [
        tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
        for part in shapely.get_parts(found).tolist()
        if isinstance(part, shapely.Polygon) and not part.is_empty
    ]
