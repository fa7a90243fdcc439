"""Whether readings agree with each other: size and survey, diagonals, neighbouring walls at a shared corner."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.errors import Finding
from elevation.features import Fixture
from elevation.geom import EPS, Point
from elevation.job.models import Job, Wall
from elevation.units import format_length
from elevation.wall.as_found import AsFound, as_found, height_at
from elevation.wall.face import Border, Face
from elevation.wall.laps import inside_corners
from elevation.wall.outside import outside_corners
from elevation.wall.readings import BorderReadings, border_readings

COMMON = "common practice"
_DOUBTFUL = 1 / 24
"""A side further out than half an inch in a foot is doubted."""
_SHARED = ("tub", "pan", "floor", "counter", "ceiling")
"""What two walls share at a corner, so that its height must come out the same on both."""


@dataclass(frozen=True, slots=True)
class Residual:
    """A diagonal as read and as the survey makes it, mm.

    Attributes:
        name: ``lower left to upper right``, or the other one.
        read: As read.
        made: As the survey makes it.
        allowed: How far the two may differ when every reading is off by the tape.
        corners: The corners it joins.
    """

    name: str
    read: float
    made: float
    allowed: float
    corners: tuple[str, str]

    @property
    def off(self) -> float:
        """Read less made, mm."""
        return self.read - self.made


@dataclass(frozen=True, slots=True)
class Level:
    """A height that was read near a corner, or elsewhere on the same thing.

    Attributes:
        wall: Id of the wall.
        kind: What it is the height of: tub, pan, floor, counter, ceiling.
        words: The reading.
        above: Height above the level line, mm.
    """

    wall: str
    kind: str
    words: str
    above: float


def residuals(job: Job, face: Face) -> tuple[Residual, ...]:
    """Return both diagonals of a surveyed wall against what was read; none where none were read."""
    survey = job.wall_by_id(face.wall).survey
    if survey is None or survey.diagonals is None:
        return ()
    sides = {b.side: (b, r) for b, r in zip(face.borders, border_readings(job, face), strict=True) if not b.of}
    bottom, top = sides["bottom"][0].line, sides["top"][0].line
    corners = {"lower left": bottom[0], "lower right": bottom[-1], "upper right": top[0], "upper left": top[-1]}
    pairs = (("lower left", "upper right"), ("lower right", "upper left"))
    out = []
    for read, (one, two) in zip(survey.diagonals, pairs, strict=True):
        p, q = corners[one], corners[two]
        made = math.dist(p, q)
        ways = (abs(q[0] - p[0]) / made, abs(q[1] - p[1]) / made)
        off = sum(_corner_error(job, sides, name, corners[name], ways) for name in (one, two))
        out.append(Residual(f"{one} to {two}", read, made, job.tape + off, (one, two)))
    return tuple(out)


def _corner_error(
    job: Job, sides: dict[str, tuple[Border, BorderReadings]], corner: str, at: Point, ways: tuple[float, float]
) -> float:
    up, across = corner.split()
    level = sides["bottom" if up == "lower" else "top"][1].reach(at[0], job.tape)
    plumb = sides[across][1].reach(at[1], job.tape)
    return plumb * ways[0] + level * ways[1]


def levels_at(job: Job, face: Face, side: str) -> tuple[tuple[Level, ...], tuple[Level, ...]]:
    """Return the heights at a wall's left or right corner, and those read elsewhere on the same things.

    None where the wall has no level line to measure from, or is given by its corners.
    """
    if not face.has_datum:
        return (), ()
    wall = job.wall_by_id(face.wall)
    readings = border_readings(job, face)
    end = next((b for b in face.borders if not b.of and b.side == side), None)
    if end is None:  # an outline by its corners: its sides have numbers
        return (), ()
    here: list[Level] = []
    elsewhere: list[Level] = []
    for border, read in zip(face.borders, readings, strict=True):
        kind = _kind_of(wall, border)
        if kind is None or not _reaches(border, end):
            continue
        corner = min(border.line, key=lambda p: abs(p[0] - _x_of(end, border)))
        weights = sorted(read.at(corner[0]), key=lambda rw: -rw[1])
        words = weights[0][0].words if weights else border.name
        here.append(Level(wall.id, kind, words, corner[1] - face.datum[1]))
        elsewhere += [
            Level(wall.id, kind, reading.words, height_at(border.line, station) - face.datum[1])
            for station, reading in read.stations
            if reading.words != words
        ]
    return tuple(here), tuple(elsewhere)


def _kind_of(wall: Wall, border: Border) -> str | None:
    if not border.of:
        known = border.side in ("bottom", "top") and border.meets in _SHARED
        return border.meets if known else None
    fixture = next((f for f in wall.fixture if f.id == border.of), None)
    return fixture.kind if isinstance(fixture, Fixture) and border.side == "top" and fixture.kind in _SHARED else None


def _x_of(end: Border, border: Border) -> float:
    heights = [p[1] for p in end.line]
    y = min(max(border.line[0][1], min(heights)), max(heights))
    return height_at(end.line, y, 1)


def _reaches(border: Border, end: Border) -> bool:
    """Tell whether a level border runs into an upright side: a fixture may stop short of it, or run past it."""
    x = _x_of(end, border)
    xs = [p[0] for p in border.line]
    return min(xs) - 1.0 <= x <= max(xs) + 1.0


def agreement_findings(job: Job, faces: Sequence[Face]) -> Iterator[Finding]:
    """Yield what was found on each wall, and every pair of readings that cannot both be right."""
    walls = {f.wall: f for f in faces if f.kind == "wall"}
    say = _Say(job)
    for face in walls.values():
        found = as_found(job, face)
        if found is not None:
            yield Finding("as-found", "note", face.wall, f"as found: {'; '.join(found.words)}", "the readings")
            yield from _sizes(job, face, say)
            yield from _slips(found, say)
        yield from _diagonals(job, face, say)
    yield from _corners(job, walls, say)


class _Say:
    """Writes lengths for a finding: on half the sheets' step, with the unit."""

    def __init__(self, job: Job) -> None:
        self.job = job

    def __call__(self, mm: float) -> str:
        return f"{format_length(mm, self.job.step / 2, self.job.units)} {self.job.units}"


def _slips(found: AsFound, say: _Say) -> Iterator[Finding]:
    """Doubt a side that is so far out of true that a slip is likelier."""
    for side in found.sides:
        run = side.ends[1] - side.ends[0]
        if side.out > _DOUBTFUL * run:
            true = "level" if side.level else "plumb"
            yield Finding(
                "as-found", "advise", f"{found.wall} {side.side}",
                f"out of {true} by {say(side.out)} in {say(run)}: that much is rarely found. Read it again before "
                "cutting",
                COMMON,
            )  # fmt: skip


def _sizes(job: Job, face: Face, say: _Say) -> Iterator[Finding]:
    """Compare a typed width or height with the survey; the survey is drawn."""
    wall = job.wall_by_id(face.wall)
    found = as_found(job, face)
    if wall.survey is None or found is None:
        return
    for name, typed, stations in (("width", wall.width, found.widths), ("height", wall.height, found.heights)):
        if typed is None:
            continue
        least, most = min(s[1] for s in stations), max(s[1] for s in stations)
        off = typed - most if typed > most else typed - least if typed < least else 0.0
        if abs(off) <= 2 * job.tape + EPS:
            continue
        makes = say(least) if most - least <= EPS else f"{say(least)} to {say(most)}"
        yield Finding(
            "survey-size", "advise", f"{face.wall} {name}",
            f"the {name} is written as {say(typed)}, the survey makes it {makes}: {say(abs(off))} "
            f"{'more' if off > 0 else 'less'} than that, and twice the tape is {say(2 * job.tape)}. The survey is "
            "drawn; "
            f"take the {name} again, and mend whichever is wrong", COMMON,
        )  # fmt: skip


def _diagonals(job: Job, face: Face, say: _Say) -> Iterator[Finding]:
    found = residuals(job, face)
    if not found:
        return
    told = "; ".join(
        f"{r.name} read {say(r.read)}, by the survey {say(r.made)}, {say(abs(r.off))} "
        f"{'over' if r.off > 0 else 'short'}"
        for r in found
    )
    bad = [r for r in found if abs(r.off) > r.allowed + EPS]
    if not bad:
        yield Finding("diagonals", "note", face.wall, f"the diagonals agree with the survey: {told}", COMMON)
        return
    if len(bad) == 1:
        suspect = f"suspect are the readings at its ends, {' and '.join(bad[0].corners)}, and the diagonal itself"
    elif bad[0].off * bad[1].off < 0:
        suspect = "one over and one short: plumb and level line were not square to each other, or a side has shifted"
    else:
        suspect = "both the same way: suspect is a whole side, left, right, up or down, with its sign or its line"
    allowed = say(max(r.allowed for r in found))
    yield Finding(
        "diagonals", "stop", face.wall,
        f"the diagonals do not agree with the survey: {told}; the tape explains {allowed}. "
        f"{suspect[0].upper()}{suspect[1:]}. "
        "Take them again before anything is cut", COMMON,
    )  # fmt: skip


def _corners(job: Job, walls: dict[str, Face], say: _Say) -> Iterator[Finding]:
    everywhere = {w: tuple(x for s in ("left", "right") for x in levels_at(job, f, s)[1]) for w, f in walls.items()}
    inside = [((left, "right"), (right, "left")) for left, right in inside_corners(job)]
    for (left, ends), (right, begins) in (*inside, *((c.left, c.right) for c in outside_corners(job))):
        ours, _ = levels_at(job, walls[left], ends)
        theirs, _ = levels_at(job, walls[right], begins)
        for one in ours:
            for two in (t for t in theirs if t.kind == one.kind):
                apart = abs(one.above - two.above)
                if apart <= 2 * job.tape + EPS:
                    continue
                these = {(x.wall, x.words) for x in (one, two)}
                others = [
                    x for w in walls for x in everywhere[w] if x.kind == one.kind and (x.wall, x.words) not in these
                ]
                yield Finding(
                    "corner-agreement", "stop", f"{left}-{right}",
                    f"at the corner of {left} and {right} the {one.kind} stands {_level(one.above, say)} by wall "
                    f"{left} "
                    f"and {_level(two.above, say)} by wall {right}: {say(apart)} apart, and twice the tape is "
                    f"{say(2 * job.tape)}. {_suspect(one, two, others, job.tape)}", COMMON,
                )  # fmt: skip


def _level(above: float, say: _Say) -> str:
    return f"{say(abs(above))} {'above' if above > 0 else 'below'} the level line"


def _suspect(one: Level, two: Level, others: Sequence[Level], tape: float) -> str:
    """Return which of two readings of one height is further from the others of the same thing."""
    if others:
        away = [min(abs(x.above - o.above) for o in others) for x in (one, two)]
        if abs(away[0] - away[1]) > tape:
            wrong, right = (one, two) if away[0] > away[1] else (two, one)
            return (
                f"Suspect is wall {wrong.wall}, {wrong.words}: the other readings of the {one.kind} lie nearer to "
                "wall "
                f"{right.wall}'s. Take it again before anything is cut"
            )
    return f"Take both again: wall {one.wall}, {one.words}, and wall {two.wall}, {two.words}"
