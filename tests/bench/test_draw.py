"""The whole of ``elevation draw``, in processes of its own: time against the bare imports, memory, size of the PDF."""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from pathlib import Path

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
IMPORTS = "import numpy, shapely, pydantic, click, cairocffi, pikepdf, fontTools.ttLib, highspy, tomllib"

BIG = """
title = "A lobby wall of 20,000 tiles, invented"
units = "mm"
joint = 2
sliver = 10
[tile.t]
name = "Small"
length = 48
width = 48
thickness = 6
sampled = 10
variation = 0.2
edge = "pressed"
box = 200
[[wall]]
id = "L"
title = "Lobby"
width = 10020
height = 5015
[wall.layout]
tile = "t"
pattern = "stacked"
start = { x = "left", y = "bottom" }
[[wall.opening]]
id = "d"
kind = "door"
x = 4000
y = 0
width = 900
height = 2100
"""


def seconds(*args):
    start = time.perf_counter()
    subprocess.run([sys.executable, *args], check=True, capture_output=True)
    return time.perf_counter() - start


def test_alcove(benchmark, tmp_path):
    imports = min(seconds("-c", IMPORTS) for _ in range(3))
    args = ["-m", "elevation", "draw", str(EXAMPLES / "tub-alcove.toml"), "-o", str(tmp_path / "set"), "-q"]
    benchmark.pedantic(seconds, args, rounds=5, warmup_rounds=1)
    took = benchmark.stats.stats.min
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    benchmark.extra_info.update(
        times_the_bare_imports=round(took / imports, 2), seconds=round(took, 2), peak_mb=round(peak)
    )
    assert took <= 2.5, "at most 2.5 s on two cores"
    assert took / imports <= 6, "at most 6 times the bare imports"
    assert peak < 300, "under 300 MB"


def test_20_000_tiles(benchmark, tmp_path):
    job = tmp_path / "lobby.toml"
    job.write_text(BIG)
    imports = min(seconds("-c", IMPORTS) for _ in range(2))
    benchmark.pedantic(seconds, ["-m", "elevation", "draw", str(job), "-q"], rounds=2, warmup_rounds=0)
    took = benchmark.stats.stats.min
    size = (tmp_path / "lobby" / "set.pdf").stat().st_size
    benchmark.extra_info.update(
        times_the_bare_imports=round(took / imports, 2), seconds=round(took, 2), pdf_kb=size // 1024
    )
    assert took < 8, "20,000 tiles in under 8 s"
    assert size < 1_000_000, "PDF under 1 MB"
