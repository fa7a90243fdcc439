"""A wall as found, in numbers and in a setter's words: how wide and high it is where, and how far out of true."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from elevation.geom import EPS, Point
from elevation.job.models import Job
from elevation.units import format_length
from elevation.wall.face import Border, Face

Station = tuple[float, float]
"""A place along a side or a wall, and what is there; mm."""


@dataclass(frozen=True, slots=True)
class OutOfTrue:
    """A side that is out of level, or out of plumb.

    Attributes:
        name: What it is called: ``tub``, ``ceiling``, ``left side``.
        side: Name of the border: ``bottom``, ``tub top``.
        level: It should be level; else plumb.
        out: How far it is out, most less least, mm.
        least: Where it is lowest, or farthest to the left: place along it, and there, mm on the face.
        most: Where it is highest, or farthest to the right.
        ends: Its two ends along it, mm on the face.
    """

    name: str
    side: str
    level: bool
    out: float
    least: Station
    most: Station
    ends: tuple[float, float]

    @property
    def high_end(self) -> str:
        """Where it is highest: ``left``, ``right``, or empty when that is between its ends."""
        return _end_of(self.most[0], self.ends, ("left", "right"))


@dataclass(frozen=True, slots=True)
class AsFound:
    """A wall as found; places in mm on the face.

    Attributes:
        wall: Its id.
        widths: Height on the face and width there, from the lowest place up.
        heights: Place across and height there, from the left.
        sides: Sides out of true by more than the tolerance.
        words: What a setter would say of it.
    """

    wall: str
    widths: tuple[Station, ...]
    heights: tuple[Station, ...]
    sides: tuple[OutOfTrue, ...]
    words: tuple[str, ...]


def as_found(job: Job, face: Face) -> AsFound | None:
    """Return what was found on a wall; ``None`` when no survey and no rim was read there."""
    by_side = {b.side: b for b in face.borders if not b.of}
    rims = [b for b in face.borders if b.of and b.side == "top" and _is_rim(face, b)]
    surveyed = job.wall_by_id(face.wall).survey is not None
    if not surveyed and not rims:
        return None
    widths: tuple[Station, ...] = ()
    heights: tuple[Station, ...] = ()
    sides: list[OutOfTrue] = []
    words: list[str] = []
    say = _Say(job)
    if surveyed:
        widths = _across(by_side["left"].line, by_side["right"].line, 1)
        heights = _across(by_side["bottom"].line, by_side["top"].line, 0)
        words += say.extent(widths, face.datum[1], "tightest", "wide", ("bottom", "top"), "up")
        words += say.extent(heights, face.datum[0], "shortest", "high", ("left", "right"), "across")
        sides += [_out_of_true(by_side[s]) for s in ("bottom", "top", "left", "right")]
    sides += [_out_of_true(b) for b in rims]
    out = tuple(s for s in sides if s.out > EPS)
    words += [say.out(s, face) for s in out]
    return AsFound(face.wall, widths, heights, out, tuple(words))


def height_at(line: Sequence[Point], place: float, axis: int = 0) -> float:
    """Return where a broken line stands at a place along an axis (0: x, 1: y); beyond its ends it goes on straight."""
    points = sorted(line, key=lambda p: p[axis])
    after = next((i for i, p in enumerate(points) if p[axis] >= place), len(points) - 1)
    i = max(0, after - 1)
    (a, b) = points[i], points[i + 1]
    share = (place - a[axis]) / (b[axis] - a[axis])
    return a[1 - axis] + share * (b[1 - axis] - a[1 - axis])


def _is_rim(face: Face, border: Border) -> bool:
    cut = face.cutout(border.of) if any(c.id == border.of for c in face.cutouts) else None
    return cut is not None and cut.kind == "fixture" and len({round(p[1], 6) for p in border.line}) > 1


def _across(low: Sequence[Point], high: Sequence[Point], axis: int) -> tuple[Station, ...]:
    """Return the distance between two opposite sides at every place where one of them has a point."""
    stops: list[float] = []
    for place in sorted(p[axis] for p in (*low, *high)):
        if not stops or place - stops[-1] > 1.0:
            stops.append(place)
    return tuple((s, height_at(high, s, axis) - height_at(low, s, axis)) for s in stops)


def _out_of_true(border: Border) -> OutOfTrue:
    (x1, y1), (x2, y2) = border.line[0], border.line[-1]
    level = abs(x2 - x1) >= abs(y2 - y1)
    axis = 0 if level else 1
    values = sorted((p[axis], p[1 - axis]) for p in border.line)
    least, most = min(values, key=lambda v: v[1]), max(values, key=lambda v: v[1])
    name = _NAMES.get(border.meets or "", "") if border.meets and level else ""
    if border.of:
        name = border.of
    ends = (values[0][0], values[-1][0])
    plain = {"left": "left side", "right": "right side"}.get(border.side, border.side)
    return OutOfTrue(name or plain, border.name, level, most[1] - least[1], least, most, ends)


_NAMES = {m: m for m in ("tub", "pan", "floor", "counter", "cabinet", "ceiling")}


def _end_of(place: float, ends: tuple[float, float], words: tuple[str, str]) -> str:
    if abs(place - ends[0]) < 1.0:
        return words[0]
    return words[1] if abs(place - ends[1]) < 1.0 else ""


class _Say:
    """Puts numbers into a setter's words."""

    def __init__(self, job: Job) -> None:
        self.job = job

    def length(self, mm: float) -> str:
        return format_length(mm, self.job.step / 2, self.job.units)

    def place(self, mm: float, origin: float, way: str) -> str:
        """Return a place that is at neither end, from the laser's line."""
        if way == "up":
            above = mm - origin
            word = "above" if above >= 0 else "below"
            return f"{self.length(abs(above))} {word} the level line"
        return f"{self.length(mm - origin)} from the plumb line"

    def extent(
        self, stations: Sequence[Station], origin: float, least_word: str, word: str, ends: tuple[str, str], way: str
    ) -> list[str]:
        least, most = min(stations, key=lambda s: s[1]), max(stations, key=lambda s: s[1])
        if most[1] - least[1] <= EPS:
            return [f"{self.length(least[1])} {word} all {'the way up' if way == 'up' else 'along'}"]
        bounds = (stations[0][0], stations[-1][0])

        def where(station: Station) -> str:
            end = _end_of(station[0], bounds, ends)
            return f"at the {end}" if end else self.place(station[0], origin, way)

        return [f"{least_word} {self.length(least[1])} {where(least)}, {self.length(most[1])} {where(most)}"]

    def out(self, side: OutOfTrue, face: Face) -> str:
        amount = f"{self.length(side.out)} {self.job.units}"
        if side.level:
            end = side.high_end
            if end:
                return f"{side.name} high end {end}, {amount}"
            return f"{side.name} high {self.place(side.most[0], face.datum[0], 'across')}, {amount}"
        top = _end_of(side.most[0], side.ends, ("bottom", "top"))
        if top == "top":
            return f"{side.name} leans right going up, {amount} out of plumb"
        if top == "bottom":
            return f"{side.name} leans left going up, {amount} out of plumb"
        return f"{side.name} bulges {self.place(side.most[0], face.datum[1], 'up')}, {amount} out of plumb"
