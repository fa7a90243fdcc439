"""Edges with a range: design section 4, "An edge with a range [a, b]"."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from tests.builders import BARE, job_data, laid_out, wall_data


def edge_of(side, joint, height=1200, **more):
    edges = dict.fromkeys(("left", "right", "bottom", "top"), BARE)
    edges[side] = {"meets": "ceiling", "joint": joint}
    _, (face,) = laid_out(job_data(wall_data(height=height, edges=edges, **more)))
    return face, next(e for e in face.edges if e.border.side == side)


def test_without_a_survey_a_range_is_drawn_at_its_least():
    _, edge = edge_of("top", [3, 8])
    assert edge.gap == (3, 3)


def test_unless_the_edge_of_whole_tiles_falls_inside_it():
    # courses end at 150 + 153 k: 7 * 153 + 150 = 1221; the ceiling 5 above that
    face, edge = edge_of("top", [3, 8], height=1226)
    assert edge.gap == pytest.approx((5, 5))
    assert face.zones[0].region.bounds[3] == pytest.approx(1221)
    assert edge.why


@pytest.mark.parametrize(("height", "gap"), [(1223.9, 3), (1224, 3), (1229, 8), (1229.2, 3)])
def test_the_ends_of_the_range(height, gap):
    _, edge = edge_of("top", [3, 8], height=height)
    assert edge.gap == pytest.approx((gap, gap))


def test_a_fixed_joint_is_a_range_of_one():
    _, edge = edge_of("top", 5, height=1226)
    assert edge.gap == (5, 5)


def test_upright_edges_take_whole_columns_only_where_joints_stand_over_each_other():
    edges = {**dict.fromkeys(("left", "bottom", "top"), BARE), "right": {"meets": "corner", "joint": [3, 8]}}
    width = 6 * 303 + 300 + 6
    stacked = wall_data(width=width, edges=edges)
    bond = wall_data(width=width, edges=edges)
    bond["layout"] = {**bond["layout"], "pattern": "running-bond", "shift": "1/3"}
    gaps = [
        next(e for e in laid_out(job_data(w))[1][0].edges if e.border.side == "right").gap for w in (stacked, bond)
    ]
    assert gaps[0] == pytest.approx((6, 6))
    assert gaps[1] == (3, 3)


def survey(drop, rise=0.0):
    return {
        "down": [[0, 600], [2000, 600 + drop]], "up": [[0, 600], [2000, 600 + rise]],
        "left": [[-600, 0], [600, 0]], "right": [[-600, 2000], [600, 2000]],
    }  # fmt: skip


def bottom(drop, joint):
    edges = {**dict.fromkeys(("left", "right", "top"), BARE), "bottom": {"meets": "tub", "joint": joint}}
    wall = wall_data(survey=survey(drop), edges=edges)
    _, (face,) = laid_out(job_data(wall))
    return face, next(e for e in face.edges if e.border.side == "bottom")


def test_a_range_takes_up_what_is_out_of_level():
    # the tub falls 3 to the right; the gap runs from 3 at the high end, left, to 6 at the low end
    face, edge = bottom(3, [3, 6])
    assert edge.line == pytest.approx(3)
    assert edge.gap == pytest.approx((3, 6))
    assert face.zones[0].region.bounds[1] == pytest.approx(3)


def test_more_than_the_range_is_cut_to_the_taper():
    face, edge = bottom(8, [3, 6])
    assert edge.line is None
    assert edge.gap == (3, 3)
    region = face.zones[0].region
    assert isinstance(region, Polygon)
    low = {round(x): y for x, y in region.exterior.coords if y < 10}
    # 3 square to the sloping side: a hair more than 3 upright
    assert low[0] == pytest.approx(3, abs=1e-3)
    assert low[2000] == pytest.approx(-5, abs=1e-3)


def test_low_point_start_on_a_cut_edge():
    face, _ = bottom(8, [3, 6])
    # whole tile at the lowest point of the border: all but the one there are cut
    assert face.zones[0].origin[1] == pytest.approx(-5, abs=1e-3)
