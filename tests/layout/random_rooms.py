"""Random rooms in 1/32 in: niches, windows, L-shaped walls, legs beside a tub, bonds, trims, laps."""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import Any

STEP = Fraction(1, 32)


def inches(value: Fraction) -> str:
    """Return a length as a job file has it."""
    return f"{float(value):.5f}"


def between(rng: Random, low: float, high: float) -> Fraction:
    """Return a length between two, in thirty-seconds."""
    return rng.randint(int(low * 32), int(high * 32)) * STEP


TILES = [("11 13/16", "2 15/16"), ("12", "12"), ("7 7/8", "3 7/8"), ("23 5/8", "11 3/4"), ("5 7/8", "5 7/8")]
PATTERNS = [
    {"pattern": "stacked"},
    {"pattern": "running-bond", "shift": "1/2"},
    {"pattern": "running-bond", "shift": "1/3"},
    {"pattern": "vertical-stack"},
]


def feature(rng: Random, kind: str, width: float, height: float, floor: float) -> dict[str, Any]:
    """Return a niche or a window somewhere in the middle of a wall."""
    w, h = between(rng, 8, 16), between(rng, 8, 18)
    x = between(rng, 7, max(8, width - float(w) - 7))
    y = between(rng, floor + 7, max(floor + 8, height - float(h) - 7))
    made: dict[str, Any] = {"id": "f1", "x": inches(x), "y": inches(y), "width": inches(w), "height": inches(h)}
    if kind == "niche":
        made["depth"] = "3 1/2"
        if rng.random() < 0.6:
            made["edges"] = {s: {"trim": "end"} for s in ("sill", "head", "left", "right")}
    else:
        made["kind"] = "window"
        made["edges"] = {s: {"meets": "casing", "joint": "1/8"} for s in ("left", "right", "bottom", "top")}
    return made


def random_wall(rng: Random, name: str, role: str, ranges: bool) -> dict[str, Any]:
    """Return a wall; role: back (corners both ends), left or right (trimmed at the front, maybe with a tub)."""
    width, height = (between(rng, 34, 64), between(rng, 40, 84)) if role == "back" else (
        between(rng, 26, 40), between(rng, 50, 90),
    )  # fmt: skip
    corner: dict[str, Any] = {"meets": "corner", "joint": "1/8"}
    end: dict[str, Any] = {"trim": "end"}
    soft = rng.choice([["1/8", "1/4"], "1/8"]) if ranges else "1/8"
    edges: dict[str, Any] = {
        "left": end if role == "left" else corner,
        "right": end if role == "right" else corner,
        "bottom": {"meets": "tub" if role == "back" else "floor", "joint": soft},
        "top": {"meets": "ceiling", "joint": rng.choice([["1/8", "1/4"], "1/8"]) if ranges else "1/8"},
    }
    wall: dict[str, Any] = {
        "id": name, "title": f"Wall {name}", "width": inches(width), "height": inches(height),
        "datum": inches(between(rng, 18, 40)), "edges": edges,
    }  # fmt: skip
    floor = 0.0
    if role == "back" and rng.random() < 0.25:
        # an L: the upper right corner is missing, as under a sloping roof boxed in square
        a, b = between(rng, 10, 20), between(rng, 12, 20)
        corners = [(Fraction(0), Fraction(0)), (width, Fraction(0)), (width, height - b), (width - a, height - b),
                   (width - a, height), (Fraction(0), height)]  # fmt: skip
        wall["outline"] = [[inches(x), inches(y)] for x, y in corners]
        del wall["width"], wall["height"]
        names = [edges["bottom"], corner, edges["top"], corner, edges["top"], edges["left"]]
        wall["edges"] = {str(n): e for n, e in enumerate(names, 1)}
        width -= a
    elif role != "back" and rng.random() < 0.6:
        leg, floor = between(rng, 3, 6), 14.75
        x = leg if role == "left" else Fraction(0)
        wall["fixture"] = [{
            "id": "tub", "kind": "tub", "x": inches(x), "y": "0", "width": inches(width - leg), "height": "14 3/4",
            "joint": "1/8", "radius": "1 1/2",
        }]  # fmt: skip
    kind = rng.choice(["niche", "opening", ""])
    if kind:
        wall[kind] = [feature(rng, kind, float(width), float(height), floor)]
    if rng.random() < 0.3:
        wall["hole"] = [{"id": "v", "x": "4", "y": inches(Fraction(height) - 9), "diameter": "3"}]
    return wall


def random_room(seed: int, *, most_walls: int = 3, ranges: bool = True) -> dict[str, Any]:
    """Return the data of a job whose walls are all left to the search."""
    rng = Random(seed)
    length, width = rng.choice(TILES)
    pattern = rng.choice(PATTERNS)
    roles = {1: [("B", "back")], 2: [("A", "left"), ("B", "back")], 3: [("A", "left"), ("B", "back"), ("C", "right")]}
    walls = [random_wall(rng, n, r, ranges) for n, r in roles[rng.randint(1, most_walls)]]
    for wall in walls:
        wall["layout"] = {"tile": "t", **pattern, "start": "choose"}
    tile = {"name": "Test tile", "length": length, "width": width, "thickness": "5/16", "sampled": 10,
            "variation": "1/32", "edge": "pressed", "box": 20}  # fmt: skip
    data: dict[str, Any] = {
        "title": "Random room", "units": "in", "joint": rng.choice(["1/16", "1/8", "3/16"]), "sliver": "1",
        "tile": {"t": tile}, "wall": walls,
        "trim": {"end": {"kind": "profile", "face": "3/32", "joint": "1/16", "height": "7/16", "stock": "98"}},
    }  # fmt: skip
    if len(walls) > 1 and rng.random() < 0.5:
        data["room"] = {"first": ["B"]}
    return data


def crooked_room(seed: int, *, most_walls: int = 1) -> dict[str, Any]:
    """Return a random room whose rectangular walls are surveyed and out of level and plumb, by up to 3/4 in a side."""
    rng = Random(f"crooked {seed}")
    data = random_room(seed, most_walls=most_walls)
    for wall in data["wall"]:
        if "width" not in wall:
            continue
        width, height, datum = (Fraction(wall.pop(k)) for k in ("width", "height", "datum"))

        def off() -> Fraction:
            return rng.choice([0, 0, 2, 4, 8, 12, 24]) * rng.choice([-1, 1]) * STEP

        def line(low: Fraction, high: Fraction, at: Fraction) -> list[list[str]]:
            middle = [(low + (high - low) / 2, at + off())] if rng.random() < 0.3 else []
            return [[inches(s), inches(r)] for s, r in ((low, at + off()), *middle, (high, at + off()))]

        wall["survey"] = {
            "down": line(Fraction(0), width, datum), "up": line(Fraction(0), width, height - datum),
            "left": line(-datum, height - datum, Fraction(0)), "right": line(-datum, height - datum, width),
        }  # fmt: skip
        for edge in wall["edges"].values():
            if edge.get("meets") == "corner" and rng.random() < 0.4:
                edge["joint"] = ["1/8", "3/8"]
        for fixture in wall.get("fixture", []):
            left, reach = Fraction(fixture["x"]), Fraction(fixture["width"])
            # it stands on the floor, wherever that is
            fixture["y"], fixture["height"] = "-1", "15 3/4"
            fixture["top"] = line(left, left + reach, datum - Fraction(59, 4))
    return data
