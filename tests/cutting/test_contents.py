"""What can come out of one tile, compared with an independent search."""

import random
from itertools import combinations

import pytest

from elevation.cutting.blocks import BOTTOM, LEFT, RIGHT, TOP, Cutter, Item, Sheet
from elevation.cutting.contents import Pricer, all_contents
from tests.cutting.outside import Search

BITS = {"left": LEFT, "right": RIGHT, "bottom": BOTTOM, "top": TOP}
INITIALS = {n[0]: n for n in BITS}


def sizes(seed, length, width):
    r = random.Random(seed)
    out = {}
    while len(out) < 6:
        w, h, edges = r.choice(
            [
                (r.randrange(3, length // 2), width, r.choice(["lbt", "rbt", "bt", "b", "lb"])),
                (length, r.randrange(3, width // 2), r.choice(["lrb", "lrt", "lr"])),
                (
                    r.randrange(3, length // 2),
                    r.randrange(3, width // 2),
                    r.choice(["lb", "rb", "rt", "lt", "l", "b", ""]),
                ),
                (r.randrange(3, length // 3), r.randrange(3, width - 3), r.choice(["lb", "rt", "l", ""])),
            ]
        )
        out[w, h, frozenset(INITIALS[e] for e in edges)] = None
    return list(out)


@pytest.mark.parametrize(
    ("length", "width", "turns", "seeds"), [(50, 30, (0, 180), 8), (50, 30, (0,), 8), (40, 40, (0, 90, 180, 270), 2)]
)
def test_everything_that_fits_is_listed_and_nothing_else(length, width, turns, seeds):
    three = 0
    for seed in range(seeds):
        rects = sizes(seed, length, width)
        search = Search(rects, length, width, 2, turns=turns)
        items = [Item(w, h, sum(BITS[s] for s in sides)) for w, h, sides in rects]
        cutter = Cutter(Sheet(length, width, 2, 180 in turns, 90 in turns), items)
        listed, complete = all_contents(cutter, [1] * 6, range(6), 10_000, 10**9)
        fitting = {
            chosen
            for size in range(1, 7)
            for chosen in combinations(range(6), size)
            if search.least(frozenset(chosen), width, frozenset(BITS)) <= length
        }
        assert complete
        assert len(listed) == len(set(listed))
        assert set(listed) == fitting, seed
        three += sum(len(c) > 2 for c in fitting)
    assert three > 5 * seeds


@pytest.mark.parametrize("turned", [False, True])
def test_no_contents_are_worth_more_than_the_pricer_says(turned):
    for seed in range(30):
        rects = sizes(seed, 50, 30)
        items = [Item(w, h, sum(BITS[s] for s in sides)) for w, h, sides in rects]
        cutter = Cutter(Sheet(50, 30, 2, turned, False), items)
        r = random.Random(seed)
        prices = {i: r.choice([0.0, 0.2, 0.4, 0.6, 0.9]) for i in range(6)}
        listed, _ = all_contents(cutter, [1] * 6, range(6), 10_000, 10**9)
        worth = max(sum(prices[i] for i in c) for c in listed)
        pricer = Pricer(cutter, [1] * 6, range(6), 10_000, 10**9)
        found = pricer.best(prices, [1] * 6)
        assert pricer.complete
        assert found is not None
        top, contents = found
        # the same piece may be asked for twice by two groups, so the promise may be too high, never too low
        assert top >= worth - 1e-9
        assert all(sum(prices[i] for i in c) <= top + 1e-9 for c in contents)
        if worth > 1 + 1e-6:
            assert contents
