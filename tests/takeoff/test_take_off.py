"""The take-off of small jobs that can be reckoned by hand."""

import pytest

from elevation.takeoff import Quantity
from tests.planning import plan_of
from tests.strategies import job_data, tile, wall

CORNER = {"meets": "corner", "joint": 3}
BARE = {"meets": "wall"}


def lines(*walls, **more):
    """Return the take-off by group and last word of the description, or item."""
    plan = plan_of(job_data(*walls, **more), findings=False)
    return {(q.group, q.description.rpartition(": ")[2] if q.group == "tile" else q.item): q for q in plan.takeoff}


def bare(**more):
    return wall(edges=dict.fromkeys(("left", "right", "bottom", "top"), BARE), **more)


def test_a_wall_of_whole_tiles():
    # 4 x 10 tiles of 300 x 100 with 2 mm joints
    found = lines(bare(width=4 * 302 - 2, height=10 * 102 - 2, layout={
        "tile": "field", "pattern": "stacked", "start": {"x": "left", "y": "bottom"},
    }))  # fmt: skip
    assert found["tile", "whole"].amount == 40
    assert found["tile", "cut pieces"].amount == 0
    assert found["tile", "needed"].amount == 40
    assert found["tile", "to order"].amount == 42
    assert found["tile", "boxes"].amount == 3
    assert found["tile", "spare"].amount == 20
    assert found["area", "wall"].amount == pytest.approx(1.206 * 1.018, abs=1e-4)
    assert found["area", "tiled"].amount == found["area", "wall"].amount
    assert not [k for k in found if k[0] == "soft joint"]


def test_grout_and_mortar_say_what_they_assume():
    found = lines(bare(width=1000, height=1000))
    grout, mortar, bags = found["grout", "field 2 mm"], found["mortar", "field"], found["mortar", "bags"]
    assert grout.unit == "kg"
    assert grout.amount == pytest.approx(8 * (1 - 300 * 100 / (302 * 102)) * 1.6 * 1.1, abs=1e-3)
    assert any("8 mm" in a for a in grout.assumptions)
    assert any("1.6 kg" in a for a in grout.assumptions)
    assert any("10 %" in a for a in grout.assumptions)
    # 3 mm of bed over 1 m2 are 3 L; a 20 kg bag makes 16.5 L at the yield assumed
    assert mortar.amount == pytest.approx(3 / 16.48 * 20, abs=0.01)
    assert bags.amount == 1
    assert any("label overrides" in a for a in bags.assumptions)


def test_mosaic_is_grouted_by_its_chips():
    chips = tile(300, 300, chip=["25", "25"], thickness=6)
    found = lines(bare(width=1000, height=1000), tile={"field": chips})
    assert found["grout", "field 2 mm"].amount == pytest.approx(6 * (1 - 25 * 25 / 27**2) * 1.6 * 1.1, abs=1e-3)
    assert found["tile", "needed"].unit == "sheets"


def test_the_corner_of_two_walls_is_one_soft_joint():
    a = wall(width=1000, height=2000, edges={"left": BARE, "right": CORNER, "bottom": BARE, "top": BARE})
    b = wall(id="B", width=1000, height=2000, edges={"left": CORNER, "right": CORNER, "bottom": BARE, "top": BARE})
    c = wall(id="C", width=1000, height=2000, edges={"left": CORNER, "right": BARE, "bottom": BARE, "top": BARE})
    joint = lines(a, b, c)["soft joint", "3 mm soft joint"]
    assert joint.amount == pytest.approx(4.0, abs=1e-3)
    assert [w for w, _ in joint.by_wall] == ["A", "B"]


def test_cartridges_for_the_soft_joints():
    # 4 sides of a 3 x 2 m wall, 6 mm wide and 3 mm deep: 310 mL make 17.2 m, 10 m take one; 6 x 6 m take two
    sides = {side: {"meets": "ceiling", "joint": 6} for side in ("left", "right", "bottom", "top")}
    assert lines(wall(width=3000, height=2000, edges=sides))["soft joint", "sealant"].amount == 1
    assert lines(wall(width=6000, height=3000, edges=sides))["soft joint", "sealant"].amount == 2


def test_trims_by_wall_and_sticks():
    # two upright runs of 1829 mm (72 in) do not come out of one stick of 2502 mm (98 1/2 in)
    trim = {"end": {"kind": "profile", "face": 2.5, "joint": 2, "height": 11, "stock": 2502}}
    sides = {"left": {"trim": "end"}, "right": {"trim": "end"}, "bottom": BARE, "top": BARE}
    plan = plan_of(job_data(wall(width=1000, height=1829, edges=sides), trim=trim), findings=False)
    length, sticks = [q for q in plan.takeoff if q.group == "trim"]
    assert (length.unit, length.amount) == ("m", pytest.approx(2 * 1.829, abs=1e-3))
    assert (sticks.unit, sticks.amount) == ("sticks", 2)


def framed(**trim):
    sides = {side: {"trim": "end"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 400, "y": 800, "width": 400, "height": 300, "depth": 90, "edges": sides}
    table = {"end": {"face": 20, "joint": 2, **trim}}
    plan = plan_of(job_data(bare(width=1204, height=1629, niche=[niche]), trim=table), findings=False)
    return plan, {q.description.rpartition(": ")[2]: q for q in plan.takeoff if q.group == "trim"}


def test_corner_pieces_and_pieces_of_trim_agree_with_the_plan():
    plan, found = framed(kind="liner", stock=150, corner="piece")
    # sill and head 400 less a joint at either end: (396 - 150 - 4) / 2 = 121 at either end of a
    # whole one; jambs 300 less 4: (296 - 2) / 2 = 147 twice; none of them share a piece of 150
    assert found["corner pieces, inside"].amount == 4 == len(plan.trims[0].corner_pieces)
    assert found["corner pieces, inside"].by_wall == (("A", 4.0),)
    assert found["pieces"].amount == 2 * 3 + 2 * 2 == len(plan.trims[0].pieces) == plan.trims[0].sticks.sticks
    assert found["pieces"].assumptions[1] == "2 whole and 8 cut; nothing added for breakage"
    length = found["liner, 20 mm face"]
    assert length.amount == pytest.approx(2 * 0.4 + 2 * 0.3)
    assert length.assumptions == ("corner pieces taken off",)


def test_the_length_of_trim_is_that_of_its_runs():
    for corner, metres in (("mitre", 2 * 0.44 + 2 * 0.34), ("butt", 2 * 0.44 + 2 * 0.3)):
        plan, found = framed(kind="profile", height=11, stock=2500, corner=corner)
        assert found["profile, 20 mm face"].amount == pytest.approx(metres)
        assert sum(r.length for r in plan.trims[0].runs) == pytest.approx(metres * 1000)
        assert not [d for d in found if d.startswith("corner pieces")]


@pytest.mark.parametrize(
    ("to", "found_there"), [("studs", {"board", "membrane"}), ("board", {"membrane"}), ("finish", set())]
)
def test_board_and_membrane_only_where_they_are_still_to_come(to, found_there):
    found = lines(bare(width=1000, height=1000), room={"to": to, "membrane": 1})
    assert {item for group, item in found if group == "backing"} == found_there


def test_inch_jobs_are_told_in_feet_and_pounds():
    sizes = {"thickness": "5/16", "variation": "1/32"}
    found = lines(
        wall(width="120", height="96"), units="in", joint="1/8", sliver="1", tile={"field": tile(12, 3) | sizes}
    )
    assert found["area", "wall"].unit == "ft2"
    assert found["area", "wall"].amount == pytest.approx(80)
    assert found["grout", "field 1/8 in"].unit == "lb"
    assert {q.unit for q in found.values()} <= {"ft2", "tiles", "pieces", "boxes", "ft", "cartridges", "lb", "bags"}


def test_rounded_shares_add_up():
    quantity = Quantity("area", "tiled", "Tiled", 1.0, "m2", (("A", 1 / 3), ("B", 1 / 3), ("C", 1 / 3)))
    total, shares = quantity.rounded(2)
    assert total == 1.0
    assert sorted(v for _, v in shares) == [0.33, 0.33, 0.34]
