"""All tiles of a job cut: each zone by its own joint."""

from elevation.cutting import cut_job
from elevation.pieces import make_pieces
from tests.builders import TILE, job_data, laid_out, wall_data

# 12 chips of 23 mm with 2 mm between them: sheets of 298 mm, laid 2 mm apart
MOSAIC = {**TILE, "length": 298, "width": 298, "chip": [23, 23]}


def cut(of_job, **layout):
    """Return how two courses of sheets are cut on a wall one sheet and 145 mm wide."""
    start = {"x": "left", "y": "bottom"}
    there = wall_data(298 + 2 + 145, 2 * 298 + 2, layout={"tile": "t", "pattern": "stacked", "start": start, **layout})
    job, laid = laid_out(job_data(there, tile={"t": MOSAIC}, joint=of_job))
    return cut_job(job, laid, make_pieces(job, laid))


def test_a_mosaic_is_cut_by_the_joint_of_its_zone():
    # at 2 mm the cuts of 145 mm are 5.8 chips, six: two of them come out of a sheet of twelve
    (plain,) = cut(2)
    assert (plain.whole, plain.cut, plain.tiles) == (2, 2, 3)
    # the joint of the job must not matter where the layout has its own: at 8 mm a sheet would hold nine chips only,
    # and 145 mm would touch five of them
    (own,) = cut(8, joint=2)
    assert own == plain
