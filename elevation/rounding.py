"""Rounding of a cut by what it faces: no gap closes below its least, no joint doubles, no hole shows."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from elevation.geom import EPS
from elevation.units import exact_step, round_to

Way = Literal["nearest", "down", "up"]
"""``nearest``: at a grout joint; ``down`` and ``up``: towards less tile, whichever that is for the number."""


def grain(way: Way, joint: float, step: float) -> Fraction:
    """Return what a number is rounded to, mm: the step, or half of it where the joint is too narrow for a whole one.

    Args:
        way: How it is rounded.
        joint: Least width of the joint that the cut faces, mm.
        step: The job's step, mm.
    """
    exact = exact_step(step)
    narrow = joint <= 2 * step + 1e-9 if way == "nearest" else joint <= step + 1e-9
    return exact / 2 if narrow else exact


def rounded(value: float, way: Way, unit: Fraction, most: float | None = None) -> Fraction:
    """Return a number as it is printed, mm, exactly.

    What stands within the tolerance of a multiple of ``unit`` is that multiple: a hair must not cost a step.

    Args:
        value: The exact number, mm.
        way: Nearest, down or up.
        unit: What it is rounded to, mm.
        most: Where rounding ``up`` must end (or ``down``, when it lies below the value): the edge of a cover plate.
    """
    if way == "nearest":
        return round_to(value, unit)
    for part in (unit, unit / 2, unit / 4):
        found = _towards(value, way, part)
        if most is None or (found <= most + 1e-9 if way == "up" else found >= most - 1e-9):
            return found
    return round_to(value, unit / 4)


def _towards(value: float, way: Way, unit: Fraction) -> Fraction:
    size = float(unit)
    if way == "down":
        return math.floor((value + EPS) / size) * unit
    return math.ceil((value - EPS) / size) * unit


def rounded_circle(
    centre: tuple[float, float], radius: float, unit: Fraction, *, bigger: bool, most: float | None = None
) -> tuple[Fraction, Fraction, Fraction]:
    """Return centre and radius as printed, mm, so that the printed circle takes at least what the exact one takes.

    Args:
        centre: Exact centre, from the edges it is measured from, mm.
        radius: Exact radius, mm.
        unit: The job's step, mm.
        bigger: The tile lies outside the circle, which may only grow; else it lies inside, and it may only shrink.
        most: Radius of the cover plate that must hide a hole, mm.
    """
    half = unit / 2
    best: tuple[float, Fraction, Fraction, Fraction] | None = None
    for x in _neighbours(centre[0], half):
        for y in _neighbours(centre[1], half):
            moved = math.hypot(float(x) - centre[0], float(y) - centre[1])
            for part in (half, half / 2):
                r = _towards(radius + moved, "up", part) if bigger else _towards(radius - moved, "down", part)
                loss = moved + abs(float(r) - radius)
                shows = most is not None and float(r) + moved > most + 1e-9
                # a coarser number is kept unless it costs more than a step or shows past the plate
                if not shows and loss <= float(unit) + 1e-9 and (best is None or loss < best[0] - 1e-9):
                    best = (loss, x, y, r)
                    break
    if best is None:
        return round_to(centre[0], half), round_to(centre[1], half), round_to(radius, half / 2)
    return best[1:]


def _neighbours(value: float, unit: Fraction) -> tuple[Fraction, ...]:
    low = math.floor(value / float(unit) + 1e-6) * unit
    return (low,) if abs(float(low) - value) < EPS else (low, low + unit)
