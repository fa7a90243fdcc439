"""What the layout stage has to say: how each edge that is out of true, or has a range, came out, and why."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from elevation.errors import Finding
from elevation.geom import EPS
from elevation.job.models import Job
from elevation.layout.laid import LaidEdge, LaidFace
from elevation.layout.regions import facing_of
from elevation.units import format_length

RANGE = "range given in the job file"
RAKE = "BS 5385-1:2018, setting out of wall tiling; secondary source"


def layout_findings(job: Job, laid: Sequence[LaidFace]) -> Iterator[Finding]:
    """Yield a note for every edge out of true or decided by its range, and advice where a rake meets a course."""
    for face in laid:
        for i, edge in enumerate(face.edges):
            where = f"{face.face.id} {edge.border.name}"
            # a sill is pitched on purpose: only walls are found crooked
            text = edge_words(job, edge) if face.face.kind == "wall" or edge.why else ""
            if text:
                yield Finding("edge-range", "note", where, text, RANGE)
            crossed = _course_crossed(face, i)
            if crossed is not None:
                rise = _say(job, crossed)
                yield Finding(
                    "rake", "advise", where,
                    f"the raked cuts pass a course line although their rise, {rise}, would go into one course: "
                    "start so that "
                    "the whole rake lies in one row of cuts", RAKE,
                )  # fmt: skip


def edge_words(job: Job, edge: LaidEdge) -> str:
    """Return how an edge came out and why, with the joint at both ends; empty when nothing was to decide."""
    border = edge.border
    least, most = border.joint
    crooked = out_of_true(edge)
    if border.side == "arc" or (crooked <= EPS and not edge.why):
        return ""
    level = is_level(edge)
    out = f"out of {'level' if level else 'plumb'} by {_say(job, crooked)}"
    if edge.line is not None and crooked > EPS:
        tight = {"bottom": "tight at its high point", "top": "tight at its low point"}.get(
            facing_of(border.line), "tight where it leans in most"
        )
        held = "level" if level else "plumb"
        return (
            f"{out}; the joint takes up to {_say(job, most - least)}, so the edge of the tile is kept {held}, "
            f"{edge.why or tight}. Joint {_ends(job, edge)}"
        )
    if crooked > EPS:
        if least == most:
            reason = f"the joint is fixed at {_say(job, least)}"
        else:
            joint = f"{_say(job, least)} to {_say(job, most)}"
            reason = f"more than the {_say(job, most - least)} that the joint of {joint} takes up"
        return f"{out}, {reason}: the pieces are cut to the taper, joint {_say(job, edge.gap[0])} all along"
    return f"{edge.why}; drawn at {_say(job, edge.gap[0])}"


def out_of_true(edge: LaidEdge) -> float:
    """Return how far a side is out of level, or out of plumb, mm; 0 for a side that is meant to slope."""
    axis = 1 if is_level(edge) else 0
    found = [p[axis] for p in edge.border.line]
    run = abs(edge.border.line[-1][1 - axis] - edge.border.line[0][1 - axis])
    out = max(found) - min(found)
    return out if out <= 0.1 * run else 0.0


def is_level(edge: LaidEdge) -> bool:
    """Tell whether a side is a bottom or a top."""
    return facing_of(edge.border.line) in ("bottom", "top")


def _ends(job: Job, edge: LaidEdge) -> str:
    axis = 0 if is_level(edge) else 1
    ends = sorted(p[axis] for p in edge.border.line)
    words = ("left", "right") if axis == 0 else ("bottom", "top")
    first, last = (_say(job, edge.gap_at(e)) for e in (ends[0], ends[-1]))
    return f"{first} at the {words[0]}, {last} at the {words[1]}"


def _course_crossed(face: LaidFace, i: int) -> float | None:
    """Return the rise of a level rake that crosses a course line although it would fit one course; else ``None``."""
    edge = face.edges[i]
    if edge.border.of or not is_level(edge) or edge.line is not None or out_of_true(edge) <= EPS:
        return None
    zone = face.zones[0]
    ring, rise = zone.lattice.motif[0].ring, zone.lattice.b[1]
    height = ring[2][1] - ring[0][1]
    bottom = facing_of(edge.border.line) == "bottom"
    places = [p[1] + (edge.offset if bottom else -edge.offset) - zone.origin[1] for p in edge.border.line]
    low, high = min(places), max(places)
    if high - low > height:
        return None
    # a bottom may end a course's whole tile at its low point, a top at its high point: the tolerance is on that side
    first = math.floor((low + EPS) / rise) if bottom else math.floor((low + zone.joint) / rise)
    last = math.floor((high - EPS) / rise)
    return high - low if last > first else None


def _say(job: Job, mm: float) -> str:
    return f"{format_length(mm, job.step / 2, job.units)} {job.units}"
