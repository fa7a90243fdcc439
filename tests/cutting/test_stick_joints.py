"""Joints of long runs on joints of the tile, against trying everything."""

import random
from itertools import combinations, product

import pytest

from elevation.cutting.stick_joints import cut_on_joints
from tests.cutting.brute_force import fewest_sticks

INCH = 25.4


def fewest_by_trying(runs, stations, stock, kerf):
    """Return the fewest sticks over every way to part every run at so few of its stations as can be."""
    ways = []
    for name, length in runs:
        for count in range(len(stations[name]) + 1):
            found = []
            for chosen in combinations(stations[name], count):
                ends = [0, *chosen, length]
                parts = [b - a for a, b in zip(ends, ends[1:], strict=False)]
                if max(parts) <= stock:
                    found.append(parts)
            if found:
                ways.append(found)
                break
        else:
            return None
    return min(fewest_sticks([p for parts in choice for p in parts], stock, kerf) for choice in product(*ways))


def test_as_few_sticks_as_trying_everything():
    for seed in range(60):
        r = random.Random(seed)
        runs, stations = [], {}
        for n in range(r.randrange(1, 4)):
            length, first, module = r.randrange(30, 260), r.randrange(1, 30), r.randrange(11, 40)
            runs.append((f"r{n}", float(length)))
            stations[f"r{n}"] = [float(s) for s in range(first, length, module)]
        expected = fewest_by_trying(runs, stations, 100.0, 3.0)
        if expected is None:
            continue
        plan, long = cut_on_joints(runs, stations, 100.0, 3.0)
        assert plan.sticks == expected, seed
        assert plan.lower_bound <= expected
        assert all(run.on_tile for run in long)
        for run in long:
            ends = [0.0, *run.joints, dict(runs)[run.run]]
            made = [n.length for s in plan.plan for n in sorted(s.lengths, key=lambda c: c.part) if n.run == run.run]
            assert sorted(made) == pytest.approx(sorted(b - a for a, b in zip(ends, ends[1:], strict=False)))
            assert set(run.joints) <= set(stations[run.run])


def test_a_joint_goes_to_the_last_tile_joint_that_a_stick_reaches():
    # 10 ft up a wall of 3 in courses and 1/16 joints; a stick of 98 1/2 reaches the 32nd, at 98 - 1/32
    stations = [(n * 3.0625 - 1 / 32) * INCH for n in range(1, 39)]
    plan, (run,) = cut_on_joints([("left", 120 * INCH)], {"left": stations}, 98.5 * INCH, INCH / 8)
    assert run.joints == (pytest.approx((32 * 3.0625 - 1 / 32) * INCH),)
    assert [(n.part, round(n.length / INCH, 2)) for s in plan.plan for n in s.lengths] == [(1, 97.97), (2, 22.03)]
    assert (plan.sticks, plan.proved) == (2, True)


def test_a_short_end_is_avoided_where_that_costs_no_stick():
    # 2600 from sticks of 2500: a joint at 2480 would leave 120; one at 2300 leaves a foot
    plan, (run,) = cut_on_joints([("a", 2600.0)], {"a": [400.0, 1500.0, 2300.0, 2480.0]}, 2500.0, 3.0)
    assert run.joints == (2300.0,)
    assert plan.sticks == 2
    # where another run only fits beside the short one, the stick decides
    runs = [("a", 2600.0), ("b", 2370.0)]
    plan, (run,) = cut_on_joints(runs, {"a": [2300.0, 2480.0]}, 2500.0, 3.0)
    assert run.joints == (2480.0,)
    assert plan.sticks == 2


def test_without_a_tile_joint_in_reach_the_run_is_whole_sticks_and_a_rest_and_says_so():
    plan, (run,) = cut_on_joints([("a", 5200.0)], {"a": [1000.0, 4000.0]}, 2500.0, 3.0)
    assert (run.joints, run.on_tile) == ((2500.0, 5000.0), False)
    assert plan.joints == (("a", 2),)


def test_two_runs_of_72_need_two_sticks_and_have_no_joint():
    runs = [("left", 72 * INCH), ("right", 72 * INCH)]
    plan, long = cut_on_joints(runs, {"left": [36 * INCH], "right": [36 * INCH]}, 98.5 * INCH, INCH / 8)
    assert (plan.sticks, plan.proved, long) == (2, True, ())


def test_a_long_room_is_cut_in_bounded_work():
    stations = {f"r{n}": [75.0 * k + n for k in range(1, 130)] for n in range(6)}
    plan, long = cut_on_joints([(f"r{n}", 9800.0 + n) for n in range(6)], stations, 2500.0, 3.0)
    # 6 runs of 4 lengths: 58815 mm and 24 kerfs in sticks of 2500 and a kerf are at least 23.53
    assert 24 == plan.lower_bound <= plan.sticks
    assert all(len(run.joints) == 3 and run.on_tile for run in long)
