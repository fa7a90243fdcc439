"""A graphic scale bar: true on any print, whatever the copier did to the sheet."""

from __future__ import annotations

import math

from elevation.drawing.marks import Area, Mark, Text
from elevation.fonts import text_width
from elevation.units import INCH, Unit

HEIGHT = 1.8
"""Height of its figures and of the bar itself, mm."""
_INCHES = (0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0, 60.0, 120.0, 240.0, 600.0, 1200.0)
_METRIC = tuple(v * 10.0**k for k in range(5) for v in (1.0, 2.0, 5.0))


def scale_bar(ratio: float, unit: Unit, x: float, y: float, width: float) -> tuple[tuple[Mark, ...], float]:
    """Return the bar and its height, mm; lower left corner at ``x``, ``y``.

    Args:
        ratio: 1:n.
        unit: Unit of its figures.
        x: Left end.
        y: Lower side.
        width: Room, mm.
    """
    factor = float(INCH) if unit == "in" else 1.0
    steps = [s for s in (_INCHES if unit == "in" else _METRIC) if s * factor / ratio * 2 <= width - 8]
    part = max(steps) if steps else (_INCHES if unit == "in" else _METRIC)[0]
    length = part * factor / ratio
    count = max(1, min(4, math.floor((width - 8) / length + 1e-9)))
    marks: list[Mark] = []
    for k in range(count):
        a, b = x + k * length, x + (k + 1) * length
        marks.append(
            Area((((a, y), (b, y), (b, y + HEIGHT), (a, y + HEIGHT)),), "fine", "ink" if k % 2 == 0 else None)
        )
    feet = unit == "in" and part >= 12
    top = y + HEIGHT + 1.0
    last = x - 99.0
    for k in range(count + 1):
        value = part * k
        text = f"{value / 12:g}" if feet else f"{value:g}"
        if k == count:
            text += " ft" if feet else f" {unit}"
        at = x + k * length
        wide = text_width(text, HEIGHT)
        if k == 0:
            marks.append(Text((at, top), text, HEIGHT))
            last = at + wide
        elif at - wide / 2 > last + 1.0 or k == count:
            start = max(at - wide / 2, last + 1.0)
            start = min(start, x + width - wide)
            marks.append(Text((start, top), text, HEIGHT))
            last = start + wide
    return tuple(marks), HEIGHT * 2 + 1.0
