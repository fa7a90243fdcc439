"""Rings in normal form, offsets side by side, arcs within their sagitta."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Point, Polygon

from elevation.geom import (
    EPS,
    SAGITTA,
    arc_between,
    arc_points,
    box_ring,
    circle_ring,
    clean_ring,
    from_segment,
    is_there,
    line_crossing,
    mirror_ring,
    offset_ring,
    parts,
    rings_of,
    segments_of,
    signed_area,
)  # fmt: skip

L_RING = ((0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (120.0, 100.0), (120.0, 250.0), (0.0, 250.0))


def star(radii):
    """Return a ring that never crosses itself: one corner on each of evenly spread rays."""
    n = len(radii)
    return [(r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n)) for i, r in enumerate(radii)]


RINGS = st.lists(st.floats(50, 500), min_size=4, max_size=12).map(star)


@given(RINGS, st.integers(0, 11), st.booleans(), st.booleans())
def test_normal_form_does_not_depend_on_start_or_direction(ring, turn, back, hole):
    other = ring[turn % len(ring) :] + ring[: turn % len(ring)]
    if back:
        other.reverse()
    assert clean_ring(other, hole=hole) == clean_ring(ring, hole=hole)
    assert (signed_area(clean_ring(ring, hole=hole)) > 0) != hole


@given(RINGS, st.data())
def test_normal_form_is_stable_and_drops_needless_points(ring, data):
    clean = clean_ring(ring)
    assert clean_ring(clean) == clean
    i = data.draw(st.integers(0, len(ring) - 1))
    (x1, y1), (x2, y2) = ring[i], ring[(i + 1) % len(ring)]
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    padded = [*ring[: i + 1], ring[i], middle, middle, *ring[i + 1 :], ring[0], ring[0]]
    assert clean_ring(padded) == clean


def test_a_corner_written_twice_at_the_seam_is_kept_once():
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    assert clean_ring([*square, (0, 0), (0, 0)]) == tuple((float(x), float(y)) for x, y in square)


@given(RINGS, st.floats(-20, 20))
def test_equal_offsets_agree_with_a_mitred_buffer(ring, distance):
    ring = clean_ring(ring)
    moved = Polygon(offset_ring(ring, [distance] * len(ring)))
    expected = shapely.buffer(Polygon(ring), -distance, join_style="mitre", mitre_limit=1e6)
    # where the buffer loses or gains a side, the plain offset folds over, and the caller looks out for that
    assume(moved.is_valid and moved.exterior.is_ccw and isinstance(expected, Polygon))
    assume(len(expected.exterior.coords) == len(moved.exterior.coords))
    assert moved.symmetric_difference(expected).area < 1e-6 * expected.area + 1e-6


@given(st.lists(st.floats(-20, 40), min_size=6, max_size=6))
def test_each_side_moves_by_its_own_distance(distances):
    moved = offset_ring(L_RING, distances)
    assert len(moved) == 6
    d = distances
    expected = [
        (d[5], d[0]), (300 - d[1], d[0]), (300 - d[1], 100 - d[2]), (120 - d[3], 100 - d[2]), (120 - d[3], 250 - d[4]),
        (d[5], 250 - d[4]),
    ]  # fmt: skip
    for point, want in zip(moved, expected, strict=True):
        assert point == pytest.approx(want, abs=1e-9)


def test_sides_in_one_line_make_a_step_at_their_common_point():
    ring = ((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0))
    assert offset_ring(ring, [5, 8, 0, 0, 0]) == ((0, 5), (50, 5), (50, 8), (100, 8), (100, 80), (0, 80))


@given(st.floats(0.1, 5000), st.floats(-7, 7), st.floats(0.01, 2 * math.pi), st.booleans())
def test_chords_of_an_arc_stay_within_the_sagitta(radius, start, sweep, back):
    points = arc_points((3.0, -4.0), radius, start, -sweep if back else sweep)
    for p, q in pairwise(points):
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        assert math.dist(p, (3.0, -4.0)) == pytest.approx(radius)
        assert radius - math.dist(middle, (3.0, -4.0)) <= SAGITTA * 1.001


@pytest.mark.parametrize("radius", [0.5, 20.0, 114.3])
def test_a_circle_has_the_circles_area_but_for_its_chords(radius):
    exact = math.pi * radius**2
    assert exact - 2 * math.pi * radius * SAGITTA < signed_area(circle_ring((0, 0), radius)) <= exact


@given(st.floats(-500, 500), st.floats(-500, 500), st.floats(1.0, 5.0), st.booleans())
def test_an_arc_between_two_points_ends_there_and_bulges_as_asked(x, y, times, inward):
    p, q = (0.0, 0.0), (x, y)
    chord = math.dist(p, q)
    assume(chord > 1)
    radius = chord / 2 * times * (-1 if inward else 1)
    centre, points = arc_between(p, q, radius)
    assert (points[0], points[-1]) == (p, q)
    assert math.dist(centre, p) == pytest.approx(abs(radius))
    assert math.dist(centre, q) == pytest.approx(abs(radius))
    middle = points[len(points) // 2]
    right_of_the_way = middle[0] * y - middle[1] * x
    assert (right_of_the_way > 0) != inward


def test_an_arc_too_tight_for_its_ends_is_refused():
    with pytest.raises(ValueError, match="half the distance"):
        arc_between((0, 0), (100, 0), 49.9)
    assert len(arc_between((0, 0), (100, 0), 50.0)[1]) > 10


def test_what_is_thinner_than_the_tolerance_is_not_there():
    assert not is_there(Polygon(box_ring(0, 0, 1000, EPS * 0.9)))
    assert is_there(Polygon(box_ring(0, 0, 1000, EPS * 1.1)))
    assert not is_there(Polygon([(0, 0), (1000, 0), (1000, EPS * 0.9)]))
    assert not is_there(Polygon())
    boxes = [box_ring(50, 9, 5, 5), box_ring(0, 0, 5, 5), box_ring(9, 0, 90, 0.01)]
    two = MultiPolygon([Polygon(ring) for ring in boxes])
    assert [p.bounds[:2] for p in parts(two)] == [(0, 0), (50, 9)]


@given(RINGS)
def test_rings_and_segments_of_a_polygon_give_the_polygon_back(ring):
    hole = clean_ring(circle_ring((0, 0), 10), hole=True)
    area = Polygon(ring, [hole])
    assume(area.is_valid)
    outer, holes = rings_of(area)
    assert holes == (hole,)
    assert Polygon(outer, holes).symmetric_difference(area).area < 1e-6
    rows = segments_of(area)
    assert len(rows) == len(ring) + len(hole)
    assert sum(math.hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in rows) == pytest.approx(area.length)


def test_lines_cross_or_do_not():
    assert line_crossing((0, 0), (10, 10), (0, 10), (10, 0)) == pytest.approx((5, 5))
    assert line_crossing((0, 0), (10, 0), (3, 3), (7, 3)) is None


@given(RINGS, st.floats(-100, 100))
def test_a_mirrored_ring_mirrored_again_is_itself(ring, about):
    clean = clean_ring(ring)
    mirrored = mirror_ring(clean, about)
    assert signed_area(mirrored) == pytest.approx(signed_area(clean))
    again = Polygon(mirror_ring(mirrored, about))
    assert again.symmetric_difference(Polygon(clean)).area < 1e-6
    assert Point(2 * about, 0).distance(Polygon(mirrored)) < 1e-9


@given(*[st.tuples(st.floats(-100, 100), st.floats(-100, 100)) for _ in range(3)])
def test_distance_from_a_segment_is_shapelys(p, a, b):
    assume(math.dist(a, b) > 1e-3)
    assert from_segment(p, a, b) == pytest.approx(LineString([a, b]).distance(Point(p)), abs=1e-9)
