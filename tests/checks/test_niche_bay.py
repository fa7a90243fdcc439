"""The rough opening between its studs: clear 300, tile 8, bed 3, board 12.5 on each side make 347."""

import pytest

from tests.planning import plan_of
from tests.strategies import job_data, wall

NICHE = {"id": "n", "x": 400, "y": 900, "width": 300, "height": 300, "depth": 90}
ROOM = {"bed": 3, "board": 12.5}


def found(bay):
    niche = NICHE if bay is None else {**NICHE, "bay": bay}
    plan = plan_of(job_data(wall(niche=[niche]), room=ROOM))
    return [f for f in plan.findings if f.rule == "niche-bay"]


# left side of the rough opening 400 - 23.5 = 376.5, right side 700 + 23.5 = 723.5
@pytest.mark.parametrize("bay", [None, [370, 730], [376.5, 729.5], [373.5, 726.5]])
def test_a_niche_that_fits_is_passed(bay):
    assert found(bay) == []


@pytest.mark.parametrize(
    ("bay", "says"),
    [
        ([380, 720], "347 mm wide, 7 mm more than the 340 mm between the studs"),
        ([381.5, 800], "reaches 5 mm into the left stud. Move it to the right"),
        ([300, 713.5], "reaches 10 mm into the right stud. Move it to the left"),
        ([376.5, 728.5], "only 5 mm less than the 352 mm between the studs"),
    ],
)
def test_one_that_does_not_is_told_by_how_much(bay, says):
    (finding,) = found(bay)
    assert (finding.where, finding.level) == ("A n", "advise")
    assert says in finding.text
