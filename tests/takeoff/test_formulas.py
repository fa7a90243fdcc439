"""Formulas against published figures; where a figure was derived from geometry here, the test says so."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevation.takeoff.formulas import bead_depth, bead_length, bed_left, grout_depth_per_area, whole_up
from elevation.takeoff.materials import GROUT_KG_PER_LITRE, KG_PER_LB, SUPPLY, TROWELS, trowel_for

IN, FT2 = 25.4, 304.8**2
CUBIC_IN = 25.4**3


def kg(length, width, joint, depth, area, density=GROUT_KG_PER_LITRE):
    return grout_depth_per_area(length, width, joint, depth) * area / 1e6 * density


def test_grout_metric_published_chart():
    # published chart: 300 x 300 x 10 mm tile, 2 mm joint: 5 kg cover 23 to 24 m2
    covered = 5 / kg(300, 300, 2, 10, 1e6)
    assert 23 <= covered <= 24
    assert covered == pytest.approx(23.7, abs=0.05)


def test_grout_mosaic_published_chart():
    # published chart: 3/8 in cubes, 1/16 in joint, 10 % waste: 0.94 lb a square foot, at 1.65 kg/L; 96 ft2 take 90 lb
    pounds = 1.1 * kg(9.525, 9.525, 1.5875, 9.525, FT2, density=1.65) / KG_PER_LB
    assert pounds == pytest.approx(0.94, abs=0.005)
    assert whole_up(pounds * 96 / 25) == 4


def test_grout_older_published_chart():
    # published chart: 4 1/4 in tile, 1/4 in thick, 1/8 in joint: 25 lb cover about 200 ft2; implies 1.7 kg/L
    volume = grout_depth_per_area(4.25 * IN, 4.25 * IN, IN / 8, IN / 4) * 200 * FT2
    assert volume / CUBIC_IN == pytest.approx(405.6, abs=0.5)
    assert 25 * KG_PER_LB / (volume / 1e6) == pytest.approx(1.71, abs=0.01)


def test_grout_regression_derived_from_geometry():
    assert kg(200, 100, 2, 7, 4e6) == pytest.approx(1.31, abs=0.005)


@given(st.floats(20, 600), st.floats(20, 600), st.floats(0.5, 10))
def test_grout_is_what_tiles_leave_of_a_large_area(length, width, joint):
    # counted: n x n tiles and a joint right of and above each
    n = 7
    field = n * (length + joint) * n * (width + joint)
    left = (field - n * n * length * width) / field
    assert grout_depth_per_area(length, width, joint, 1.0) == pytest.approx(left, rel=1e-9)


@pytest.mark.parametrize(
    ("notch", "straight", "held_at_45"),
    [((0.25, 0.25, 0.25), 0.125, 0.088), ((0.25, 0.375, 0.25), 0.188, 0.133), ((0.5, 0.5, 0.5), 0.250, 0.177)],
)
def test_bed_under_a_notched_trowel_derived_from_geometry(notch, straight, held_at_45):
    assert bed_left(*notch) == pytest.approx(straight, abs=0.0006)
    assert bed_left(*notch, angle=45) == pytest.approx(held_at_45, abs=0.0006)


@pytest.mark.parametrize(("trowel", "least", "most"), [(0, 80, 100), (1, 60, 80), (2, 40, 50)])
def test_a_bag_covers_what_published_ranges_say(trowel, least, most):
    # published ranges, square feet from a 50 lb bag, given to the nearest ten
    covered = SUPPLY["in"].bag_yield / TROWELS["in"][trowel].bed / FT2
    assert least - 1 <= covered <= most + 1


@pytest.mark.parametrize(("n", "litres"), [(6, 2.1), (8, 2.8), (10, 3.5)])
def test_metric_notches_derived_from_geometry(n, litres):
    assert bed_left(n, n, n, angle=45) == pytest.approx(litres, abs=0.05)


def test_the_trowel_named_is_the_nearest():
    assert trowel_for(3.175, "in").name == "1/4 x 3/8 in"
    assert trowel_for(2.0, "mm").name == "6 mm"


@pytest.mark.parametrize(
    ("width", "depth", "feet"),
    [(1 / 8, 1 / 8, 97.6), (3 / 16, 3 / 16, 43.4), (1 / 4, 1 / 8, 48.8), (1 / 4, 1 / 4, 24.4), (3 / 8, 1 / 4, 16.3)],
)
def test_feet_of_bead_from_a_published_cartridge_volume(width, depth, feet):
    # published: 10.1 fl oz are 18.3 cubic inches (18.23 exactly)
    assert bead_length(18.3 * CUBIC_IN, width * IN, depth * IN) / 304.8 == pytest.approx(feet, abs=0.06)
    assert SUPPLY["in"].cartridge / CUBIC_IN == pytest.approx(18.23, abs=0.005)


@pytest.mark.parametrize(("width", "depth", "metres"), [(6, 6, 8.6), (6, 3, 17.2)])
def test_metres_of_bead_from_310_ml(width, depth, metres):
    assert bead_length(SUPPLY["mm"].cartridge, width, depth) / 1000 == pytest.approx(metres, abs=0.05)


def test_bead_is_half_as_deep_as_wide_but_not_under_the_least():
    assert bead_depth(3.175, 3.175) == 3.175
    assert bead_depth(12.7, 3.175) == 6.35


@pytest.mark.parametrize(("share", "ordered"), [(0.05, 75), (0.15, 82)])
def test_order_quantity_published_example(share, ordered):
    # published example: 92 by 111 in is 71 ft2; with 5 % 75 ft2, with 15 % 82 ft2
    area = 92 * 111 / 144
    assert round(area) == 71
    assert whole_up(area * (1 + share)) == ordered


def test_noise_is_not_an_extra_box():
    assert whole_up(3.0000000000001) == 3
    assert whole_up(3.001) == 4
    assert whole_up(math.nextafter(5, 6)) == 5
