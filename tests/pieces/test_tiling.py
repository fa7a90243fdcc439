"""The fast way of tiling against the plain one: clip every tile, written here with nothing but shapely."""

from __future__ import annotations

import math

import hypothesis.strategies as st
import numpy as np
import pytest
import shapely
from hypothesis import given
from shapely.geometry import MultiPolygon, Point, Polygon, box

from elevation.geom import EPS
from elevation.patterns import Lattice, RunningBond, Slot, Stacked, VerticalStack
from elevation.pieces.tiling import tile_region

PATTERNS = [
    Stacked(pattern="stacked"),
    VerticalStack(pattern="vertical-stack"),
    RunningBond(pattern="running-bond", shift=0.5),
    RunningBond(pattern="running-bond", shift="1/3"),
    RunningBond(pattern="running-bond", shift=0.77),
]


def clip_every_tile(lattice, origin, region):
    """Every slot near the region, clipped: address -> what is left of it."""
    x0, y0, x1, y1 = region.bounds
    ring = np.array(lattice.motif[0].ring)
    reach = np.ptp(ring, axis=0).max() * 2
    inverse = np.linalg.inv(np.array([lattice.a, lattice.b]))
    corners = [(x - origin[0], y - origin[1]) for x in (x0 - reach, x1 + reach) for y in (y0 - reach, y1 + reach)]
    ij = np.array(corners) @ inverse
    found = {}
    for i in range(math.floor(ij[:, 0].min()), math.ceil(ij[:, 0].max()) + 1):
        for j in range(math.floor(ij[:, 1].min()), math.ceil(ij[:, 1].max()) + 1):
            for k, slot in enumerate(lattice.motif):
                move = np.array(origin) + i * np.array(lattice.a) + j * np.array(lattice.b)
                left = Polygon(np.array(slot.ring) + move).intersection(region)
                if left.area > EPS:
                    found[i, j, k] = left
    return found


def compare(lattice, origin, region):
    tiling = tile_region(lattice, origin, region)
    expected = clip_every_tile(lattice, origin, region)
    size = {k: Polygon(s.ring).area for k, s in enumerate(lattice.motif)}
    got = {tuple(a): size[a[2]] for a in tiling.whole.tolist()}
    assert len(got) == len(tiling.whole)
    for address, left in zip(tiling.cut.tolist(), tiling.left, strict=True):
        assert tuple(address) not in got
        if left.area > EPS:
            got[tuple(address)] = left.area
    assert got.keys() == expected.keys()
    # a slot that the border enters by less than a ten-thousandth of a mm counts as whole
    slack = 1e-4 * max(float(region.length), 1.0)
    assert all(abs(got[a] - expected[a].area) < slack for a in got)


@st.composite
def regions(draw):
    number = st.floats(0, 1, allow_nan=False)
    width, height = 60 + 900 * draw(number), 60 + 700 * draw(number)
    region = box(0, 0, width, height)
    if draw(st.booleans()):  # out of level and out of plumb
        lean = [40 * draw(number) - 20 for _ in range(4)]
        region = Polygon([(lean[0], 0), (width, lean[1]), (width + lean[2], height), (0, height + lean[3])])
    for _ in range(draw(st.integers(0, 3))):
        x, y = width * draw(number), height * draw(number)
        hole = (
            Point(x, y).buffer(5 + 80 * draw(number))
            if draw(st.booleans())
            else box(x, y, x + 200 * draw(number) + 1, y + 150)
        )
        region = region.difference(hole)
    return region


@given(
    region=regions(),
    pattern=st.sampled_from(PATTERNS),
    length=st.floats(30, 320),
    ratio=st.floats(0.2, 1),
    joint=st.sampled_from([0.0, 1.5, 3.0, 10.0]),
    at=st.tuples(st.floats(-300, 300), st.floats(-300, 300)),
)
def test_same_as_clipping_every_tile(region, pattern, length, ratio, joint, at):
    if region.area < 100:
        return
    compare(pattern.lattice(length, length * ratio, joint), at, region)


def test_borders_on_the_joints_cut_nothing():
    lattice = Stacked(pattern="stacked").lattice(100, 50, 2)
    tiling = tile_region(lattice, (0, 0), box(0, 0, 5 * 102 - 2, 4 * 52 - 2))
    assert len(tiling.whole) == 20
    assert len(tiling.cut) == 0


def test_several_separate_regions():
    lattice = RunningBond(pattern="running-bond", shift=0.5).lattice(100, 50, 2)
    compare(lattice, (7, 3), MultiPolygon([box(0, 0, 300, 300), box(400, 120, 900, 700), box(0, 420, 200, 500)]))


@pytest.mark.parametrize("origin", [(0.0, 0.0), (33.3, -71.9)])
def test_a_diagonal_lattice_goes_the_general_way(origin):
    side, step = 100.0, 103.0
    c = math.sqrt(0.5)
    ring = ((0, 0), (side * c, side * c), (0, 2 * side * c), (-side * c, side * c))
    lattice = Lattice((step * c, step * c), (-step * c, step * c), (Slot(ring),))
    compare(lattice, origin, box(0, 0, 900, 700).difference(Point(400, 300).buffer(90)))


def test_a_motif_of_two_sizes():
    big, small = ((0, 0), (100, 0), (100, 50), (0, 50)), ((103, 0), (133, 0), (133, 50), (103, 50))
    lattice = Lattice((136.0, 0.0), (0.0, 53.0), (Slot(big), Slot(small)))
    region = box(0, 0, 700, 300).difference(box(250, 100, 402, 180))
    tiling = tile_region(lattice, (-20, -10), region)
    whole = shapely.area(region.intersection(shapely.union_all([
        box(-20 + i * 136 + dx, -10 + j * 53, -20 + i * 136 + dx + w, -10 + j * 53 + 50)
        for i in range(-1, 7) for j in range(-1, 8) for dx, w in ((0, 100), (103, 30))
    ])))  # fmt: skip
    sizes = np.where(tiling.whole[:, 2] == 0, 100 * 50, 30 * 50)
    assert sizes.sum() + shapely.area(tiling.left).sum() == pytest.approx(whole, abs=0.1)


def test_an_empty_region_has_no_tiles():
    tiling = tile_region(Stacked(pattern="stacked").lattice(100, 50, 2), (0, 0), Polygon())
    assert len(tiling.whole) == len(tiling.cut) == 0
