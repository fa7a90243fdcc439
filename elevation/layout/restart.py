"""Bands that divide a field: whole tiles resume beyond them, one joint from the band's outside.

A band with ``restart = true`` runs right across the field. From side to side it makes a part below and a part above,
from bottom to top a part to the left and one to the right. The first part is laid by the wall's own start; each part
beyond a band starts again with whole tiles at the band and keeps the lattice of the field along it, so that upright
joints go on above a level band, and level joints beyond an upright one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shapely.geometry import MultiPolygon, Polygon

from elevation.errors import JobError, Problem
from elevation.geom import EPS, Point, Region, parts
from elevation.wall import Face, ZonePlace

Way = Literal["up", "right"]


@dataclass(frozen=True, slots=True)
class Band:
    """A zone that divides the field; mm on the face.

    Attributes:
        zone: Its id.
        low: Its lower side, or its left side where it stands upright.
        high: Its upper side, or its right side.
        way: Up: it lies level and the part beyond it is above; right: it stands upright.
    """

    zone: str
    low: float
    high: float
    way: Way


def divided(face: Face, field: Region) -> tuple[Region, ...]:
    """Return the regions of the field: what lies before every band that restarts it, then what lies beyond each.

    Args:
        face: The face.
        field: All of its field, the zones taken out.

    Returns:
        One region for the field itself and one for each of its parts, in the order of the face's zones.

    Raises:
        JobError: A band with ``restart`` does not divide the field.
    """
    beyond = [zone for zone in face.zones if zone.beyond]
    if not beyond:
        return (field,)
    found = parts(field)
    bands = [_band(face, zone, found) for zone in beyond]
    ways = {band.way for band in bands}
    if len(ways) > 1:
        one, two = (next(b.zone for b in bands if b.way == way) for way in ("up", "right"))
        raise _wrong(face, two, f"restarts the field across, and zone {one} restarts it upwards; keep one of the two")
    shares: list[list[Polygon]] = [[] for _ in range(len(bands) + 1)]
    for part in found:
        low = part.bounds[1 if bands[0].way == "up" else 0]
        before = [n for n, band in enumerate(bands) if low >= band.high - EPS]
        shares[1 + max(before, key=lambda n: bands[n].high) if before else 0].append(part)
    for band, share in zip(bands, shares[1:], strict=True):
        if not share:
            raise _wrong(face, band.zone, "is followed by another band at once: no field lies between the two")
    return tuple(share[0] if len(share) == 1 else MultiPolygon(share) for share in shares)


def bands_of(face: Face, regions: Sequence[Region]) -> tuple[Band, ...]:
    """Return the bands that restart a field; ``regions``: those of the face's zones, in order."""
    out = []
    for zone, region in zip(face.zones, regions, strict=True):
        if zone.beyond:
            x0, y0, x1, y1 = _extent(face, zone.beyond)
            level = region.bounds[1] >= y1 - EPS
            out.append(Band(zone.beyond, *((y0, y1, "up") if level else (x0, x1, "right"))))
    return tuple(out)


def start_beyond(bands: Sequence[Band], zone: ZonePlace, origin: Point, joint: float) -> Point:
    """Return where a part of the field starts: whole tiles a joint from its band, the field's lattice along it.

    Args:
        bands: The bands of the face.
        zone: The part.
        origin: Start of the field, mm.
        joint: Grout joint of the field, mm.
    """
    band = next(b for b in bands if b.zone == zone.beyond)
    start = band.high + joint
    return (origin[0], start) if band.way == "up" else (start, origin[1])


def start_at(bands: Sequence[Band], place: Point, origin: Point, joint: float) -> Point:
    """Return the start of the part of the field that lies at a place, mm."""
    passed = [b for b in bands if place[1 if b.way == "up" else 0] >= b.high - EPS]
    if not passed:
        return origin
    last = max(passed, key=lambda b: b.high)
    start = last.high + joint
    return (origin[0], start) if last.way == "up" else (start, origin[1])


def _band(face: Face, zone: ZonePlace, field: Sequence[Polygon]) -> Band:
    """Return how a zone divides the field."""
    x0, y0, x1, y1 = _extent(face, zone.beyond)
    below, above = ([p for p in field if p.bounds[3] <= y0 + EPS], [p for p in field if p.bounds[1] >= y1 - EPS])
    left, right = ([p for p in field if p.bounds[2] <= x0 + EPS], [p for p in field if p.bounds[0] >= x1 - EPS])
    wide = x1 - x0 >= y1 - y0
    choices: tuple[tuple[Way, float, float, int, int], ...] = (
        ("up", y0, y1, len(below), len(above)), ("right", x0, x1, len(left), len(right)),
    )  # fmt: skip
    for way, low, high, before, after in choices if wide else choices[::-1]:
        if before + after == len(field):
            if before and after:
                return Band(zone.beyond, low, high, way)
            raise _one_sided(face, zone.beyond, way, after=bool(after))
    raise _wrong(
        face, zone.beyond,
        "does not divide the field: whole tiles can resume only beyond a level band that runs from side to side, or "
        "an upright one from bottom to top; make it as long as the wall, or leave restart out",
    )  # fmt: skip


def _one_sided(face: Face, zone: str, way: Way, *, after: bool) -> JobError:
    words = ("below", "above", "y", "top") if way == "up" else ("to the left of", "to the right of", "x", "right")
    before, beyond, axis, at = words
    if not after:
        return _wrong(face, zone, f"has no field {beyond} it, where whole tiles could resume; leave it out")
    start = f'{axis} = {{ on = "{zone}", at = "{at}" }}'
    return _wrong(
        face, zone,
        f"has no field {before} it, so nothing resumes; leave it out, and write {start} in the start of the wall's "
        f"layout for whole tiles {beyond} it",
    )  # fmt: skip


def _extent(face: Face, zone: str) -> tuple[float, float, float, float]:
    shape = face.zone(zone).shape
    assert shape is not None
    xs, ys = [p[0] for p in shape.ring], [p[1] for p in shape.ring]
    return min(xs), min(ys), max(xs), max(ys)


def _wrong(face: Face, zone: str, text: str) -> JobError:
    return JobError([Problem(f'wall "{face.wall}", zone "{zone}", restart', text)])
