"""Scales from the lists, never odd ones, and points where a ruler would put them."""

import pytest

from elevation.drawing.view import ISO_SCALES, US_SCALES, View, scale_text
from elevation.units import Unit


@pytest.mark.parametrize(
    ("ratio", "unit", "text"),
    [
        (16, "in", '3/4" = 1\'-0"'),
        (12, "in", '1" = 1\'-0"'),
        (8, "in", '1 1/2" = 1\'-0"'),
        (128, "in", '3/32" = 1\'-0"'),
        (240, "in", '1" = 20\'-0"'),
        (20, "mm", "1:20"),
        (1, "mm", "FULL SIZE (1:1)"),
    ],
)
def test_names(ratio: int, unit: Unit, text: str) -> None:
    assert scale_text(ratio, unit) == text


def test_eight_feet_at_three_quarters() -> None:
    view = View.fit((0, 0, 2438.4, 2438.4), (10, 10, 160, 160), "in")
    assert view.ratio == 16
    assert view.length(2438.4) == pytest.approx(152.4)
    assert view.point((0, 0)) == pytest.approx((90 - 76.2, 90 - 76.2))
    assert view.box((0, 0, 2438.4, 2438.4)) == pytest.approx((13.8, 13.8, 152.4, 152.4))


@pytest.mark.parametrize(("unit", "scales"), [("in", US_SCALES), ("mm", ISO_SCALES)])
def test_largest_that_fits(unit: Unit, scales: tuple[int, ...]) -> None:
    for width in (3, 90, 777, 2100, 5000, 40000):
        ratio = View.fit((0, 0, width, 10), (0, 0, 200, 100), unit).ratio
        assert ratio in scales
        assert width / ratio <= 200
        larger = [r for r in scales if r < ratio]
        assert not larger or width / max(larger) > 200


def test_exactly_as_wide_as_the_box() -> None:
    assert View.fit((0, 0, 2000, 10), (0, 0, 200, 100), "mm").ratio == 10


def test_too_large_for_every_scale() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        View.fit((0, 0, 1e7, 10), (0, 0, 200, 100), "mm")
