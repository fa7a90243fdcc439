"""Sizes that cannot be meant: steps, joints, slivers, trims and gaps against tiles and walls."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.features import Edge
from elevation.job.cross.view import View, edges_of, rough_shape
from elevation.job.messages import Fault
from elevation.job.models import Wall

COARSEST = {"in": 12.7, "mm": 10.0}
"""The largest step that a sheet may round to, mm."""


def job_sizes(view: View) -> Iterator[Fault]:
    """Find a step, tape or kerf that no sheet or saw has, and joints and slivers larger than a tile."""
    job = view.job
    most = COARSEST[view.unit]
    if job.step > most + 1e-6:
        yield Fault(("step",), f"is too coarse to cut by; sheets round to {view.say(most)} at most")
    if job.tape > 2 * most + 1e-6:
        yield Fault(("tape",), f"is more than a tape is ever off; at most {view.say(2 * most)}")
    if job.kerf > most + 1e-6:
        yield Fault(("kerf",), f"is wider than a tile saw cuts; at most {view.say(most)}")
    used = {wall.layout.tile: tile for _, wall in view.walls() if (tile := view.tile_of(wall)) is not None}
    for name, tile in used.items():
        width = f'the width of tile "{name}", {view.say(tile.width)}'
        if job.sliver > tile.width:
            yield Fault(("sliver",), f"is more than {width}; no cut could pass")
        if job.joint[1] > tile.width:
            yield Fault(("joint",), f"is more than {width}")
    for at, wall in view.walls():
        for path, layout in view.layouts(at, wall):
            known = job.tile.get(layout.tile or wall.layout.tile or "")
            if known is not None and layout.joint is not None and layout.joint[1] > known.width:
                yield Fault((*path, "joint"), f"is more than the width of its tile, {view.say(known.width)}")


def tile_sizes(view: View) -> Iterator[Fault]:
    """Find tiles thicker or more uneven than they are long, and chips larger than their sheet."""
    for name, tile in view.job.tile.items():
        if tile.thickness > tile.length:
            text = f"is more than the tile's length, {view.say(tile.length)}; are the two swapped?"
            yield Fault(("tile", name, "thickness"), text)
        if tile.variation >= tile.width:
            yield Fault(
                ("tile", name, "variation"),
                f"is as much as the tile's width, {view.say(tile.width)}; write the largest of the samples minus "
                "the smallest",
            )
        if tile.chip is not None and (max(tile.chip) > tile.length + 1e-6 or min(tile.chip) > tile.width + 1e-6):
            text = f"is larger than the sheet, {view.say(tile.length)} x {view.say(tile.width)}"
            yield Fault(("tile", name, "chip"), text)


def trim_sizes(view: View) -> Iterator[Fault]:
    """Find trims larger than the walls they are used on."""
    sizes: dict[str, list[tuple[float, str]]] = {}
    for at, wall in view.walls():
        shape = rough_shape(wall)
        if shape is None:
            continue
        x0, y0, x1, y1 = shape.bounds
        for _, edge in edges_of(at, wall):
            if edge.trim is not None:
                sizes.setdefault(edge.trim, []).append((min(x1 - x0, y1 - y0), wall.id))
    for name, trim in view.job.trim.items():
        for key, value in (("face", trim.face), ("height", trim.height)):
            tight = [(size, wall) for size, wall in sizes.get(name, []) if value is not None and value >= size]
            if tight:
                size, wall_id = min(tight)
                text = f"is more than wall {wall_id} itself, {view.say(size)} across; a trim is a narrow strip"
                yield Fault(("trim", name, key), text)


def gaps_leave_room(view: View) -> Iterator[Fault]:
    """Find walls whose joints and trims, left and right or bottom and top, leave nothing for tile."""
    for at, wall in view.walls():
        if wall.outline is not None:
            continue
        shape = rough_shape(wall)
        if shape is None:
            continue
        x0, y0, x1, y1 = shape.bounds
        for one, other, size, word in (("left", "right", x1 - x0, "wide"), ("bottom", "top", y1 - y0, "high")):
            taken = _takes(view, wall, one) + _takes(view, wall, other)
            if taken >= size:
                yield Fault(
                    (*at, "edges"),
                    f"{one} and {other} take {view.say(taken)} of a wall {view.say(size)} {word}; "
                    "nothing is left for tile",
                )


def _takes(view: View, wall: Wall, side: str) -> float:
    """Return the least that joint and trim of a side take from the wall, mm."""
    edge = wall.edges.get(side, Edge())
    trim = view.job.trim.get(edge.trim or "")
    return (edge.joint[0] if edge.joint is not None else 0.0) + (trim.face + trim.joint if trim is not None else 0.0)
