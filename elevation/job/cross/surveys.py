"""Surveys: stations that ascend, readings that make a wall, a wall of about the size that was typed."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.job.cross.view import View, rough_shape
from elevation.job.messages import Fault

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
            low, high = min(width), min(height)
            yield Fault(
                (*at, "survey"),
                f"makes no wall: about {view.say(low)} wide and {view.say(high)} high; left is less than right, "
                "and down and up are both distances from the datum",
            )
            continue
        for name, typed, found in (("width", wall.width, width), ("height", wall.height, height)):
            if typed is not None and not min(found) - SLIP <= typed <= max(found) + SLIP:
                yield Fault(
                    (*at, name),
                    f"does not agree with the survey, which makes it about {view.say(sum(found) / len(found))}; "
                    "one of the two is a slip",
                )


def mean(readings: list[tuple[float, float]]) -> float:
    """Return the mean of what was read, mm."""
    return sum(r[1] for r in readings) / len(readings)
