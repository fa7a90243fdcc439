"""Spares and reuse in the job file, and what the take-off makes of them."""

from fractions import Fraction

import pytest
from pydantic import ValidationError

from elevation.cutting import cut_tiles
from elevation.job.load import read_job
from elevation.job.spares import Amount, Spares
from elevation.pipeline import work_out
from tests.planning import EXAMPLES, plan_of
from tests.strategies import job_data, job_of, tile, wall

BARE = {side: {"meets": "wall"} for side in ("left", "right", "bottom", "top")}


def whole(**more):
    """Return a wall of 40 whole tiles, 20 a box."""
    layout = {"tile": "field", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
    return job_data(wall(width=4 * 302 - 2, height=10 * 102 - 2, edges=BARE, layout=layout), **more)


def lines(data):
    plan = plan_of(data, findings=False)
    return {q.description.rpartition(": ")[2]: q for q in plan.takeoff if q.group == "tile"}


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("5 %", Amount(share=Fraction(1, 20))),
        ("7.5%", Amount(share=Fraction(3, 40))),
        (6, Amount(tiles=6)),
        ("6 tiles", Amount(tiles=6)),
        ("1 box", Amount(boxes=1)),
        ("2 boxes", Amount(boxes=2)),
        (0, Amount()),
    ],
)
def test_ways_to_say_how_many(text, amount):
    assert Spares.model_validate({"breakage": text}).breakage == amount


@pytest.mark.parametrize(
    "text", ["", "some", "-1", -1, True, "1.5 tiles", "0.5 box", "101 %", 10**9, "9" * 40, 1.5, None]
)
def test_what_is_no_number_of_spares(text):
    with pytest.raises(ValidationError):
        Spares.model_validate({"breakage": text})


def test_breakage_by_share_and_by_count():
    assert lines(whole())["breakage"].amount == 2
    found = lines(whole(spares={"breakage": "11 %"}))
    assert (found["breakage"].amount, found["to order"].amount, found["boxes"].amount) == (5, 45, 3)
    found = lines(whole(spares={"breakage": 0}))
    assert (found["to order"].amount, found["boxes"].amount, found["spare"].amount) == (40, 2, 0)
    assert "attic stock" not in found


def test_attic_stock_is_a_line_of_its_own_in_whole_boxes():
    plain = lines(whole(spares={"breakage": 0}))
    found = lines(whole(spares={"breakage": 0, "attic": 21}))
    assert found.pop("attic stock").amount == 2
    assert found == plain
    assert lines(whole(spares={"attic": "1 box"}))["attic stock"].amount == 1
    # 5 % of 40 tiles are two, which come in a box
    assert lines(whole(spares={"attic": "5 %"}))["attic stock"].amount == 1


def test_a_tile_may_have_spares_of_its_own():
    data = whole(spares={"breakage": 1}, tile={"field": tile(spares={"breakage": 3})})
    assert lines(data)["breakage"].amount == 3


def test_reuse_switched_off_takes_a_tile_for_each_cut(tmp_path):
    path = tmp_path / "job.toml"
    text = next(p for p in EXAMPLES if p.stem == "tub-alcove").read_text()
    path.write_text(text.replace("[room]", "reuse = false\n\n[room]", 1))
    plan = work_out(read_job(path))
    cutting = plan.cutting[0]
    assert cutting.tiles == cutting.pieces == cutting.without_reuse
    assert cutting.said == ()
    assert all(len(t.placements) == 1 for t in cutting.plan)
    assert any("no rest is used again" in a for q in plan.takeoff for a in q.assumptions)
    with_reuse = cut_tiles("field", plan.job.tile["field"], plan.cuts, cutting.whole, plan.job.kerf)
    assert with_reuse.tiles < cutting.tiles
    assert job_of(job_data()).reuse is True
