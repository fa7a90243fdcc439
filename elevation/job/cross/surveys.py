"""Surveys: stations that ascend, readings that make a wall, a wall of about the size that was typed."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.job.cross.view import View, laser_ring, lower_left, read_at, rough_shape
from elevation.job.messages import Fault
from elevation.job.models import Survey, Wall

SLIP = 25.4
"""Further than this, in mm, a typed size and a survey cannot both be right."""
_LINES = (("down", "x from the plumb line"), ("up", "x from the plumb line"), ("left", "height"), ("right", "height"))


def survey_readings(view: View) -> Iterator[Fault]:
    """Find lines of readings that are too few or out of order."""
    for at, wall in view.walls():
        if wall.survey is None:
            continue
        for name, station in _LINES:
            readings = getattr(wall.survey, name)
            path = (*at, "survey", name)
            if len(readings) < 2:
                yield Fault(path, "has 1 reading; it needs at least 2, so that the line has a direction")
            for i in range(1, len(readings)):
                if readings[i][0] <= readings[i - 1][0]:
                    yield Fault(
                        (*path, i),
                        f"stands at {view.say(readings[i][0])} behind {view.say(readings[i - 1][0])}; "
                        f"give the readings by rising {station}",
                    )


def survey_sizes(view: View) -> Iterator[Fault]:
    """Find surveys that make no wall, or another wall than the size beside them."""
    for at, wall in view.walls():
        survey = wall.survey
        if survey is None or list(survey_readings(view)):
            continue
        width = [r[1] - mean(survey.left) for r in survey.right]
        height = [u[1] + mean(survey.down) for u in survey.up]
        shape = rough_shape(wall)
        if shape is None:
            yield Fault((*at, "survey"), _no_wall(view, survey))
            continue
        for name, typed, found in (("width", wall.width, width), ("height", wall.height, height)):
            if typed is not None and not min(found) - SLIP <= typed <= max(found) + SLIP:
                about = sum(found) / len(found)
                yield Fault(
                    (*at, name),
                    f"does not agree with the survey, which makes it about {view.say(about)}, "
                    f"{view.say(abs(typed - about))} {'less' if typed > about else 'more'}; one of the two is a slip",
                )


def _no_wall(view: View, survey: Survey) -> str:
    """Say why readings make no wall: a bottom above the top, a left side to the right of the right one."""
    for station in sorted({r[0] for r in (*survey.down, *survey.up)}):
        over = -read_at(survey.down, station) - read_at(survey.up, station)
        if over >= 0:
            return (
                f"makes no wall: at {view.say(station)} across the bottom stands {view.say(over)} above the top; "
                "is the tub "
                "higher than the ceiling? down and up are both distances from the datum"
            )
    for station in sorted({r[0] for r in (*survey.left, *survey.right)}):
        over = read_at(survey.left, station) - read_at(survey.right, station)
        if over >= 0:
            return (
                f"makes no wall: at height {view.say(station)} the left side stands {view.say(over)} to the right "
                "of the right "
                "one; both are read from the plumb line, to the right is positive"
            )
    return "makes no wall: its sides cross, or do not meet in four corners; a reading has a slip or the wrong sign"


def fixture_rims(view: View) -> Iterator[Fault]:
    """Find rims that cannot be: out of order, without a level line, below the foot, above the wall."""
    for at, wall in view.walls():
        for k, fixture in enumerate(wall.fixture):
            if fixture.top is None:
                continue
            path = (*at, "fixture", k, "top")
            late = [i for i in range(1, len(fixture.top)) if fixture.top[i][0] <= fixture.top[i - 1][0]]
            for i in late:
                yield Fault(
                    (*path, i),
                    f"stands at {view.say(fixture.top[i][0])} behind {view.say(fixture.top[i - 1][0])}; "
                    "give the readings by rising x from the plumb line",
                )
            level = _level_line(wall)
            if level is None and wall.survey is None:
                yield Fault(path, 'is read from the level line; give this wall a datum, such as datum = "36"')
            shape = rough_shape(wall)
            if late or level is None or shape is None:
                continue
            for i, (x, down) in enumerate(fixture.top):
                rim = level - down
                if rim <= fixture.y:
                    yield Fault(
                        (*path, i),
                        f"puts the rim at {view.say(x)} across {view.say(fixture.y - rim)} below the foot of the "
                        f"{fixture.kind}; "
                        "it is the distance down from the level line",
                    )
                elif rim >= shape.bounds[3]:
                    yield Fault(
                        (*path, i),
                        f"puts the rim at {view.say(x)} across {view.say(rim - shape.bounds[3])} above the top of "
                        "the wall; is "
                        f"the {fixture.kind} higher than the ceiling? It is the distance down from the level line",
                    )


def _level_line(wall: Wall) -> float | None:
    """Return the level line above a wall's lower left corner, mm; ``None`` when it cannot be told."""
    if wall.survey is None:
        return wall.datum
    if any(len(line) < 2 for line in (wall.survey.down, wall.survey.up, wall.survey.left, wall.survey.right)):
        return None
    ring = laser_ring(wall.survey)
    return -lower_left(ring)[1] if ring else None


def mean(readings: list[tuple[float, float]]) -> float:
    """Return the mean of what was read, mm."""
    return sum(r[1] for r in readings) / len(readings)
