"""Tiling a big wall: against clipping every tile, and against building as many boxes. Ratios in one process."""

from __future__ import annotations

import time

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, box

from elevation.patterns import RunningBond
from elevation.pieces.tiling import tile_region

LATTICE = RunningBond(pattern="running-bond", shift=0.5).lattice(50.0, 25.0, 2.0)


def wall(columns, rows):
    width, height = 52.0 * columns, 27.0 * rows
    region = box(3, 3, width - 3, height - 3).difference(box(width * 0.3, height * 0.3, width * 0.45, height * 0.6))
    for n in range(4):
        region = region.difference(Point(width * (0.1 + 0.2 * n), height * 0.15).buffer(60))
    return region


def slots(region):
    _, _, x1, y1 = region.bounds
    return [
        (i * 52.0 + j * 26.0, j * 27.0)
        for j in range(-1, int(y1 / 27) + 2)
        for i in range(-1 - j // 2 - 1, int(x1 / 52) + 1 - j // 2 + 1)
    ]


def clip_every_tile(region, at):
    found = []
    for x, y in at:
        left = region.intersection(box(x, y, x + 50, y + 25))
        if not left.is_empty:
            found.append(left)
    return found


def best(action, times):
    took = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        took.append(time.perf_counter() - start)
    return min(took)


def test_450_000_slots(benchmark):
    region = wall(750, 600)
    at = slots(region)
    sample = at[:: len(at) // 4000]
    naive = best(lambda: clip_every_tile(region, sample), 1) * len(at) / len(sample)
    xy = np.array(at)
    boxes = best(lambda: shapely.box(xy[:, 0], xy[:, 1], xy[:, 0] + 50, xy[:, 1] + 25), 3)
    tiling = benchmark.pedantic(tile_region, (LATTICE, (0.0, 0.0), region), rounds=5, warmup_rounds=1)
    took = benchmark.stats.stats.min
    benchmark.extra_info.update(
        slots=len(tiling.whole) + len(tiling.cut),
        times_faster_than_clipping=round(naive / took),
        of_boxes=round(took / boxes, 2),
    )
    assert naive / took >= 40, "at least 40 times faster than clipping every tile (extrapolated from a sample)"
    assert took / boxes <= 1.5, "at most 1.5 times the cost of building that many boxes"


@pytest.mark.parametrize("size", [(4, 4), (8, 12), (20, 30)])
def test_small_walls(benchmark, size):
    region = box(3, 3, 52.0 * size[0] + 10, 27.0 * size[1] + 10).difference(Point(90, 60).buffer(30))
    at = slots(region)
    naive = best(lambda: clip_every_tile(region, at), 7)
    benchmark.pedantic(tile_region, (LATTICE, (0.0, 0.0), region), rounds=50, warmup_rounds=3)
    took = benchmark.stats.stats.min
    benchmark.extra_info.update(slots=len(at), times_faster_than_clipping=round(naive / took, 1))
    assert took <= naive, "never slower than clipping every tile"
