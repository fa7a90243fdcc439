"""Choices that would read alike are told apart by what differs, held against the pieces themselves."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from elevation.layout import choose, told_apart
from elevation.pieces import make_pieces
from elevation.pipeline import read
from elevation.units import parse_length
from elevation.wall import build_faces
from tests.builders import TILE, job_data, job_of, wall_data

WAINSCOT = Path(__file__).parents[2] / "examples" / "bullnose-band.toml"


def room(**layout):
    edges = {side: {"meets": "corner", "joint": 3} for side in ("left", "right", "bottom", "top")}
    said = {"tile": "t", "pattern": "running-bond", "shift": "1/2", "start": "choose", **layout}
    return job_of(job_data(wall_data(1990, 1225, edges=edges, layout=said), tile={"t": TILE}))


def first_of_the_lowest(candidate, wall):
    """Return the width of the lower left piece of a wall, mm, from the pieces as they are cut."""
    zones = [z for z in make_pieces(candidate.job, candidate.laid) if z.face == wall]
    pieces = [p for z in zones for p in z.pieces]
    low = min(y for p in pieces for _, y in p.outer)
    lowest = [p for p in pieces if min(y for _, y in p.outer) < low + 0.1]
    first = min(lowest, key=lambda p: min(x for x, _ in p.outer))
    xs = [x for x, _ in first.outer]
    return max(xs) - min(xs)


@pytest.mark.parametrize("job", [read(WAINSCOT).job, room(), room(shift="1/3")], ids=["wainscot", "half", "third"])
def test_choices_that_read_alike_say_what_differs(job):
    candidates = choose(job, build_faces(job), most=5).candidates
    wall = job.wall[0].id
    apart = told_apart(candidates)
    said = [
        (c.zones[wall, "field"].words, more.get((wall, "field"), ()))
        for c, more in zip(candidates, apart, strict=True)
    ]
    words = [w for w, _ in said]
    for (plain, more), candidate in zip(said, candidates, strict=True):
        assert bool(more) <= (words.count(plain) > 1), "what reads differently already says no more"
        begins = [m[1] for text in more if (m := re.fullmatch(r"the lowest course begins with (.*)", text))]
        for size in begins:
            assert parse_length(size, job.units) == pytest.approx(first_of_the_lowest(candidate, wall), abs=job.step)
    assert len(set(said)) == len(said)


def test_the_first_two_of_the_wainscot_would_read_alike():
    job = read(WAINSCOT).job
    candidates = choose(job, build_faces(job)).candidates
    assert candidates[0].zones["M", "field"].words == candidates[1].zones["M", "field"].words
    # the shift is half a module of 6 in: a course begins with 2 5/8, the next one with 2 5/8 + 3
    assert [more["M", "field"] for more in told_apart(candidates)[:2]] == [
        ("the lowest course begins with 2 5/8 in",), ("the lowest course begins with 5 5/8 in",),
    ]  # fmt: skip
