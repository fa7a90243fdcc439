"""Numbers as plan.json writes them: mm with four decimals, rings closed."""

from __future__ import annotations

from collections.abc import Sequence

from elevation.geom import Point

DECIMALS = 4


def mm(value: float) -> float:
    """Return a length or an area to four decimals; never minus nought."""
    return round(value, DECIMALS) + 0.0


def point(at: Point) -> list[float]:
    """Return x and y."""
    return [mm(at[0]), mm(at[1])]


def ring(points: Sequence[Point]) -> list[list[float]]:
    """Return a ring closed: its first point again at the end."""
    out = [[round(x, DECIMALS) + 0.0, round(y, DECIMALS) + 0.0] for x, y in points]
    return [*out, out[0]]
