"""Sides in the open that are not settled yet: a wall, or a zone, with its sides where the search wants them.

Everything on a wall is measured from its lower left corner. Where that corner moves with the left or the lower side,
all that the wall carries gets new numbers and stays where it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from elevation.features import Edge, Fixture, Zone
from elevation.geom import Point
from elevation.job.models import Job, Survey, Wall
from elevation.patterns import AnyPattern, Start
from elevation.units import format_length
from elevation.wall.survey import outline_as_found


class SideMove(NamedTuple):
    """A side that may move, or was moved.

    Attributes:
        wall: Id of the wall.
        zone: Id of the zone whose side it is; empty: the wall's own.
        side: Left, right, bottom or top.
    """

    wall: str
    zone: str
    side: str


def sides_that_may_move(job: Job) -> dict[SideMove, tuple[float, float]]:
    """Return every side that may move, and how far inward (negative) and outward, mm."""
    found = {}
    for wall in job.wall:
        for zone, edges in (("", wall.edges), *((z.id, z.edges) for z in wall.zone)):
            for side, edge in edges.items():
                if edge.move is not None and edge.move != (0.0, 0.0):
                    found[SideMove(wall.id, zone, side)] = edge.move
    return found


def wall_with(wall: Wall, outward: Mapping[str, float]) -> tuple[Wall, Point]:
    """Return a wall with sides moved and settled, and how far all that it carries moved in its frame, mm.

    Args:
        wall: The wall, with a size or a survey.
        outward: By side, how far outward it moves; each side named is settled, moved or not.
    """
    if not outward:
        return wall, (0.0, 0.0)
    update: dict[str, Any] = {"edges": _settled(wall.edges, outward)}
    left, right, bottom, top = (outward.get(s, 0.0) for s in ("left", "right", "bottom", "top"))
    if wall.survey is not None:
        survey = _survey_with(wall.survey, left, right, bottom, top)
        before, after = outline_as_found(wall.survey)[2], outline_as_found(survey)[2]
        by = after[0] - before[0], after[1] - before[1]
        update["survey"] = survey
    else:
        assert wall.width is not None
        assert wall.height is not None
        by = left, bottom
        update.update(width=wall.width + left + right, height=wall.height + bottom + top)
        if wall.datum is not None:
            update["datum"] = wall.datum + bottom
    if by != (0.0, 0.0):
        update["layout"] = _layout_shifted(wall.layout, by)
        for kind in ("niche", "opening", "fixture", "hole", "zone", "mark"):
            update[kind] = [_shifted(f, by, rim=wall.survey is None) for f in getattr(wall, kind)]
        update["corner_shelf"] = [s.model_copy(update={"y": s.y + by[1]}) for s in wall.corner_shelf]
    return wall.model_copy(update=update), by


def zone_with(wall: Wall, zone: str, outward: Mapping[str, float]) -> Wall:
    """Return a wall with sides of one of its zones moved and settled."""
    left, right, bottom, top = (outward.get(s, 0.0) for s in ("left", "right", "bottom", "top"))
    zones = []
    for z in wall.zone:
        if z.id == zone:
            assert z.x is not None
            assert z.y is not None
            assert z.width is not None
            assert z.height is not None
            update = {
                "x": z.x - left, "y": z.y - bottom, "width": z.width + left + right, "height": z.height + bottom + top,
                "edges": _settled(z.edges, outward),
            }  # fmt: skip
            zones.append(z.model_copy(update=update))
        else:
            zones.append(z)
    return wall.model_copy(update={"zone": zones})


def _settled(edges: Mapping[str, Edge], sides: Mapping[str, float]) -> dict[str, Edge]:
    return {s: e.model_copy(update={"move": None}) if s in sides else e for s, e in edges.items()}


def _survey_with(survey: Survey, left: float, right: float, bottom: float, top: float) -> Survey:
    """Return the readings of a wall with its sides moved; its diagonals were measured to where they stood."""

    def by(readings: list[Point], change: float) -> list[Point]:
        return [(station, reading + change) for station, reading in readings]

    update = {
        "left": by(survey.left, -left), "right": by(survey.right, right), "down": by(survey.down, bottom),
        "up": by(survey.up, top), "diagonals": None,
    }  # fmt: skip
    return survey.model_copy(update=update)


def _shifted(feature: Any, by: Point, *, rim: bool) -> Any:
    """Return a feature reckoned from a corner that moved; ``rim``: so is the rim of a fixture as found."""
    update: dict[str, Any] = {}
    if getattr(feature, "outline", None) is not None:
        update["outline"] = [(x + by[0], y + by[1]) for x, y in feature.outline]
    else:
        update.update(x=feature.x + by[0], y=feature.y + by[1])
    if getattr(feature, "bay", None) is not None:
        update["bay"] = tuple(x + by[0] for x in feature.bay)
    if rim and isinstance(feature, Fixture) and feature.top is not None:
        update["top"] = [(x + by[0], down) for x, down in feature.top]
    if isinstance(feature, Zone):
        update["layout"] = _layout_shifted(feature.layout, by)
    return feature.model_copy(update=update)


def _layout_shifted(layout: AnyPattern, by: Point) -> AnyPattern:
    """Return a layout whose start, where it is given in lengths, is reckoned from the corner that moved."""
    start = layout.start
    if not isinstance(start, Start):
        return layout
    x = start.x + by[0] if isinstance(start.x, float) else start.x
    y = start.y + by[1] if isinstance(start.y, float) else start.y
    return layout.model_copy(update={"start": start.model_copy(update={"x": x, "y": y})})


def side_words(job: Job, side: SideMove, outward: float) -> str:
    """Return what to do with a side: ``end the field 1 5/8 in further past the tub``."""
    unit = "in" if job.units == "in" else "mm"
    size = f"{format_length(abs(outward), job.step / 2, job.units)} {unit}"
    what = f"zone {side.zone}" if side.zone else "the field"
    if side.side in ("bottom", "top"):
        verb = "raise" if (outward > 0) == (side.side == "top") else "lower"
        return f"{verb} the {side.side} of {what} {size}"
    fixtures = (f.kind for f in job.wall_by_id(side.wall).fixture if f.kind in ("tub", "pan"))
    past = next(fixtures, None) if not side.zone else None
    if past is not None:
        return f"end {what} {size} {'further' if outward > 0 else 'less far'} past the {past}"
    return f"end {what} {size} further {'out' if outward > 0 else 'in'} at the {side.side}"
