"""How long cutting takes, as a multiple of counting each cut as a tile of its own in the same process."""

import random
import time

from elevation.cutting import cut_tiles
from elevation.job.models import Tile
from elevation.pieces.piece import Piece

TILE = Tile.model_validate(
    {
        "name": "Plain", "length": "600 mm", "width": "300 mm", "thickness": "9 mm", "sampled": 10,
        "variation": "0.5 mm", "edge": "rectified", "box": 6,
    },
    context={"units": "mm"},
)  # fmt: skip
SLOT = ((0.0, 0.0), (600.0, 0.0), (600.0, 300.0), (0.0, 300.0))
BOTH = ("bottom", "top")


def strip(n: int, width: float, edges: tuple[str, ...]) -> Piece:
    outer = ((0.0, 0.0), (width, 0.0), (width, 300.0), (0.0, 300.0))
    return Piece(
        id=f"B{n}", number=f"B{n}", face="AB"[n % 2], zone="z", tile="t", course=n, place=1, part=1, kind="straight",
        outer=outer, holes=(), slot=SLOT, upright=False, width=width, height=300.0, area=width * 300.0,
        shown=(width, 300.0), factory_edges=edges,
    )  # fmt: skip


def instance(seed: int, count: int, sizes: int, least: int, most: int, ends: float) -> list[Piece]:
    """Return ``count`` strips of so many sizes, in sixteenths of a mm; a share of the sizes needs an end."""
    r = random.Random(seed)
    kinds = [
        (r.randrange(least * 16, most * 16) / 16, ("left", *BOTH) if r.random() < ends else BOTH) for _ in range(sizes)
    ]
    picks = [*range(sizes), *(r.randrange(sizes) for _ in range(count - sizes))]
    return [strip(n, *kinds[k]) for n, k in enumerate(picks)]


RANGES = ((30, 560), (60, 300), (100, 450), (25, 250))
INSTANCES = [(s, lo, hi, ends) for ends in (0.0, 0.3, 0.6) for lo, hi in RANGES for s in range(3)]


def ratio(pieces: list[Piece], seconds: float) -> float:
    """Return a time as a multiple of the plan without reuse."""
    start = time.perf_counter()
    for _ in range(5):
        cut_tiles("t", TILE, pieces, 0, 3.0, reuse=False)
    return seconds / ((time.perf_counter() - start) / 5)


def test_sixty_cuts(benchmark):
    pieces = instance(7, 60, 60, 30, 400, 0.4)
    plan = benchmark.pedantic(cut_tiles, args=("t", TILE, pieces, 0, 3.0), rounds=3)
    assert plan.proved
    benchmark.extra_info["times the plan without reuse"] = round(ratio(pieces, benchmark.stats.stats.min), 1)


def test_three_hundred_cuts_of_forty_sizes(benchmark):
    jobs = [instance(s, 300, 40, lo, hi, ends) for s, lo, hi, ends in INSTANCES]
    slowest = [0.0] * len(jobs)

    def run():
        plans = []
        for n, pieces in enumerate(jobs):
            start = time.perf_counter()
            plans.append(cut_tiles("t", TILE, pieces, 0, 3.0))
            slowest[n] = time.perf_counter() - start
        return plans

    plans = benchmark.pedantic(run, rounds=1)
    gaps = [p.tiles - p.lower_bound for p in plans]
    assert len(gaps) == 36
    assert gaps.count(0) >= 0.9 * len(gaps)
    assert max(gaps) <= 1
    benchmark.extra_info["proved"] = f"{gaps.count(0)} of {len(gaps)}"
    benchmark.extra_info["slowest, s"] = round(max(slowest), 2)
    worst = slowest.index(max(slowest))
    benchmark.extra_info["slowest, times the plan without reuse"] = round(ratio(jobs[worst], slowest[worst]), 1)
