"""Jobs that are hard on a sheet."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from elevation.errors import Finding
from tests.builders import TILE, job_data, wall_data

EXAMPLES = Path(__file__).parents[2] / "examples"
LONG = ("A title that somebody typed in without a thought for the sheet, W. M. iiiiiii " + "WMW" * 60)[:200]


def example(name: str) -> dict[str, Any]:
    """Return the data of an example."""
    return tomllib.loads((EXAMPLES / f"{name}.toml").read_text())


def nasty(walls: int = 12) -> dict[str, Any]:
    """Return many walls, long words without a break, tiles not measured, a dozen revisions."""
    found = []
    for k in range(walls):
        pattern = ("stacked", "running-bond", "vertical-stack")[k % 3]
        layout = {"tile": "t" if k % 3 else "s", "pattern": pattern, "start": {"x": "tile", "y": "bottom"}}
        name = chr(65 + k) * (4 if k % 2 else 1)
        hole = {
            "id": "valveXYZ1234",
            "x": 301 + 11 * k,
            "y": 700 + 7 * k,
            "width": 68,
            "height": 101,
            "cover": [90, 120],
        }
        wall = wall_data(
            700 + 150 * k, 1350 + 60 * (k % 3), id=name, title=LONG[: 150 - k], layout=layout, hole=[hole]
        )
        if k % 4:
            wall["datum"] = 900
        found.append(wall)
    tiles = {
        "t": {**TILE, "name": LONG, "length": 597, "width": 297, "sampled": 0},
        "s": {**TILE, "name": "W" * 90, "length": 147, "width": 97},
        "u": {**TILE, "name": "Not used"},
    }
    revisions = [{"mark": str(k), "date": "2026-01-01", "note": LONG} for k in range(12)]
    people = dict.fromkeys(("number", "client", "address", "prepared_by"), "N" * 120)
    return job_data(*found, tile=tiles, title=LONG, revision=revisions, date="2026-05-04", **people)


def thirty_findings() -> list[Finding]:
    """Return findings of all levels with long texts."""
    levels = ("note", "advise", "stop")
    return [Finding(f"rule-{k}", levels[k % 3], f"B{k}-1", f"{k} " + LONG, "common practice") for k in range(30)]  # type: ignore[arg-type]


def crooked() -> dict[str, Any]:
    """Return a wall with tapers, L cuts, notches, holes and a pass-through inside one tile."""
    survey = {
        "down": [[0, 900], [1530, 913]], "up": [[0, 1230], [1530, 1217]], "left": [[-900, 0], [1200, 13]],
        "right": [[-900, 1530], [1200, 1521]],
    }  # fmt: skip
    soft = {s: {"meets": m, "joint": 3} for s, m in
            (("left", "corner"), ("right", "corner"), ("bottom", "tub"), ("top", "ceiling"))}  # fmt: skip
    layout = {"tile": "t", "pattern": "running-bond", "start": {"x": "joint", "y": "bottom"}}
    openings = [
        {"id": "w", "kind": "window", "x": 508, "y": 1270, "width": 559, "height": 508, "depth": 80},
        {"id": "p", "kind": "pass", "x": 127, "y": 508, "width": 76, "height": 102, "depth": 80},
    ]
    holes = [
        {"id": "v", "x": 800, "y": 700, "diameter": 120, "cover": 180},
        {"id": "o", "x": 1270, "y": 508, "width": 51, "height": 76, "cover": [70, 115]},
    ]
    wall = wall_data(survey=survey, edges=soft, layout=layout, opening=openings, hole=holes, datum=900)
    return job_data(wall, title="Out of level")
