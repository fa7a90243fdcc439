"""Standard scales, and the view that takes a wall to the paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from elevation.drawing.marks import Point, Ring
from elevation.units import Unit

ISO_SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""Ratios 1:n of ISO 5455."""
US_SCALES = (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 240, 480, 600, 1200)
"""Ratios 1:n of the architect's scales down to 1/16 in to the foot, then of the engineer's, 1 in to 20 feet and on."""

Bounds = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""
Box = tuple[float, float, float, float]
"""Lower left corner x, y, then width and height, mm of paper."""


def scales(unit: Unit) -> tuple[int, ...]:
    """Return the standard ratios for drawings in a unit, largest drawing first."""
    return US_SCALES if unit == "in" else ISO_SCALES


def scale_text(ratio: int, unit: Unit) -> str:
    """Return a scale as a sheet names it: ``1:20``, ``3/4" = 1'-0"``, ``FULL SIZE (1:1)``."""
    if ratio == 1:
        return "FULL SIZE (1:1)"
    if unit == "mm":
        return f"1:{ratio}"
    if ratio > 192:
        return f'1" = {Fraction(ratio, 12)}\'-0"'
    whole, part = divmod(Fraction(12, ratio), 1)
    inches = " ".join(str(p) for p in (whole, part) if p)
    return f'{inches}" = 1\'-0"'


@dataclass(frozen=True, slots=True)
class View:
    """How a drawing in model mm stands on the paper.

    Attributes:
        ratio: Model length over paper length: 20 for 1:20.
        origin: A point of the model.
        at: Where that point stands on the paper, mm.
        unit: Unit of the drawing, for the way its scale is named.
    """

    ratio: int
    origin: Point
    at: Point
    unit: Unit

    @classmethod
    def fit(cls, model: Bounds, box: Box, unit: Unit, *, ratios: Sequence[int] | None = None) -> View:
        """Return the view at the largest standard scale at which the model fits, in the middle of the box.

        Args:
            model: Bounds of the model, mm.
            box: Free area on the paper.
            unit: Which list of scales.
            ratios: Scales to choose from in place of the list.

        Raises:
            ValueError: It does not fit at the smallest scale either.
        """
        x, y, width, height = box
        model_width, model_height = model[2] - model[0], model[3] - model[1]
        slack = 1e-6
        for ratio in sorted(ratios or scales(unit)):
            if model_width / ratio <= width + slack and model_height / ratio <= height + slack:
                middle = ((model[0] + model[2]) / 2, (model[1] + model[3]) / 2)
                return cls(ratio, middle, (x + width / 2, y + height / 2), unit)
        raise ValueError(
            f"{model_width:.0f} by {model_height:.0f} mm does not fit "
            f"{width:.0f} by {height:.0f} mm of paper at any listed scale"
        )

    @property
    def text(self) -> str:
        """The scale as the sheet names it."""
        return scale_text(self.ratio, self.unit)

    def point(self, point: Point) -> Point:
        """Return where a point of the model stands on the paper."""
        return self.x(point[0]), self.y(point[1])

    def x(self, x: float) -> float:
        """Return the paper x of a model x."""
        return self.at[0] + (x - self.origin[0]) / self.ratio

    def y(self, y: float) -> float:
        """Return the paper y of a model y."""
        return self.at[1] + (y - self.origin[1]) / self.ratio

    def ring(self, ring: Sequence[Point]) -> Ring:
        """Return a ring, or any run of points, on the paper."""
        # as ``x`` and ``y`` do it, without two calls a point: a lobby has a hundred thousand
        (left, low), (x0, y0), ratio = self.at, self.origin, self.ratio
        return tuple([(left + (x - x0) / ratio, low + (y - y0) / ratio) for x, y in ring])

    def rings(self, rings: Sequence[Sequence[Point]]) -> tuple[Ring, ...]:
        """Return an outer ring and its holes on the paper."""
        return tuple(self.ring(r) for r in rings)

    def length(self, length: float) -> float:
        """Return how long a model length is on the paper."""
        return length / self.ratio

    def box(self, model: Bounds) -> Box:
        """Return a rectangle of the model as a box on the paper."""
        x, y = self.point((model[0], model[1]))
        return x, y, self.length(model[2] - model[0]), self.length(model[3] - model[1])

    def moved(self, dx: float, dy: float) -> View:
        """Return the same view shifted on the paper, mm."""
        return View(self.ratio, self.origin, (self.at[0] + dx, self.at[1] + dy), self.unit)
