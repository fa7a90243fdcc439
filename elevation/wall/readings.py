"""Which readings of the job file place each border of a wall, and how far it moves when one of them is off.

A wall by survey is set out from the laser: level line and plumb line stand, and every side moves with its own
readings. A wall by width and height is set out from the level line where it has one, else from its lower left corner;
across it is set out from its left side, or from its right side when the start says ``right``. Stations are taken as
exact: a side out of true by a hundredth moves by a hundredth of what a station is off. What the plan itself places
(zones), and build-ups, are no readings.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from elevation.features import Fixture, Hole, Niche, Opening
from elevation.geom import Point
from elevation.job.models import Job, Survey, Wall
from elevation.patterns import Start
from elevation.units import format_length
from elevation.wall.face import Face


@dataclass(frozen=True, slots=True)
class Reading:
    """A length that somebody read off a tape or a laser.

    Attributes:
        key: Its key in the job file, ``wall[2].survey.down[1]``.
        words: As a setter would say it: ``down at 60 1/4 from the plumb line``.
    """

    key: str
    words: str


Weighted = tuple[tuple[Reading, float], ...]
"""Readings, and how far a border moves, mm, when each is off by 1 mm; never negative."""


@dataclass(frozen=True, slots=True)
class BorderReadings:
    """The readings that place a border.

    Attributes:
        stations: Along the border, mm on the face, ascending, each with its reading: the border runs straight from one
            to the next and on beyond the first and the last.
        also: Readings that move all of it alike.
    """

    stations: tuple[tuple[float, Reading], ...] = ()
    also: Weighted = ()

    def at(self, place: float) -> Weighted:
        """Return the readings that place the border at a station of its own, mm along it on the face."""
        found: dict[Reading, float] = {}
        for reading, weight in (*self._line(place), *self.also):
            found[reading] = found.get(reading, 0.0) + abs(weight)
        return tuple(found.items())

    def reach(self, place: float, tape: float) -> float:
        """Return how far the border may stand from where it was read, mm, when every reading is off by ``tape``."""
        return tape * sum(weight for _, weight in self.at(place))

    def _line(self, place: float) -> Weighted:
        if not self.stations:
            return ()
        if len(self.stations) == 1:
            return ((self.stations[0][1], 1.0),)
        after = next((i for i, (s, _) in enumerate(self.stations) if s >= place), len(self.stations) - 1)
        i = max(0, after - 1)
        (a, one), (b, two) = self.stations[i], self.stations[i + 1]
        share = (place - a) / (b - a)
        return ((one, 1 - share), (two, share))


def border_readings(job: Job, face: Face) -> tuple[BorderReadings, ...]:
    """Return the readings of every border of a wall, in the order of the face's borders."""
    n, wall = next((n, w) for n, w in enumerate(job.wall, 1) if w.id == face.wall)
    maker = _Maker(job, face, wall, f"wall[{n}]")
    return tuple(maker.of(b.of, b.side, b.line) for b in face.borders)


_WORDS = {
    "x": "{} from the left", "y": "{} from below", "width": "width of {}", "height": "height of {}",
    "outline": "corners of {}",
}  # fmt: skip


class _Maker:
    """Finds the readings of one wall."""

    def __init__(self, job: Job, face: Face, wall: Wall, key: str) -> None:
        self.job, self.face, self.wall, self.key = job, face, wall, key

    def of(self, owner: str, side: str, line: Sequence[Point]) -> BorderReadings:
        if not owner:
            if self.wall.survey is not None:
                return self._surveyed(self.wall.survey, side)
            if self.wall.outline is not None:
                return self._cornered(line)
            return BorderReadings(also=self._boxed(side))
        return self._carried(owner, side)

    def _say(self, mm: float) -> str:
        return format_length(mm, self.job.step / 4, self.job.units)

    def _read(self, key: str, words: str) -> Reading:
        return Reading(f"{self.key}.{key}", words)

    def _surveyed(self, survey: Survey, side: str) -> BorderReadings:
        name = {"bottom": "down", "top": "up"}.get(side, side)
        level = side in ("bottom", "top")
        origin = self.face.datum[0 if level else 1]
        found = []
        for k, (station, _) in enumerate(getattr(survey, name), 1):
            where = f"at {self._say(station)} across" if level else self._height(station)
            found.append((origin + station, self._read(f"survey.{name}[{k}]", f"{name} {where}")))
        return BorderReadings(tuple(found))

    def _height(self, station: float) -> str:
        if abs(station) < 1e-6:
            return "on the level line"
        return f"{self._say(abs(station))} {'above' if station > 0 else 'below'} the level line"

    def _cornered(self, line: Sequence[Point]) -> BorderReadings:
        """Return the corners of an outline's side; a coordinate of 0 is the frame itself and is no reading."""
        (x1, y1), (x2, y2) = line[0], line[-1]
        level = abs(x2 - x1) >= abs(y2 - y1)
        across, along = (1, 0) if level else (0, 1)
        run = line[-1][along] - line[0][along]
        slope = abs((line[-1][across] - line[0][across]) / run) if run else 0.0
        still = all(abs(p[across]) < 1e-9 for p in line)
        found = [(self._read("outline", f"corner {self._say(x)}, {self._say(y)}"), 1.0) for x, y in ((x1, y1),)]
        weight = (0.0 if still else 1.0) + slope
        return BorderReadings(also=((found[0][0], weight), *self._datum(level)) if weight or level else ())

    def _datum(self, level: bool) -> Weighted:
        if level and self.wall.survey is None and self.face.has_datum:
            return ((self._read("datum", "height of the level line"), 1.0),)
        return ()

    @property
    def _from_right(self) -> bool:
        start = self.wall.layout.start
        return isinstance(start, Start) and start.x == "right"

    @property
    def _from_top(self) -> bool:
        start = self.wall.layout.start
        return not self.face.has_datum and isinstance(start, Start) and start.y == "top"

    def _boxed(self, side: str) -> Weighted:
        width, height = self._read("width", "width of the wall"), self._read("height", "height of the wall")
        match side:
            case "left":
                return ((width, 1.0),) if self._from_right else ()
            case "right":
                return () if self._from_right else ((width, 1.0),)
            case "bottom":
                return ((height, 1.0),) if self._from_top else self._datum(True)
            case _:
                return () if self._from_top else ((height, 1.0), *self._datum(True))

    def _corner(self, level: bool) -> Weighted:
        """Return what moves the lower left corner, from which everything on the wall is measured."""
        if self.wall.survey is None:
            if self.wall.outline is not None:
                return self._datum(level)
            return self._boxed("bottom" if level else "left")
        return self._surveyed(self.wall.survey, "bottom" if level else "left").at(0.0)

    def _carried(self, owner: str, side: str) -> BorderReadings:
        features = (*self.wall.niche, *self.wall.opening, *self.wall.fixture, *self.wall.hole)
        feature = next((f for f in features if f.id == owner), None)
        if feature is None:  # a zone: its place is the plan's own
            return BorderReadings()
        kind = next(k for k in ("niche", "opening", "fixture", "hole") if feature in getattr(self.wall, k))
        at = f"{kind}[{getattr(self.wall, kind).index(feature) + 1}]"
        level = side in ("bottom", "top", "sill", "head")
        if isinstance(feature, Fixture) and side == "top" and feature.top is not None:
            rim = [
                (self.face.datum[0] + x, self._read(f"{at}.top[{k}]", f"{owner} rim at {self._say(x)} across"))
                for k, (x, _) in enumerate(feature.top, 1)
            ]
            return BorderReadings(tuple(rim))
        keys: Iterable[str]
        if isinstance(feature, Hole):
            keys = (("y" if level else "x"),)
        elif isinstance(feature, Niche | Fixture) or (isinstance(feature, Opening) and feature.outline is None):
            place, size = ("y", "height") if level else ("x", "width")
            keys = (place,) if side in ("bottom", "sill", "left") else (place, size)
        else:
            keys = ("outline",)
        # 0 is no reading: it stands on the floor, or in the corner
        own = tuple(
            (self._read(f"{at}.{k}", _WORDS[k].format(owner)), 1.0) for k in keys if getattr(feature, k, None) != 0
        )
        return BorderReadings(also=(*own, *self._corner(level)))
