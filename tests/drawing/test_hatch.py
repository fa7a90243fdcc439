"""Hatch lines against the area they stand for."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from elevation.drawing.hatch import SHORTEST, cross_hatch, hatch
from elevation.geom import box_ring

NOTCHED = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (20.0, 20.0), (20.0, 10.0), (0.0, 10.0))
HOLE = ((30.0, 5.0), (30.0, 10.0), (35.0, 10.0), (35.0, 5.0))


def test_lines_stay_inside_and_fill() -> None:
    shape = shapely.Polygon(NOTCHED, [HOLE])
    inner = shape.buffer(-0.6, join_style="mitre")
    found = hatch([(NOTCHED, HOLE)], spacing=1.6).segments
    lines = shapely.linestrings([((a, b), (c, d)) for a, b, c, d in found])
    assert shapely.covers(inner.buffer(0.001), lines).all()
    # lines one spacing apart cover area / spacing of length
    assert shapely.length(lines).sum() == pytest.approx(inner.area / 1.6, rel=0.03)


def test_one_lattice_for_all() -> None:
    found = hatch([(box_ring(0, 0, 10, 10),), (box_ring(10, 3, 17, 9),), (box_ring(-40, -8, 9, 9),)]).segments
    for x1, y1, x2, y2 in found:
        for x, y in ((x1, y1), (x2, y2)):
            place = (y - x) / math.sqrt(2) / 1.6
            assert abs(place - round(place)) < 1e-3


def test_many_at_once_are_the_sum_of_each() -> None:
    areas = [(box_ring(k * 11, k * 3, 10, 7),) for k in range(20)]
    together = sorted(hatch(areas).segments)
    assert together == sorted(s for area in areas for s in hatch([area]).segments)


def test_cleared_boxes_and_narrow_strips_and_nothing() -> None:
    box = (3.0, 3.0, 7.0, 6.0)
    lines = hatch([(box_ring(0, 0, 10, 10),)], clear=[box]).segments
    crossing = shapely.intersection(
        shapely.linestrings([((a, b), (c, d)) for a, b, c, d in lines]), shapely.box(3.01, 3.01, 6.99, 5.99)
    )
    assert shapely.length(crossing).sum() == 0
    assert hatch([(box_ring(0, 0, 1.1, 30),)]).segments
    assert hatch([(box_ring(0, 0, 0.3, 30),)]).segments == ()
    assert hatch([]).segments == ()


def test_cross_hatch_goes_both_ways() -> None:
    slopes = {round((d - b) / (c - a)) for a, b, c, d in cross_hatch([(NOTCHED,)]).segments}
    assert slopes == {1, -1}


@given(
    st.lists(
        st.tuples(*[st.floats(-50, 50), st.floats(-50, 50), st.floats(0.2, 30), st.floats(0.2, 30)]),
        min_size=1, max_size=5,
    ),
    st.sampled_from([45.0, 135.0, 30.0]),
)  # fmt: skip
def test_lines_of_rectangles_are_those_that_shapely_cuts(boxes: list[tuple[float, ...]], angle: float) -> None:
    rings = [((x, y), (x + w, y), (x + w, y + h), (x, y + h)) for x, y, w, h in boxes]
    found = hatch([(r,) for r in rings], angles=(angle,)).segments
    for x1, y1, x2, y2 in found:
        middle = shapely.Point((x1 + x2) / 2, (y1 + y2) / 2)
        assert any(shapely.Polygon(r).contains(middle) for r in rings)
    # the general way, which a fifth corner takes
    fifth = [((x, y), (x + w / 2, y), (x + w, y), (x + w, y + h), (x, y + h)) for x, y, w, h in boxes]
    others = hatch([(r,) for r in fifth], angles=(angle,)).segments
    assert sum(math.dist(s[:2], s[2:]) for s in found) == pytest.approx(
        sum(math.dist(s[:2], s[2:]) for s in others), abs=SHORTEST * max(1, abs(len(found) - len(others))) + 0.01
    )
