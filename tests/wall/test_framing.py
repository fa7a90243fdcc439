"""The rough opening of a niche, worked by hand."""

from __future__ import annotations

import pytest

from elevation.wall import build_faces
from elevation.wall.framing import framing_of
from tests.builders import TILE, job_data, job_of, wall_data

# tile 5/16 + bed 1/8 + membrane 1/16 + board 1/2 = 1 in on each side
NICHE = {"id": "n", "x": 20, "y": 40, "width": 12, "height": 24, "depth": "3 1/2"}
TILES = {
    "t": {**TILE, "length": 12, "width": 6, "thickness": "5/16", "variation": 0},
    "thin": {**TILE, "length": 2, "width": 2, "thickness": "3/16", "variation": 0},
}


def framing(niche, width=60, **room):
    wall = wall_data(width=width, height=96, datum=36, niche=[niche])
    room = {"bed": "1/8", "membrane": "1/16", "board": "1/2", **room}
    job = job_of(job_data(wall, units="in", joint="1/8", sliver=1, tile=TILES, room=room))
    face = next(f for f in build_faces(job) if f.kind == "wall")
    return framing_of(job, face, job.wall[0].niche[0])


def inches(*values):
    return pytest.approx(tuple(v * 25.4 for v in values))


def test_rough_is_clear_and_twice_the_build_up():
    found = framing(NICHE)
    assert (found.width, found.height) == inches(12 + 2 * 1, 24 + 2 * 1)
    assert (found.left, found.right, found.bottom, found.top) == inches(19, 33, 39, 65)
    # the same tile on back and wall: what stands behind the back is as thick as what stands before the studs
    assert (found.depth, found.from_face) == inches(3.5, 4.5)
    assert (found.from_datum, found.to_left, found.to_right) == inches(39 - 36, 19, 60 - 33)


def test_a_thinner_tile_on_the_back_needs_less_depth():
    # back: 3/16 + 11/16 = 7/8; wall: 1; so 1/8 less than the clear depth of 3 1/2
    layout = {"tile": "thin", "pattern": "stacked"}
    found = framing({**NICHE, "layout": layout})
    assert (found.depth, found.from_face, found.width) == inches(3.375, 4.375, 14)


def test_lap_and_what_was_measured_to_move_no_finished_face():
    usual = framing(NICHE)
    for other in (framing({**NICHE, "lap": "return"}), framing(NICHE, to="finish"), framing(NICHE, to="studs")):
        assert (other.left, other.bottom, other.width, other.depth) == pytest.approx(
            (usual.left, usual.bottom, usual.width, usual.depth)
        )


@pytest.mark.parametrize(
    ("bay", "slack", "too_wide"),
    [
        (["18 3/4", "33 1/4"], (0.25, 0.25), 0),  # 14 1/2 clear between studs at 16 in centres: half an inch over
        (["19 1/4", "33 3/4"], (-0.25, 0.75), 0),
        (["19 1/4", "33"], (-0.25, 0), 0.25),
    ],
)
def test_slack_in_the_bay(bay, slack, too_wide):
    found = framing({**NICHE, "bay": bay})
    assert found.slack == inches(*slack)
    assert found.too_wide == pytest.approx(too_wide * 25.4)


def test_without_a_bay_nothing_is_said_of_it():
    assert framing(NICHE).slack is None
    assert framing(NICHE).too_wide == 0


def test_a_niche_from_corner_to_corner_needs_no_room_for_jambs():
    found = framing({**NICHE, "x": 0, "width": 60})
    assert (found.left, found.width, found.to_right) == inches(0, 60, 0)
    assert (found.height,) == inches(26)
