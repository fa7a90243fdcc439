"""A layout written into the text of a job file: starts, joint, niches and sides moved; all else stays as it is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import tomlkit
from tomlkit.items import InlineTable, Item, Table

from elevation.job.models import Job
from elevation.patterns import At, ByDatum, ByWall, Start
from elevation.units import INCH, Unit, round_to

_SAME = 1e-5  # mm: finer than any reading, coarser than float noise


@dataclass(frozen=True, slots=True)
class Kept:
    """What was written, key by key, for the message to the user.

    Attributes:
        text: The new text of the job file.
        changed: Path of every key that changed, and its new value as TOML.
    """

    text: str
    changed: tuple[tuple[str, str], ...]


def keep(text: str, asked: Job, chosen: Job) -> Kept:
    """Return the job file with a chosen layout written in; comments and layout of the text stay.

    Args:
        text: The job file, as it stands.
        asked: The job that it says.
        chosen: The same job with starts, joint, niches and sides decided.
    """
    document = tomlkit.parse(text)
    changed: list[tuple[str, str]] = []
    if asked.joint != chosen.joint:
        _set(document, "joint", written_length(chosen.joint[0], chosen.units), "joint", changed)
    walls = document["wall"]
    for n, (before, after) in enumerate(zip(asked.wall, chosen.wall, strict=True)):
        table: Any = walls[n]
        path = f"wall {after.id}"
        if before.layout.start != after.layout.start:
            start = after.layout.start
            assert isinstance(start, Start)
            _set(table["layout"], "start", start_value(start, chosen.units), f"{path}: start", changed)
        _shape(table, before, after, chosen.units, path, changed)
        for k, (a, b) in enumerate(zip(before.niche, after.niche, strict=True)):
            niche = table["niche"][k]
            if b.layout is not None and (a.layout is None or a.layout.start != b.layout.start):
                _niche_layout(niche, b.layout, chosen.units, f"{path}, niche {b.id}", changed)
        for k, (c, d) in enumerate(zip(before.zone, after.zone, strict=True)):
            if c.layout.start != d.layout.start and isinstance(d.layout.start, Start):
                value = start_value(d.layout.start, chosen.units)
                _set(table["zone"][k]["layout"], "start", value, f"{path}, zone {d.id}: start", changed)
    return Kept(tomlkit.dumps(document), tuple(changed))


_LENGTHS = ("x", "y", "width", "height", "datum")
_LISTS = ("bay", "outline", "top", "down", "up", "left", "right")


def _shape(table: Any, before: Any, after: Any, unit: Unit, path: str, changed: list[tuple[str, str]]) -> None:
    """Write where a wall, and all that it carries, stands and how large it is, where that has changed."""
    for key in _LENGTHS:
        old, new = getattr(before, key, None), getattr(after, key, None)
        if new is not None and abs(old - new) > _SAME:
            _set(table, key, written_length(new, unit), f"{path}: {key}", changed)
    for key in _LISTS:
        old, new = getattr(before, key, None), getattr(after, key, None)
        if isinstance(new, list | tuple) and old != new:
            _set_list(table[key], old, new, unit)
            changed.append((f"{path}: {key}", table[key].as_string()))
    survey = getattr(before, "survey", None)
    if survey is not None:
        _shape(table["survey"], survey, after.survey, unit, f"{path}, survey", changed)
        if survey.diagonals is not None and after.survey.diagonals is None:
            del table["survey"]["diagonals"]
            changed.append((f"{path}, survey: diagonals", "taken out, they were measured to the old side"))
    edges = getattr(before, "edges", None)
    if isinstance(edges, dict):
        for side, edge in edges.items():
            if edge.move is not None and after.edges[side].move is None:
                _take_out(table["edges"], side, "move")
                changed.append((f"{path}, {side}: move", "taken out, it is settled"))
    for kind in ("niche", "opening", "fixture", "hole", "zone", "mark", "corner_shelf"):
        pairs = zip(getattr(before, kind, ()), getattr(after, kind, ()), strict=True)
        for k, (a, b) in enumerate(pairs):
            _shape(table[kind][k], a, b, unit, f"{path}, {kind} {b.id}", changed)


def _take_out(table: Any, name: str, key: str) -> None:
    """Take a key out of a table within a table; one in a line of its own is written anew, for its commas."""
    inner = table[name]
    if not isinstance(inner, InlineTable):
        del inner[key]
        return
    parts = ", ".join(f"{k} = {v.as_string()}" for k, v in inner.items() if k != key)
    anew = tomlkit.parse(f"t = {{ {parts} }}" if parts else "t = {}")["t"]
    assert isinstance(anew, Item)
    _put(table, name, anew)


def _set_list(array: Any, old: Any, new: Any, unit: Unit) -> None:
    """Put lengths into an array, or an array of arrays, where they differ; the rest of it stays as it is written."""
    for n, (a, b) in enumerate(zip(old, new, strict=True)):
        if isinstance(b, list | tuple):
            _set_list(array[n], a, b, unit)
        elif abs(a - b) > _SAME:
            array[n] = written_length(b, unit)


def _niche_layout(niche: Any, layout: Any, unit: Unit, path: str, changed: list[tuple[str, str]]) -> None:
    if not isinstance(layout.start, Start):
        return
    if "layout" not in niche:
        niche["layout"] = tomlkit.parse(f'layout = {{ pattern = "{layout.pattern}" }}')["layout"]
    _set(niche["layout"], "start", start_value(layout.start, unit), f"{path}: start", changed)


def _set(table: Any, key: str, value: Any, path: str, changed: list[tuple[str, str]]) -> None:
    """Put a value where the old one stood; the comment behind it stays."""
    new = value if isinstance(value, InlineTable) else tomlkit.item(value)
    old = table.get(key)
    if isinstance(old, Table) and isinstance(value, InlineTable):
        # written under a heading of its own, [wall.layout.start]: keep the heading
        for name, part in value.items():
            _put(old, name, part)
    else:
        _put(table, key, new)
    changed.append((path, new.as_string()))


def _put(table: Any, key: str, new: Item) -> None:
    """Put an item where the old one stood, with the old one's indent, comment and line end."""
    old = table.get(key)
    if isinstance(old, Item) and not isinstance(old, Table):
        new.trivia.indent, new.trivia.comment_ws = old.trivia.indent, old.trivia.comment_ws
        new.trivia.comment, new.trivia.trail = old.trivia.comment, old.trivia.trail
    table[key] = new


def start_value(start: Start, unit: Unit) -> InlineTable:
    """Return a start as a job file has it: ``{ x = "joint", y = { wall = "B" } }``."""
    text = f"{{ x = {_coordinate(start.x, unit)}, y = {_coordinate(start.y, unit)} }}"
    table = tomlkit.parse(f"start = {text}")["start"]
    assert isinstance(table, InlineTable)
    return table


def _coordinate(value: Any, unit: Unit) -> str:
    """Return a coordinate of a start as TOML."""
    match value:
        case At(on=on, at=at):
            return f'{{ on = "{on}", at = "{at}" }}'
        case ByDatum(datum=above):
            return f'{{ datum = "{written_length(above, unit)}" }}'
        case ByWall(wall=wall):
            return f'{{ wall = "{wall}" }}'
        case str():
            return f'"{value}"'
        case length:
            return f'"{written_length(float(length), unit)}"'


def written_length(mm: float, unit: Unit) -> str:
    """Return a length as a setter would write it if it is a fraction of an inch down to 1/64; else with decimals.

    What is read back differs by less than 0.00001 mm.
    """
    if unit == "in":
        for denominator in (1, 2, 4, 8, 16, 32, 64):
            exact = round_to(mm, INCH / denominator)
            if abs(float(exact) - mm) < _SAME / 2:
                return _mixed(exact / INCH)
        return _decimals(mm / float(INCH), 7)
    return _decimals(mm, 5)


def _mixed(inches: Fraction) -> str:
    sign, size = ("-" if inches < 0 else ""), abs(inches)
    whole, part = divmod(size, 1)
    words = [str(w) for w in (whole, part) if w]
    return sign + (" ".join(words) or "0")


def _decimals(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
