"""No reason says what the numbers do not: every sentence is read back, and held against the terms it speaks of."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevation.job.models import TERMS
from elevation.layout import choice_findings, choose
from elevation.layout.choose import obvious
from elevation.layout.freedoms import freedoms
from elevation.layout.margin import in_words, margins
from elevation.layout.reasons import say, why
from elevation.layout.terms import HALF, Terms
from elevation.pieces import edge_runs, make_pieces
from elevation.pieces.measure import measure_pieces
from elevation.units import parse_length
from elevation.wall import build_faces
from tests.builders import job_data, job_of, wall_data
from tests.layout.random_rooms import crooked_room, random_room

LENGTH = r"(?:\d+ )?\d+(?:/\d+)?"
COUNTED = {
    "slivers": r"(\d+|no) edges? cut to a sliver",
    "asked": r"(\d+|no) edges? without the whole tile asked for|(whole) tiles wherever they are asked for",
    "under-half": r"(\d+|no) edges? cut under half a tile",
    "aligned": r"(\d+|no) edges? of niches and openings off the joints",
    "cuts": r"(\d+|no) pieces? to cut",
    "tiles": r"(\d+|no) tiles?",
}


def read_back(text, job):
    """Return the term that a clause speaks of, and what it says of it: least and most that the number may be."""
    for term, pattern in COUNTED.items():
        if match := re.fullmatch(pattern, text):
            word = match[1] or "no"
            count = 0 if word == "no" else int(word)
            return term, count, count
    if text == "ends in balance":
        return "balance", 0.0, 0.0005
    if match := re.fullmatch(rf"ends ({LENGTH}) (in|mm) out of balance", text):
        size = float(parse_length(match[1], job.units))
        return "balance", size - job.step / 2 - 1e-6, size + job.step / 2 + 1e-6
    if text == "no cut under half a tile that a start could change":
        return "narrowest", HALF, HALF
    if match := re.fullmatch(r"narrowest cut (\d+)% of a tile", text):
        share = int(match[1]) / 100
        return "narrowest", share - 0.005 - 1e-9, min(share + 0.005 + 1e-9, HALF)
    raise AssertionError(f"says what no term says: {text!r}")


def assert_says(text, terms, job):
    term, least, most = read_back(text, job)
    assert least <= terms.value(term) <= most, (text, terms)
    return term


@given(
    slivers=st.integers(0, 3), under=st.integers(0, 30), balance=st.floats(0, 300), narrowest=st.floats(0, 0.5),
    cuts=st.integers(0, 500),
)  # fmt: skip
def test_every_term_is_read_back(slivers, under, balance, narrowest, cuts):
    for units in ("in", "mm"):
        data = job_data(wall_data(width="40 in", height="30 in"), units=units, joint="3 mm", sliver="25 mm")
        data["tile"]["t"].update(length="300 mm", width="150 mm", thickness="8 mm", variation="1 mm")
        job = job_of(data)
        terms = Terms(slivers, slivers, under, balance, slivers, narrowest, cuts, cuts)
        for term in TERMS:
            assert assert_says(say(term, terms, job), terms, job) == term


def assert_why(text, better, other, job):
    """Read ``A, against B`` back: it names the first term that differs, and both numbers are true."""
    if text.startswith("equal in every term"):
        assert better.key(job.room.prefer) == pytest.approx(other.key(job.room.prefer), abs=1e-5)
        return
    one, two = text.split(", against ")
    term = assert_says(one, better, job)
    assert assert_says(two, other, job) == term
    before = job.room.prefer[: job.room.prefer.index(term)]
    assert better.key(before) == pytest.approx(other.key(before), abs=1e-5)
    assert better.key([term]) < other.key([term])


def assert_gain(text, freedom, job):
    """Read every ``A (was: B)`` of a freedom back; return what is left of the sentence."""
    parts = re.findall(r"([^:;]+) \(was: ([^()]+)\)", text)
    for one, two in parts:
        term = assert_says(one.strip(), freedom.terms, job)
        assert assert_says(two.strip(), freedom.without, job) == term
        assert freedom.terms.key([term]) < freedom.without.key([term])
    return len(parts)


def room_of(seed):
    """Return a random room, crooked or true, perhaps with a range of joints and a niche or a side that may move."""
    data = crooked_room(seed) if seed % 4 == 0 else random_room(seed, most_walls=2)
    if seed % 3 == 0:
        data["joint"] = ["1/16", "3/16"]
    for wall in data["wall"]:
        for niche in wall.get("niche", []):
            niche["move"] = {"x": ["-1", "1"], "y": ["-1/2", "1"]}
        for edge in wall["edges"].values():
            if edge.get("trim"):
                edge["move"] = ["-1/2", "1"]
    return data


@pytest.mark.parametrize("seed", range(12))
def test_whatever_is_said_of_a_room_is_true(seed):
    job = job_of(room_of(seed))
    choice = choose(job, build_faces(job))
    first = choice.candidates[0]
    for other in (*choice.candidates[1:], *obvious(choice)):
        if first.terms.key(job.room.prefer[:6]) <= other.terms.key(job.room.prefer[:6]):
            assert_why(why(first.terms, other.terms, job), first.terms, other.terms, job)
    for freedom in freedoms(choice):
        told = assert_gain(freedom.text, freedom, job)
        landed = "land" in freedom.text or "a whole tile" in freedom.text
        assert told or landed, freedom.text
        if freedom.taken:
            assert freedom.terms == first.terms
    for note in choice_findings(choice):
        if "start chosen" in note.text:
            (zone,) = [z for z in choice.zones if z.wall == note.where and z.zone == "field"]
            assert ("proved: by" in note.text) == zone.proved
            assert (zone.bound > 0) == any("out of true" in gap for gap in zone.gaps)
        if "cut to a sliver" in note.text:
            count = int(note.text.split()[0])
            wall, zone_id = note.where.split()
            assert count == next(z for z in choice.zones if (z.wall, z.zone) == (wall, zone_id)).chosen.slivers
    slack = margins(job, first)
    if match := re.search(rf"may stand ({LENGTH}) in ", in_words(job, slack)):
        assert float(parse_length(match[1], "in")) == pytest.approx(slack[0].least, abs=job.step / 2 + 1e-6)


@pytest.mark.parametrize(
    ("joint", "width", "said"),
    [
        # 4 whole and 5 joints are 47 9/16; (60 - 47 9/16) / 2 = 6 7/32: past a soft joint of 1/8 down to a sixteenth
        ("1/8", "60 1/4", "6 3/16 in at both corners"),
        # a soft joint of a sixteenth would lose itself to a sixteenth: such a cut is printed to half of that
        ("1/16", "60 1/8", "6 7/32 in at both corners"),
    ],
)
def test_the_ends_are_said_as_they_are_printed_on_the_cuts(joint, width, said):
    corner = {"meets": "corner", "joint": joint}
    bare = {"meets": "wall", "joint": 0}
    edges = {"left": corner, "right": corner, "bottom": bare, "top": bare}
    wall = wall_data(width=width, height="30", edges=edges)
    wall["layout"]["start"] = "choose"
    data = job_data(wall, units="in", joint="1/16", sliver="1")
    data["tile"]["t"].update(length="11 13/16", width="2 15/16", thickness="5/16", variation="1/64")
    job = job_of(data)
    first = choose(job, build_faces(job)).candidates[0]
    assert said in first.words
    zones = make_pieces(job, first.laid)
    measures = measure_pieces(job, first.laid, zones, edge_runs(first.laid))
    ends = {measures[p.id].width for z in zones for p in z.pieces if p.id in measures and p.shown[0] < 11 * 25.4}
    assert ends == {said.split(" in ")[0]}
