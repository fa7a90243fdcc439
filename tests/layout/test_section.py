"""The section through a sill, by kind of trim and lap, worked by hand; mm, u into the wall, y up from the front edge."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from elevation.layout.section import sill_section
from tests.builders import BARE, job_data, laid_out, wall_data

# tile 8, bed 3, board 12, no membrane; the sill rises 24 * 127 / 304.8 = 10 over its depth of 127
NICHE = {"id": "n", "x": 500, "y": 400, "width": 600, "height": 500, "depth": 127, "pitch": 24}
ROOM = {"bed": 3, "board": 12}
SLOPE = math.hypot(127, 10)


def section(niche, trim=None, **more):
    edges = {"sill": {"trim": "e"}} if trim else {}
    data = job_data(
        wall_data(niche=[{**NICHE, "edges": edges, **niche}]), room=ROOM, trim={"e": trim} if trim else {}, **more
    )
    job, laid = laid_out(data)
    return sill_section(job, laid[0], laid[1:], job.wall[0].niche[0])


def sill_and_wall(found):
    sill, wall, *_ = found.of("tile")
    return sill, wall


def near(ring):
    return [pytest.approx(p, abs=1e-3) for p in ring]


def test_the_walls_tile_laps():
    sill, wall = sill_and_wall(section({"lap": "wall"}))
    # its tile of 8 runs up to the front edge; the sill's starts a joint of 3 behind it, along the slope
    front = 11 * 127 / SLOPE
    rise = 11 * 10 / SLOPE
    assert list(sill) == near([(front, rise), (127, 10), (127, 2), (front, rise - 8)])
    assert list(wall) == near([(0, -50), (8, -50), (8, 0), (0, 0)])


def test_the_return_laps():
    sill, wall = sill_and_wall(section({"lap": "return"}))
    assert list(sill) == near([(0, 0), (127, 10), (127, 2), (0, -8)])
    # below the edge of the sill's tile, 8, and a joint of 3
    assert max(y for _, y in wall) == pytest.approx(-11)


def test_two_tiles_mitred():
    sill, wall = sill_and_wall(section({}, {"kind": "mitre", "joint": 2}))
    u, y = 2 * 127 / SLOPE, 2 * 10 / SLOPE
    # both are bevelled back by their thickness; a joint of 2 stands between them
    assert list(sill) == near([(u, y), (127, 10), (127, 2), (u + 8, y - 8)])
    assert list(wall) == near([(0, -50 - 2), (8, -50 - 2), (8, -2 - 8), (0, -2)])


@pytest.mark.parametrize(
    ("kind", "face", "solids", "area"),
    [
        # the profile's face, as deep as the tile, and its leg of 1 in the bed, 22 longer than its face
        ("profile", 2.5, 2, 2.5 * 8),
        ("liner", 12, 1, 12 * 8),
        # rounded by 0.6 of the tile's thickness: a corner of 4.8 loses 4.8^2 - pi 4.8^2 / 4
        ("bullnose", 50, 1, 50 * 8 - (1 - math.pi / 4) * 4.8**2),
    ],
)
def test_a_trim_stands_outside_the_clear_opening(kind, face, solids, area):
    found = section({}, {"kind": kind, "face": face, "joint": 2, "height": 11})
    shown = found.of("trim")
    assert len(shown) == solids
    # the chords of the rounding lose a little
    assert Polygon(shown[0]).area == pytest.approx(area, rel=1e-3)
    assert Polygon(shown[0]).bounds == pytest.approx((0, -face, 8, 0))
    sill, wall = sill_and_wall(found)
    assert max(y for _, y in wall) == pytest.approx(-face - 2)
    assert sill[0][0] == pytest.approx((8 + 2) * 127 / SLOPE)


def test_the_bed_makes_the_fall_and_the_framing_is_level():
    found = section({})
    bed = found.of("bed")[0]
    # 3 under the tile at the front, where that begins behind the wall's tile; 3 + 10 at the back
    assert [p[1] for p in bed[2:]] == pytest.approx([-11, -11])
    assert bed[1] == pytest.approx((127, 2))
    (framing,) = found.of("framing")
    assert framing[2][1] == framing[3][1] == pytest.approx(-8 - 3 - 12)
    # finished back, then its tile, bed and board
    assert found.end == pytest.approx(127 + 8 + 3 + 12)
    assert found.recess.slope == pytest.approx(SLOPE)


def test_a_shelf_with_a_fall_of_its_own_parts_the_back():
    shelf = {"y": 200, "thickness": 20, "pitch": 12}
    found = section({"shelf": [shelf]})
    (ring,) = found.of("shelf")
    # 12 a foot fall 5 over 127; it goes on behind the tile of the back, 8, and ends in the plane of the wall
    deep = 5 * 135 / 127
    assert list(ring) == near([(0, 180), (135, 180 + deep), (135, 200 + deep), (0, 200)])
    backs = sorted(Polygon(r).bounds for r in found.of("tile")[2:])
    # from a soft joint of 3 above the sill to one under the shelf, and on from one above it
    assert [b[1] for b in backs] == pytest.approx([10 + 3, 205 + 3])
    assert backs[0][3] == pytest.approx(185 - 3)
    assert len(found.windows) == 2


def test_shelves_alike_are_shown_once_and_near_ones_join_the_sill():
    alike = section({"shelf": [{"y": 200, "thickness": 20}, {"y": 350, "thickness": 20}]})
    assert (len(alike.shelves), len(alike.windows)) == (2, 2)
    low = section({"shelf": [{"y": 60, "thickness": 20}]})
    assert len(low.windows) == 1


def test_a_window_ends_at_its_frame():
    window = {
        "id": "w", "kind": "window", "x": 500, "y": 400, "width": 600, "height": 500, "depth": 127, "pitch": 24,
        "edges": {"bottom": {"meets": "frame", "joint": 5}},
    }  # fmt: skip
    job, laid = laid_out(job_data(wall_data(opening=[window]), room=ROOM))
    found = sill_section(job, laid[0], laid[1:], job.wall[0].opening[0])
    sill = found.of("tile")[0]
    assert sill[1][0] == pytest.approx(127 - 5 * 127 / SLOPE)
    (frame,) = found.of("frame")
    assert Polygon(frame).bounds[0] == pytest.approx(127)
    assert found.soft == pytest.approx(5)


def test_a_door_has_no_sill_to_cut_through():
    door = {
        "id": "d", "kind": "door", "x": 500, "y": 0, "width": 700, "height": 1000, "depth": 120,
        "edges": {"bottom": BARE},
    }  # fmt: skip
    job, laid = laid_out(job_data(wall_data(opening=[door])))
    assert sill_section(job, laid[0], laid[1:], job.wall[0].opening[0]) is None
