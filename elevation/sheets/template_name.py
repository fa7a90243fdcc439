"""The name inside a template: number, face up, and the arrow that says which side is up."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from elevation.drawing.marks import Mark, Point, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import EPS


def name_on(number: str, part: BaseGeometry, view: View) -> list[Mark]:
    """Return the number, the word and the arrow that say which face and which side is up, where the piece has room."""
    areas = [g for g in shapely.get_parts(part).tolist() if isinstance(g, shapely.Polygon) and g.area > EPS * EPS]
    if not areas:
        return []
    largest = max(areas, key=lambda g: (round(g.area, 3), g.bounds))
    for height in (7.0, 5.0, 3.5):
        wide = max(text_width(number, height, "semibold"), text_width("face up", NUMBER)) + 9.0
        tall = height + NUMBER + 5.0
        # the middles of all rectangles of that size inside the piece: its inner side by half of them
        spot = _spot(largest, wide, tall)
        if spot is None:
            continue
        x, y = view.point(spot)
        left, low = x - wide / 2, y - tall / 2
        arrow = left + 2.5
        middle = left + 4.5 + (wide - 5.5) / 2
        return [
            Text((middle, low + NUMBER + 3.0), number, height, "middle", "semibold"),
            Text((middle, low + 1.0), "face up", NUMBER, "middle"),
            Segments(
                (
                    (arrow, low + 1.0, arrow, low + tall - 1.5),
                    (arrow - 1.2, low + tall - 4.5, arrow, low + tall - 1.5),
                    (arrow + 1.2, low + tall - 4.5, arrow, low + tall - 1.5),
                ),
                "rule",
            ),
        ]
    return []


def _spot(area: shapely.Polygon, wide: float, tall: float) -> Point | None:
    """Return the middle of a rectangle of that size inside an area, nearest to its middle; ``None``: there is none."""
    x0, y0, x1, y1 = area.bounds
    if x1 - x0 < wide or y1 - y0 < tall:
        return None
    half = np.array((wide, tall)) / 2
    shares = np.arange(13) / 12
    xs, ys = np.meshgrid(x0 + half[0] + (x1 - x0 - wide) * shares, y0 + half[1] + (y1 - y0 - tall) * shares)
    middles = np.column_stack([xs.ravel(order="F"), ys.ravel(order="F")])
    shapely.prepare(area)
    inside = shapely.contains(area, shapely.box(*(middles - half).T, *(middles + half).T))
    if not inside.any():
        return None
    nearest = area.representative_point()
    away = np.hypot(*(middles[inside] - (nearest.x, nearest.y)).T).round(9)
    x, y = middles[inside][int(np.argmin(away))].tolist()
    return x, y
