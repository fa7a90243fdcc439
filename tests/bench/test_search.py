"""How long the search takes: an alcove of three walls, and against clipping a grid of starts.

Run with ``python -m pytest tests/bench/test_search.py -s``. Times are of this machine, so what is asserted is a ratio,
and the alcove's time is printed beside the quarter of a second that it should keep to.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from elevation.layout.decide import best_of, search_room
from elevation.wall import build_faces
from tests.builders import job_of
from tests.layout.plainly import PROVED, clipped_terms

CORNER = {"meets": "corner", "joint": "1/8"}
TRIM = {"trim": "end"}
SOFT = ["1/8", "1/4"]


def alcove(
    scale: int = 1, *, pattern: str = "stacked", joint: Any = ("1/16", "1/8"), moves: bool = False
) -> dict[str, Any]:
    """Return an invented alcove: niche, window, tub, three walls left open; tiles ``scale`` times as small a side.

    Soft joints at the tub, floor and ceiling have ranges; ``moves``: the niche may move both ways as well.
    """

    def wall(name: str, width: str, height: str, datum: str, left: Any, right: Any, **more: Any) -> dict[str, Any]:
        low = {"meets": "tub" if name == "B" else "floor", "joint": SOFT}
        edges = {"left": left, "right": right, "bottom": low, "top": {"meets": "ceiling", "joint": SOFT}}
        layout = {"tile": "t", "pattern": pattern, "start": "choose"}
        return {"id": name, "title": f"Wall {name}", "width": width, "height": height, "datum": datum, "edges": edges,
                "layout": layout, **more}  # fmt: skip

    tub = {"id": "tub", "kind": "tub", "y": "0", "width": "30", "height": "14 3/4", "joint": "1/8"}
    trim = {s: {"trim": "end"} for s in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": "18 3/8", "y": "36", "width": "23 1/2", "height": "11 3/4", "depth": "3", "edges": trim}
    if moves:
        niche["move"] = {"x": ["-2", "2"], "y": ["-1", "1"]}
    window = {"id": "w", "kind": "window", "x": "9", "y": "48", "width": "14", "height": "20"}
    tile = {"name": "Invented", "length": 11.8125 / scale, "width": 2.9375 / scale, "thickness": "5/16", "sampled": 10,
            "variation": "1/32", "edge": "pressed", "box": 44}  # fmt: skip
    return {
        "title": "Bench", "units": "in", "joint": list(joint) if isinstance(joint, tuple) else joint,
        "sliver": 1 / scale, "tile": {"t": tile},
        "trim": {"end": {"kind": "profile", "face": "3/32", "joint": "1/16", "height": "7/16", "stock": "98"}},
        "wall": [
            wall("A", "34 1/2", "96", "36", TRIM, CORNER, fixture=[{**tub, "x": "4 1/2"}], opening=[window]),
            wall("B", "60 1/4", "81 1/4", "21 1/4", CORNER, CORNER, niche=[niche]),
            wall("C", "34 1/2", "96", "36", CORNER, TRIM, fixture=[{**tub, "x": "0"}]),
        ],
    }  # fmt: skip


def seconds(work: Callable[[], Any], times: int = 5) -> float:
    """Return the least processor time over a few runs, s."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def test_alcove_of_three_walls_with_niche_window_and_joint_range() -> None:
    """The time of one search of the whole room, at every open joint, printed; the aim is 0.25 s.

    Once with the niche where it is, once with all freedoms at the same time: joint, soft joints, and the niche free to
    move both ways. What is measured is the decision, from the job's faces to the start of every wall.
    """
    for pattern in ("stacked", "running-bond"):
        for moves in (False, True):
            job = job_of(alcove(pattern=pattern, moves=moves))
            faces = build_faces(job)
            found = search_room(job, faces)
            starts = sum(s.examined for f in found for s in f.searches)
            taken = seconds(lambda j=job, f=faces: best_of(search_room(j, f)).starts)
            free = "niche free to move" if moves else "niche fixed"
            print(f"{pattern}, {free}: {len(found)} joints, {starts} starts, {taken:.3f} s")


def test_a_thousand_times_faster_than_clipping_a_grid() -> None:
    """Against the 1/16 in grid of every wall, clipped and measured; extrapolated from a sample of 20 of its starts."""
    job = job_of(alcove(joint="1/16"))
    faces = build_faces(job)
    (found,) = search_room(job, faces)
    plots = found.searches[0].plots
    grid = 25.4 / 16
    sample = 20
    clipped = 0.0
    for plot in plots:
        pitch, rise = plot.lattice.a[0], plot.lattice.b[1]
        starts = [(k * 37 % int(pitch / grid) * grid, k * 11 % int(rise / grid) * grid) for k in range(sample)]
        one = seconds(lambda p=plot, s=starts: [clipped_terms(p, o).key(PROVED) for o in s], 1) / sample
        clipped += one * int(pitch / grid) * int(rise / grid)
    search = seconds(lambda: best_of(search_room(job, faces)).starts)
    print(f"grid, extrapolated: {clipped:.0f} s; search: {search:.4f} s; ratio {clipped / search:.0f}")
    assert clipped / search > 1000


def test_time_grows_with_edges_not_with_tiles() -> None:
    """The same walls with 1, 4 and 16 times the tiles: the search takes about the same time, not 16 times it."""
    times = []
    for scale in (1, 2, 4):
        job = job_of(alcove(scale, joint="1/16"))
        faces = build_faces(job)
        times.append(seconds(lambda j=job, f=faces: best_of(search_room(j, f)).starts))
    ratios = [t / times[0] for t in times]
    print("1, 4, 16 times the tiles:", ", ".join(f"{t:.4f} s (x{r:.2f})" for t, r in zip(times, ratios, strict=True)))
    assert ratios[2] < 3
