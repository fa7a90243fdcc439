"""What tells choices apart that the cuts along the edges would describe in the same words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import shapely
from shapely.geometry import LineString

from elevation.geom import EPS
from elevation.job.models import Job
from elevation.layout.choice import Candidate, Place
from elevation.layout.laid import LaidFace, LaidZone
from elevation.units import format_length


def told_apart(candidates: Sequence[Candidate]) -> tuple[Mapping[Place, tuple[str, ...]], ...]:
    """Return what to add to the words of each choice, by face and zone; empty where the words differ already.

    Of choices that say the same of a wall, what their lowest course is like at its left end, their grout joint and
    where niches went are told, as far as these differ.

    Args:
        candidates: The choices, as they are shown side by side.
    """
    found: list[dict[Place, tuple[str, ...]]] = [{} for _ in candidates]
    places = dict.fromkeys(place for c in candidates for place in c.zones if place[0] in c.open)
    for place in places:
        alike: dict[tuple[str, ...], list[int]] = {}
        for n, candidate in enumerate(candidates):
            if place in candidate.zones and _is_field_of(candidate, place):
                alike.setdefault(candidate.zones[place].words, []).append(n)
        for group in alike.values():
            told = [_facts(candidates[n], place[0]) for n in group]
            for k in range(len(told[0])):
                if len({facts[k] for facts in told}) > 1:
                    for n, facts in zip(group, told, strict=True):
                        found[n][place] = (*found[n].get(place, ()), facts[k])
    return tuple(found)


def _is_field_of(candidate: Candidate, place: Place) -> bool:
    laid = next((f for f in candidate.laid if f.face.id == place[0]), None)
    return laid is not None and laid.zones[0].place.id == place[1]


def _facts(candidate: Candidate, wall: str) -> tuple[str, ...]:
    """Return the same number of facts of every choice, in the same order."""
    job = candidate.job
    laid = next(f for f in candidate.laid if f.face.id == wall)
    moved = [f"{name.split()[-1]} {_place(job, x, y)}" for name, (x, y) in candidate.niches.items() if _on(name, wall)]
    return (
        _start_of_lowest(job, laid),
        _lowest(job, laid),
        f"joint {_length(job, laid.zones[0].joint)}",
        ", ".join(moved),
    )


def _on(name: str, wall: str) -> bool:
    return name.split()[0] == wall


def _place(job: Job, x: float, y: float) -> str:
    """Return how far a niche was moved: ``moved 3/4 in right, 0 in up``."""
    across, up = ("right" if x >= 0 else "left"), ("up" if y >= 0 else "down")
    return f"moved {_length(job, abs(x))} {across}, {_length(job, abs(y))} {up}"


def _length(job: Job, size: float) -> str:
    return f"{format_length(size, job.step, job.units)} {job.units}"


def _course(zone: LaidZone) -> tuple[float, float]:
    """Return lower and upper end of what shows of the lowest course, mm on the face."""
    _, low, _, high = zone.region.bounds
    tops = [t for _, t, _ in _rows(zone, low + EPS)]
    top = min(tops, default=high)
    return low, min(top, high)


def _rows(zone: LaidZone, y: float) -> list[tuple[float, float, tuple[float, float]]]:
    """Return the slots whose course takes in a height: lower and upper end, left and right end in cell 0; mm."""
    rows = []
    for slot in zone.lattice.motif:
        xs, ys = [p[0] for p in slot.ring], [p[1] for p in slot.ring]
        # the first course whose upper end lies above that height
        j = math.floor((y - zone.origin[1] - max(ys)) / zone.lattice.b[1]) + 1
        dx, dy = zone.origin[0] + j * zone.lattice.b[0], zone.origin[1] + j * zone.lattice.b[1]
        rows.append((dy + min(ys), dy + max(ys), (dx + min(xs), dx + max(xs))))
    return rows


def _lowest(job: Job, laid: LaidFace) -> str:
    low, high = _course(laid.zones[0])
    return f"lowest course {_length(job, high - low)} high"


def _start_of_lowest(job: Job, laid: LaidFace) -> str:
    """Return the width of the first tile of the lowest course, as it shows."""
    zone = laid.zones[0]
    low, high = _course(zone)
    middle = (low + high) / 2
    x0, _, x1, _ = zone.region.bounds
    there = shapely.intersection(LineString([(x0 - 1, middle), (x1 + 1, middle)]), zone.region)
    left = there.bounds[0]
    pitch = zone.lattice.a[0]
    ends = []
    for _, _, (a, b) in _rows(zone, middle):
        # the first slot that ends to the right of the tile's left end
        shift = (math.floor((left + EPS - b) / pitch) + 1) * pitch
        ends.append((b + shift, a + shift))
    end, start = min(ends)
    return f"the lowest course begins with {_length(job, end - max(start, left))}"
