"""A new job file from a few answers: plain questions, and a commented file that reads like a form."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from pydantic import TypeAdapter, ValidationError

from elevation.features import Text, WallId
from elevation.job.words import either, near
from elevation.units import Unit, parse_length

Kind = Literal["text", "length", "gap", "count", "choice", "wall"]


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask.

    Attributes:
        key: Name of the answer in what ``write_job`` takes.
        text: The question, in words.
        default: What an empty answer means.
        kind: What an answer must be: ``gap`` is a length that may be 0, ``wall`` a wall's id.
        choices: The words that may be answered, for a choice.
    """

    key: str
    text: str
    default: str
    kind: Kind = "text"
    choices: tuple[str, ...] = ()


UNITS = Question("units", "Inches or millimetres?", "in", "choice", ("in", "mm"))
"""The first question: all the others' defaults hang on it."""
WALLS = Question("walls", "How many walls?", "1", "count")
"""How many walls to ask for; not answered, there is one."""


def questions(units: Unit, walls: int = 1) -> tuple[Question, ...]:
    """Return every question but the first, in order: on the job, on its tile, and on each of its walls."""
    return (*_job_questions(units), *(q for number in range(1, walls + 1) for q in wall_questions(units, number)))


def _job_questions(units: Unit) -> tuple[Question, ...]:
    inch = units == "in"
    return (
        Question("title", "What is the job called?", "Guest bath"),
        Question("joint", "How wide is the grout joint?", "1/8" if inch else "2", "gap"),
        Question("sliver", "How narrow may a cut be?", "1" if inch else "25", "length"),
        Question("tile.name", "What is the tile called?", "Gloss white"),
        Question("tile.length", "How long is its long side, measured?", "11 13/16" if inch else "298", "length"),
        Question("tile.width", "How long is its short side, measured?", "5 7/8" if inch else "148", "length"),
        Question("tile.thickness", "How thick is it?", "5/16" if inch else "8", "length"),
        Question("tile.sampled", "How many tiles were measured? (0: none, the sizes are from the box)", "0", "count"),
        Question("tile.variation", "How much do they differ, longest minus shortest?", "0", "gap"),
        Question("tile.edge", "How was its edge made?", "pressed", "choice", ("pressed", "rectified", "natural")),
        Question("tile.box", "How many tiles are in a box?", "44", "count"),
    )


def wall_questions(units: Unit, number: int) -> tuple[Question, ...]:
    """Return the questions on wall ``number``, counted from 1, left to right round the room."""
    inch, at = units == "in", f"wall.{number}"
    meets = ("tub", "pan", "floor", "counter", "ceiling", "corner", "wall")
    return (
        Question(f"{at}.id", f"Wall {number}: its letter?", _letter(number), "wall"),
        Question(f"{at}.title", f"Wall {number}: what is it called?", f"Wall {_letter(number)}"),
        Question(f"{at}.width", f"Wall {number}: how wide?", "60" if inch else "1500", "length"),
        Question(f"{at}.height", f"Wall {number}: how high?", "84" if inch else "2100", "length"),
        Question(f"{at}.bottom", f"Wall {number}: what does the tile meet at the bottom?", "tub", "choice", meets),
        Question(f"{at}.top", f"Wall {number}: and at the top?", "ceiling", "choice", meets),
        Question(
            f"{at}.pattern", f"Wall {number}: how are the tiles laid?", "stacked", "choice",
            ("stacked", "running-bond", "vertical-stack"),
        ),
    )  # fmt: skip


def _letter(number: int) -> str:
    """Return A, B, ... Z, AA, AB, ... for 1, 2, ..."""
    letters = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


_READERS: dict[str, TypeAdapter[str]] = {"text": TypeAdapter(Text), "wall": TypeAdapter(WallId)}


def answer_fault(question: Question, answer: str, units: Unit) -> str:
    """Return what is wrong with an answer, or nothing; an empty answer stands for the default."""
    text = answer.strip()
    if not text:
        return ""
    if question.kind == "choice":
        return "" if text in question.choices else f"is not {either(question.choices)}{near(text, question.choices)}"
    if question.kind == "count":
        least = 0 if question.key == "tile.sampled" else 1
        good = re.fullmatch(r"[0-9]{1,6}", text) is not None and int(text) >= least
        return "" if good else f"is not a whole number, {least} or more"
    try:
        if question.kind in ("text", "wall"):
            _READERS[question.kind].validate_python(text)
            return ""
        value = parse_length(text, units)
    except ValidationError as error:
        return str(error.errors()[0]["ctx"]["error"])
    except ValueError as error:
        return str(error)
    if value < 0 or (value == 0 and question.kind == "length"):
        return "must be 0 or more" if question.kind == "gap" else "must be more than 0"
    return ""


def write_job(answers: Mapping[str, str]) -> str:
    """Return a commented job file; what is not answered takes the question's default.

    Args:
        answers: Text by the key of the question; ``units``, and ``walls`` if there is more than one, among them.

    Raises:
        ValueError: An answer is wrong; the message names its key.
    """
    units: Unit = "mm" if answers.get("units", "").strip() == "mm" else "in"
    said = _settled((UNITS, WALLS, *_job_questions(units)), answers, units)
    walls = [_settled(wall_questions(units, number), answers, units) for number in range(1, int(said["walls"]) + 1)]
    parts = [_HEAD.format(**_quoted(said, ""))]
    parts += [
        _WALL.format(number=number, **_quoted(wall, f"wall.{number}."), **_EDGES[units])
        for number, wall in enumerate(walls, 1)
    ]
    return _aligned("\n".join(parts) + _TAIL)


def _aligned(text: str) -> str:
    """Return the file with the remarks behind its values in one column."""
    lines = []
    for line in text.split("\n"):
        value, mark, remark = line.rpartition("  # ")
        lines.append(f"{value.rstrip():<{_REMARKS}}# {remark}" if mark and value.strip() else line)
    return "\n".join(lines)


_REMARKS = 28
"""Column at which remarks start."""


def _settled(asked: tuple[Question, ...], answers: Mapping[str, str], units: Unit) -> dict[str, str]:
    settled = {}
    for question in asked:
        answer = answers.get(question.key, "").strip() or question.default
        if fault := answer_fault(question, answer, units):
            raise ValueError(f"{question.key} {fault}")
        settled[question.key] = answer
    return settled


def _quoted(said: Mapping[str, str], prefix: str) -> dict[str, str]:
    """Return answers by a name that a template can hold, text in TOML quotes, counts as they are."""
    counts = ("tile.sampled", "tile.box", "walls")
    return {
        key.removeprefix(prefix).replace(".", "_"): text if key in counts else _basic(text)
        for key, text in said.items()
    }


def _basic(text: str) -> str:
    """Return text as a TOML string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


_EDGES = {
    "in": {"corner": '"1/8"', "range": '["1/8", "1/4"]'},
    "mm": {"corner": '"3"', "range": '["3", "6"]'},
}
_HEAD = """\
# A job file: what was read with the tape and the level, typed once. Lines that start with # are remarks.
# A length is text in quotes, "60 3/8" or "1524 mm"; without a unit it is in `units`.

title = {title}
units = {units}
joint = {joint}            # grout joint; a range, least and most in brackets, lets `elevation choose` pick
sliver = {sliver}          # no cut narrower than this

[tile.field]               # the tile; "field" is its id, more tiles get tables of their own
name = {tile_name}
length = {tile_length}     # measured, the long side
width = {tile_width}
thickness = {tile_thickness}
sampled = {tile_sampled}               # tiles measured; 0: the sizes are nominal, and the sheets say so
variation = {tile_variation}          # largest minus smallest of those
edge = {tile_edge}         # pressed, rectified or natural
box = {tile_box}                   # tiles a box

# [trim.end]               # take the # away where the tile ends in the open
# kind = "profile"         # profile, bullnose, liner or mitre
# face = "3 mm"            # what shows of it
# height = "10 mm"         # must take tile and bed
"""
_WALL = """\
# ---- wall {number} ----

[[wall]]
id = {id}
title = {title}
width = {width}
height = {height}
# datum = ...              # the level line above the lower left corner; ties the walls of a room together

[wall.edges]               # what the tile meets on each side, and the soft joint there; two lengths: from, to
left = {{ meets = "corner", joint = {corner} }}
right = {{ meets = "corner", joint = {corner} }}
bottom = {{ meets = {bottom}, joint = {range} }}
top = {{ meets = {top}, joint = {range} }}

[wall.layout]
tile = "field"
pattern = {pattern}
start = "choose"           # or across and up: {{ x = "joint", y = "bottom" }}
"""
_TAIL = """
# What the wall carries goes below it, each in a table of its own: [[wall.niche]], [[wall.opening]], [[wall.fixture]],
# [[wall.hole]], [[wall.zone]], [[wall.corner_shelf]], [[wall.mark]]. `elevation explain wall.niche` tells the keys.
"""
