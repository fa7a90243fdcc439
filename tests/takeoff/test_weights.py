"""What hangs on a wall, reckoned by hand."""

import pytest

from tests.planning import plan_of
from tests.strategies import job_data, tile, wall

BARE = {"meets": "wall"}
SIDES = ("left", "right", "bottom", "top")


def weighed(units="mm", size=1000, **of):
    """Return the quantity and the finding of a wall of one square metre, or of another size."""
    there = wall(width=size, height=size, edges=dict.fromkeys(SIDES, BARE))
    plan = plan_of(job_data(there, tile={"field": tile(300, 100, **of)}, units=units))
    return (
        [q for q in plan.takeoff if q.group == "weight"],
        [f for f in plan.findings if f.rule in ("tile-weight", "unused-key")],
    )


def test_nothing_is_said_where_no_weight_is_given():
    assert weighed() == ([], [])


def test_tile_mortar_and_grout_of_a_square_metre():
    # tile 300 x 100 x 8, joint 2: 1 / (0.302 x 0.102) = 32.46 tiles of 0.5 kg; 3 mm of mortar are 3 L of
    # 20 kg / 16.48 L powder and a quarter of water; joints of 8 mm depth at 1.6 kg/L
    (there,), (said,) = weighed(weight=0.5)
    tiles = 0.5 / (0.302 * 0.102)
    mortar = 3 * 20 / 16.48 * 1.25
    grout = 8 * (1 - 0.3 * 0.1 / (0.302 * 0.102)) * 1.6
    assert (there.unit, there.amount) == ("kg", pytest.approx(tiles + mortar + grout, abs=0.01))
    assert there.by_wall == (("A", there.amount),)
    assert "21 kg/m2: tile 16.2, mortar 4.6, grout 0.3 kg/m2" in there.assumptions[0]
    assert said.text.startswith("hangs 21 kg/m2 on the wall")
    assert "Gypsum plaster is held to carry 20 kg/m2: too little here" in said.text


@pytest.mark.parametrize(("weight", "says"), [(0.47, "too little"), (0.46, "bedded solidly"), (0.43, "Ask")])
def test_limits_of_plaster(weight, says):
    # with 4.88 kg of mortar and grout a square metre: 0.47 is 20.14, 0.46 is 19.82, 0.43 is 13.96 of tile alone
    text = weighed(weight=weight)[1][0].text
    assert says in text
    assert ("Gypsum plaster" in text, "solidly" in text) == (weight > 0.465, 0.435 < weight < 0.465)


def test_pounds_a_square_foot():
    # 2 lb on 11 7/8 x 5 7/8 in with joints of 1/8: 12 x 6 in are half a square foot, 4 lb/ft2 of tile
    there = wall(width=36, height=36, edges=dict.fromkeys(SIDES, BARE))
    of = tile("11 7/8", "5 7/8", weight=2, thickness="5/16", variation="1/64")
    plan = plan_of(job_data(there, tile={"field": of}, units="in", joint="1/8", sliver=1))
    (found,) = (q for q in plan.takeoff if q.group == "weight")
    assert found.unit == "lb"
    assert "tile 4.0, " in found.assumptions[0]
    # mortar: 1/8 in over a square foot are 1/96 ft3 of 50 lb / 0.66 ft3, and a quarter of water
    assert f"mortar {50 / 0.66 / 96 * 1.25:.1f}, grout" in found.assumptions[0]


def test_grout_too_light_to_print_is_not_said_to_be_nothing():
    # joints of 1/16 in 3/16 deep round 24 x 24 in: 1/192 of the face, 0.02 lb a square foot at 1.6 kg/L
    there = wall(width=48, height=48, edges=dict.fromkeys(SIDES, BARE))
    of = tile("23 15/16", "23 15/16", weight=10, thickness="3/16", variation="1/64")
    plan = plan_of(job_data(there, tile={"field": of}, units="in", joint="1/16", sliver=1))
    (found,) = (q for q in plan.takeoff if q.group == "weight")
    grout = (1 - (23.9375 / 24) ** 2) * 144 * 3 / 16 * 16.387e-3 * 1.6 / 0.4536
    assert 0 < grout < 0.05
    assert "tile 2.5, " in found.assumptions[0]
    assert "grout under 0.1 lb/ft2" in found.assumptions[0]
