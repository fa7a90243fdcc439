"""Sealant in niches and at window frames: every bead once, by its width, reckoned by hand; mm.

Tiles of 300 x 150, 8 thick, joint 3, soft joint 3; the wall's own edges are bare, so that all sealant is the recess's.
The returns stop 8 + 3 = 11 behind the finished wall and are 90 - 11 = 79 deep.
"""

from __future__ import annotations

from collections import Counter

import pytest

from elevation.pieces import edge_runs
from elevation.takeoff.joints import beads
from tests.builders import BARE, job_data, laid_out, wall_data

NICHE = {"id": "n", "x": 300, "y": 456, "width": 609, "height": 309, "depth": 90, "pitch": 0}
WINDOW = {"id": "w", "kind": "window", "x": 300, "y": 456, "width": 609, "height": 309, "depth": 90, "pitch": 0}


def by_width(*walls, **more):
    job, laid = laid_out(job_data(*walls, **more))
    total = Counter()
    for bead in beads(job, laid, edge_runs(laid)):
        total[round(bead.width, 3)] += bead.length
    return dict(total)


def test_a_niche():
    back = 2 * 603 + 2 * 303  # round the back, a soft joint inside 609 x 309
    head = 2 * 79  # between the jambs
    feet = 2 * 79  # of the jambs, on the sill
    assert by_width(wall_data(niche=[NICHE])) == {3: pytest.approx(back + head + feet)}


def test_a_shelf_adds_its_own_and_takes_its_edge_from_the_sides():
    back = 2 * 603 + 2 * (303 - 20 - 2 * 3)  # the sides stop a joint short of the shelf, 20 thick
    shelf = 2 * 603 + 2 * 2 * 79  # above and below, along the back and both jambs
    assert by_width(wall_data(niche=[{**NICHE, "shelf": [{"y": 180, "thickness": 20}]}])) == {
        3: pytest.approx(back + shelf + 2 * 79 + 2 * 79)
    }


def test_a_window_has_a_joint_at_its_frame_as_wide_as_the_edge_says():
    edges = {"bottom": {"meets": "frame", "joint": 5}, "top": {"meets": "casing", "joint": 6}}
    # the jambs run from a joint of 3 above the sill to under the head; the head stands between them
    jambs = 2 * (309 - 3)
    assert by_width(wall_data(opening=[{**WINDOW, "edges": edges}])) == {
        5: pytest.approx(609),
        6: pytest.approx(603),
        3: pytest.approx(jambs + 2 * (79 - 3) + 2 * (79 - 6)),  # at the frame, under the jambs, beside the head
    }


def test_returns_that_lap_take_no_sealant_at_the_wall():
    # now the returns run out to the finished face: 90 deep
    found = by_width(wall_data(niche=[{**NICHE, "lap": "return"}]))
    assert found == {3: pytest.approx(2 * 603 + 2 * 303 + 4 * 90)}


def test_a_niche_from_corner_to_corner():
    corner = {"meets": "corner", "joint": 4}
    edges = {"left": corner, "right": corner, "bottom": BARE, "top": BARE}
    found = by_width(wall_data(niche=[{**NICHE, "x": 0, "width": 2000}], edges=edges))
    # the corners themselves run above and below the niche: 1200 - 309 each
    assert found[4] == pytest.approx(2 * (1200 - 309))
    # the jambs, in the plane of the side walls, are not lapped and 90 deep; sill and head are
    assert found[3] == pytest.approx(2 * 1994 + 2 * 303 + 2 * 79 + 2 * 90)


def test_every_side_by_its_own_width():
    edges = {
        "left": {"meets": "corner", "joint": 2}, "right": {"meets": "cabinet", "joint": 3},
        "bottom": {"meets": "counter", "joint": 4}, "top": {"meets": "ceiling", "joint": 5},
    }  # fmt: skip
    # a window set flush: its frame meets the wall's tile, 6 all round 200 x 100; a side of which nothing is said has 3
    frame = {"meets": "frame", "joint": 6}
    sides = dict.fromkeys(("left", "right", "bottom"), frame)
    window = {"id": "w", "kind": "window", "x": 400, "y": 300, "width": 200, "height": 100, "edges": sides}
    assert by_width(wall_data(width=1000, height=800, edges=edges, opening=[window])) == {
        2: pytest.approx(800 - 4 - 5),
        3: pytest.approx(800 - 4 - 5 + 200 + 2 * 6),
        4: pytest.approx(1000 - 2 - 3),
        5: pytest.approx(1000 - 2 - 3),
        6: pytest.approx(200 + 2 * 6 + 2 * (100 + 6 + 3)),
    }
