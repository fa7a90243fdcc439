import random

import pytest

from elevation.cutting import cut_sticks
from tests.cutting.brute_force import fewest_sticks

INCH = 25.4


def checked(runs, stock, kerf):
    plan = cut_sticks(runs, stock, kerf)
    made = {}
    for stick in plan.plan:
        end = None
        for cut in stick.lengths:
            assert end is None or cut.start >= end + kerf - 1e-3
            end = cut.start + cut.length
            assert end <= stock + 0.06
            made[cut.run] = made.get(cut.run, 0.0) + cut.length
    assert made == pytest.approx(dict(runs), abs=0.06)
    assert plan.sticks == len(plan.plan) >= plan.lower_bound
    assert plan.proved == (plan.sticks == plan.lower_bound)
    assert plan.waste == pytest.approx(plan.sticks * stock - sum(length for _, length in runs))
    return plan


def test_two_legs_of_72_do_not_come_from_one_stick():
    plan = checked([("left", 72 * INCH), ("right", 72 * INCH)], 98.5 * INCH, INCH / 8)
    assert (plan.sticks, plan.proved, plan.joints) == (2, True, ())


def test_a_head_comes_from_the_rest_of_a_leg():
    runs = [("left", 60 * INCH), ("right", 60 * INCH), ("head", 38.375 * INCH)]
    assert checked(runs, 98.5 * INCH, INCH / 8).sticks == 2
    assert checked([*runs[:2], ("head", 38.4375 * INCH)], 98.5 * INCH, INCH / 8).sticks == 3


def test_a_long_run_is_whole_sticks_and_a_rest():
    plan = checked([("sill", 5200.0), ("leg", 2290.0)], 2500.0, 3.0)
    assert plan.joints == (("sill", 2),)
    assert plan.sticks == 3


@pytest.mark.parametrize(
    ("length", "joints", "sticks"), [(5000.0, 1, 2), (5000.04, 1, 2), (4999.97, 1, 2), (2500.0, 0, 1)]
)
def test_a_run_of_whole_sticks_has_no_rest(length, joints, sticks):
    plan = checked([("a", length)], 2500.0, 3.0)
    assert (plan.joints, plan.sticks) == ((("a", joints),) if joints else (), sticks)


def test_as_few_as_trying_everything():
    for seed in range(40):
        r = random.Random(seed)
        lengths = [r.randrange(20, 100) for _ in range(8)]
        plan = checked([(f"r{n}", float(v)) for n, v in enumerate(lengths)], 100.0, 3.0)
        assert plan.sticks == fewest_sticks(lengths, 100.0, 3.0)
        assert plan.proved


def test_nothing_is_no_stick():
    assert cut_sticks([], 2500.0, 3.0).sticks == 0


def test_lengths_of_nothing_are_refused():
    with pytest.raises(ValueError, match="longer than 0"):
        cut_sticks([("a", 0.0)], 2500.0, 3.0)
    with pytest.raises(ValueError, match="cannot be cut"):
        cut_sticks([("a", 5.0)], 0.0, 3.0)
