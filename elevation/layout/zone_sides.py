"""Sides of zones that are not settled yet: tried one after the other, each where whole tiles end at it, and about.

A zone's size matters to its own tile and to the field round it, which start apart from each other; so each place is
judged by a search of the whole room. What comes out is the best of the places tried, and not more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from elevation.errors import JobError
from elevation.features import Zone
from elevation.job.models import Job, Wall
from elevation.layout.sides import SideMove, sides_that_may_move, zone_with
from elevation.patterns import Start

_FAN = 6
"""How many places are tried besides those where whole tiles end."""
Key = tuple[float, ...]


def settle_zones(job: Job, judge: Callable[[Job], Key]) -> tuple[Job, dict[SideMove, float]]:
    """Return the job with the sides of zones settled on every wall left to the search, and how far outward each moved.

    Args:
        job: The job.
        judge: Returns the key of a job by its terms, less is better.
    """
    moved: dict[SideMove, float] = {}
    for side, (least, most) in sides_that_may_move(job).items():
        wall = job.wall_by_id(side.wall)
        if not side.zone or isinstance(wall.layout.start, Start):
            continue
        zone = next(z for z in wall.zone if z.id == side.zone)
        best: tuple[Key, float, float, Job] | None = None
        for by in _places(job, wall, zone, side.side, least, most):
            tried = _with(job, side, by)
            try:
                key = judge(tried)
            except JobError:  # no room is left for tile there
                continue
            if best is None or (key, abs(by), by) < best[:3]:
                best = key, abs(by), by, tried
        if best is None:
            continue  # the search says what is wrong with it
        job, moved[side] = best[3], best[2]
    return job, moved


def _with(job: Job, side: SideMove, by: float) -> Job:
    walls = [zone_with(w, side.zone, {side.side: by}) if w.id == side.wall else w for w in job.wall]
    return job.model_copy(update={"wall": walls})


def _places(job: Job, wall: Wall, zone: Zone, side: str, least: float, most: float) -> list[float]:
    """Return how far outward to try a side: as it is, its limits, where whole tiles end, and evenly between."""
    found = {0.0, least, most, *_whole(job, wall, zone, side, least, most)}
    for k in range(1, _FAN):
        found.add(least + round((most - least) * k / _FAN / job.step) * job.step)
    return sorted((by for by in found if least - 1e-9 <= by <= most + 1e-9), key=lambda by: (abs(by), by))


def _whole(job: Job, wall: Wall, zone: Zone, side: str, least: float, most: float) -> Iterator[float]:
    """Yield where the zone is a number of whole tiles, or half a tile more, in that direction."""
    tile = job.tile[zone.layout.tile or wall.layout.tile or ""]
    joint = (zone.layout.joint or wall.layout.joint or job.joint)[0]
    lattice = zone.layout.lattice(tile.length, tile.width, joint)
    upright = side in ("bottom", "top")
    ring = lattice.motif[0].ring
    slot, module = (ring[2][1], lattice.b[1]) if upright else (ring[2][0], lattice.a[0])
    assert zone.width is not None
    assert zone.height is not None
    size = zone.height if upright else zone.width
    for name in ("bottom", "top") if upright else ("left", "right"):
        edge = zone.edges.get(name)
        if edge is not None:
            trim = job.trim[edge.trim] if edge.trim is not None else None
            size -= (edge.joint or (0.0, 0.0))[0] + (trim.face + trim.joint if trim is not None else 0.0)
    if module <= 0:
        return
    for extra in (slot, slot + slot / 2):
        k = 0
        while extra + k * module - size <= most:
            if extra + k * module - size >= least:
                yield extra + k * module - size
            k += 1
