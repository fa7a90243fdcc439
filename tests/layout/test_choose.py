"""What is offered: layouts that differ, in words that the numbers bear out, written into the job file and drawn."""

from __future__ import annotations

import re
import tomllib

import pytest

from elevation.geom import EPS
from elevation.job.keep import keep, written_length
from elevation.job.models import Job
from elevation.layout import choose
from elevation.layout.candidates import APART
from elevation.layout.choose import obvious
from elevation.layout.edges import settled
from elevation.layout.freedoms import freedoms
from elevation.layout.groups import lattice_of
from elevation.layout.margin import in_words, margins
from elevation.layout.reasons import say, why
from elevation.layout.spans import zone_outlines
from elevation.layout.terms import Terms
from elevation.pieces import make_pieces
from elevation.pieces.edge_cuts import measured_edge_cuts
from elevation.units import parse_length
from elevation.wall import build_faces
from tests.builders import job_data, job_of, laid_out, wall_data
from tests.layout.random_rooms import random_room

EXAMPLE = """\
# An invented alcove, for the tests of what is kept.
title = "Invented"
units = "in"
joint = "1/16"                   # grout joint
sliver = "1"
[room]
first = ["B"]   # the back wall
[tile.field]
name = "White"
length = "11 13/16"
width = "2 15/16"
thickness = "5/16"
sampled = 10
variation = "1/32"
edge = "pressed"
box = 44
[trim.end]
kind = "profile"
face = "3/32"
height = "7/16"

[[wall]]
id = "A"
title = "Left wall"
width = "34 1/2"
height = "96"
datum = "36"
edges = { left = { trim = "end" }, right = { meets = "corner" }, bottom = { meets = "floor" } }
[wall.layout]
tile = "field"
pattern = "stacked"
start = { x = "left", y = { wall = "B" } }     # carried round

[[wall]]
id = "B"
title = "Back wall"
width = "60 1/4"
height = "81 1/4"
datum = "21 1/4"
edges = { left = { meets = "corner" }, right = { meets = "corner" }, top = { joint = ["1/8", "1/4"] } }
[wall.layout]
tile = "field"
pattern = "stacked"
start = "choose"   # to be found
[[wall.niche]]
id = "n1"
x = "18 3/8"
y = "36 7/32"
width = "23 1/2"
height = "11 3/4"
depth = "3 1/2"
edges = { sill = { trim = "end" }, head = { trim = "end" }, left = { trim = "end" }, right = { trim = "end" } }
"""


def choice_of(data):
    job = job_of(data)
    return choose(job, build_faces(job))


@pytest.mark.parametrize("seed", range(0, 24, 3))
def test_candidates_are_in_order_and_really_differ(seed):
    choice = choice_of(random_room(seed))
    keys = [c.terms.key(choice.asked.room.prefer[:6]) for c in choice.candidates]
    assert keys == sorted(keys)
    assert [c.number for c in choice.candidates] == list(range(1, len(keys) + 1))
    for n, one in enumerate(choice.candidates):
        for other in choice.candidates[:n]:
            apart = []
            for a, b in zip(one.laid, other.laid, strict=True):
                pitch, rise = a.zones[0].lattice.a[0], a.zones[0].lattice.b[1]
                for axis, module in ((0, pitch), (1, rise)):
                    d = a.zones[0].origin[axis] - b.zones[0].origin[axis]
                    apart.append(abs((d + module / 2) % module - module / 2) / module)
            assert max(apart) >= APART - 1e-6 or one.joint != other.joint


@pytest.mark.parametrize("seed", range(0, 40, 5))
def test_the_obvious_starts_are_never_better(seed):
    choice = choice_of(random_room(seed))
    for usual in obvious(choice):
        order = choice.asked.room.prefer[:6]
        assert choice.candidates[0].terms.key(order) <= usual.terms.key(order)


LENGTH = r"(?P<size>(?:\d+ )?\d+(?:/\d+)?) in"


def measured(candidate, face_id):
    """Return the edge cuts of a wall by name, from clipped polygons."""
    face = next(f for f in candidate.faces if f.id == face_id)
    laid = next(f for f in candidate.laid if f.face.id == face_id)
    lattice = lattice_of(candidate.job, face.zones[0])
    edges = settled(face, lattice, laid.zones[0].origin)
    outline = zone_outlines(face, edges, [z.joint[0] for z in face.zones])[0]
    sizes = {}
    for record in measured_edge_cuts(outline, lattice, laid.zones[0].origin):
        sizes.setdefault((record.edge, record.direction), []).append(record.size)
    return sizes, laid


@pytest.mark.parametrize("seed", range(30))
def test_words_say_what_the_pieces_are(seed):
    """Every length, every whole tile and every joint that a reason names is found again on the clipped pieces."""
    choice = choice_of(random_room(seed))
    step = choice.asked.step

    def printed_as(size, named):
        # a cut along an edge is printed rounded down, never up: a soft joint must not close
        return size is not None and -EPS <= size - named < step

    for candidate in choice.candidates[:2]:
        for face_id in candidate.open:
            sizes, laid = measured(candidate, face_id)
            every = [s for found in sizes.values() for s in found if s is not None]
            words = candidate.zones[face_id, "field"].words
            for phrase in words:
                if match := re.match(LENGTH, phrase):
                    named = float(parse_length(match["size"], "in"))
                    assert any(printed_as(s, named) for s in every), phrase
                    if "under" in phrase or "at the top" in phrase:
                        top = [s for (_, d), found in sizes.items() if d == "top" for s in found]
                        assert any(printed_as(s, named) for s in top)
                elif phrase.startswith("whole tiles at the left"):
                    assert None in sizes["left", "left"]
                elif phrase.startswith("whole tiles"):
                    assert any(all(s is None for s in found) for found in sizes.values())
                elif phrase.startswith("a joint on"):
                    middle = sum(laid.zones[0].region.bounds[0::2]) / 2
                    assert beside(laid, middle) == pytest.approx(laid.zones[0].joint / 2, abs=1e-3)
                elif phrase.startswith("a tile on"):
                    middle = sum(laid.zones[0].region.bounds[0::2]) / 2
                    width = laid.zones[0].lattice.motif[0].ring[2][0]
                    assert beside(laid, middle) == pytest.approx(laid.zones[0].lattice.a[0] - width / 2, abs=1e-3)
                else:
                    name = re.search(r"of \w+ (\w+) on (a joint|joints)", phrase)
                    assert name, phrase
                    sides = re.split(r", | and ", phrase[: phrase.index(" of ")])
                    for side in sides:
                        found = [s for (e, _), got in sizes.items() if e == f"{name[1]} {side}" for s in got]
                        assert found
                        assert all(s is None for s in found)


def beside(laid, x):
    """Return how far the next slot to the right of a place begins."""
    pitch = laid.zones[0].lattice.a[0]
    return (laid.zones[0].origin[0] - x) % pitch


def test_words_of_a_plain_wall():
    # facts/trade.md 2.4, case E: 60 in, tile 6, joint 1/8, gaps 1/8 -> 8 whole and 5 5/16 in at both ends
    corner, ceiling = {"meets": "corner", "joint": "1/8"}, {"meets": "ceiling", "joint": "1/8"}
    edges = {"left": corner, "right": corner, "bottom": {"meets": "tub", "joint": "1/8"}, "top": ceiling}
    wall = wall_data(width="60", height="80 1/4", edges=edges)
    wall["layout"]["start"] = "choose"
    data = job_data(wall, units="in", joint="1/8", sliver="1")
    data["tile"]["t"].update(length=6, width=6, thickness="5/16", variation="1/32")
    first = choice_of(data).candidates[0]
    assert first.words.startswith("a joint on the centre line; 5 5/16 in at both corners; ")
    # 13 courses are 79 1/2; 1/2 more than that stands between tub and ceiling: two cuts of 3 1/4 or more
    low, high = (float(parse_length(m, "in")) for m in re.findall(r"([\d /]+) in (?:above|under)", first.words))
    assert low + high == pytest.approx((80.25 - 0.25 - 12 * 6.125 - 0.125) * 25.4)
    assert "above the tub" in first.words
    assert "under the ceiling" in first.words


@pytest.mark.parametrize(
    ("term", "terms", "words"),
    [
        ("slivers", Terms(slivers=0), "no edge cut to a sliver"),
        ("slivers", Terms(slivers=1), "1 edge cut to a sliver"),
        ("slivers", Terms(slivers=2), "2 edges cut to a sliver"),
        ("asked", Terms(asked=0), "whole tiles wherever they are asked for"),
        ("balance", Terms(balance=0), "ends in balance"),
        ("balance", Terms(balance=12), "ends 12 mm out of balance"),
        ("narrowest", Terms(narrowest=0.25), "narrowest cut 25% of a tile"),
        ("cuts", Terms(cuts=7), "7 pieces to cut"),
    ],
)
def test_terms_in_words(term, terms, words):
    assert say(term, terms, job_of(job_data(wall_data()))) == words


def test_why_names_the_first_term_that_differs():
    job = job_of(job_data(wall_data()))
    a, b = Terms(slivers=0, balance=9.0), Terms(slivers=2, balance=0.0)
    assert why(a, b, job) == "no edge cut to a sliver, against 2 edges cut to a sliver"
    assert "equal in every term" in why(a, a, job)


def text_of(text):
    return Job.model_validate(tomllib.loads(text), context={"units": "in"})


@pytest.mark.parametrize("number", [0, 1, 2])
def test_what_is_kept_is_what_was_offered(number):
    text = EXAMPLE
    job = text_of(text)
    choice = choose(job, build_faces(job))
    kept = keep(text, job, choice.candidates[number].job)
    again = text_of(kept.text)
    laid = choose(again, build_faces(again)).laid
    offered = make_pieces(choice.candidates[number].job, choice.candidates[number].laid)
    for a, b in zip(offered, make_pieces(again, laid), strict=True):
        assert [p.id for p in a.pieces] == [p.id for p in b.pieces]
        assert [p.number for p in a.pieces] == [p.number for p in b.pieces]
        for p, q in zip(a.pieces, b.pieces, strict=True):
            assert p.area == pytest.approx(q.area, abs=0.01)


def test_keeping_touches_nothing_else():
    text = EXAMPLE.replace("\n", "\r\n") + "# the end, without a line end"
    job = text_of(text)
    kept = keep(text, job, choose(job, build_faces(job)).job)
    before, after = text.split("\r\n"), kept.text.split("\r\n")
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert len(changed) == 1
    assert changed[0][0] == 'start = "choose"   # to be found'
    assert re.fullmatch(r"start = \{ x = .*, y = .* \}   # to be found", changed[0][1])
    assert [key for key, _ in kept.changed] == ["wall B: start"]


def test_joint_and_niche_are_kept_too():
    text = EXAMPLE.replace('joint = "1/16"', 'joint = ["1/16", "1/8"]', 1)
    text = text.replace('y = "36 7/32"', 'y = "35 1/2"  # not framed').replace(
        'depth = "3 1/2"', 'depth = "3 1/2"\nmove = { y = ["-1", "1"] }'
    )
    job = text_of(text)
    choice = choose(job, build_faces(job))
    kept = keep(text, job, choice.job)
    again = text_of(kept.text)
    assert again.joint[0] == again.joint[1] == pytest.approx(choice.job.joint[0], abs=1e-5)
    moved = choice.niches_moved()["B n1"]
    assert again.wall_by_id("B").niche[0].y == pytest.approx(job.wall_by_id("B").niche[0].y + moved[1], abs=1e-5)
    assert "# not framed" in kept.text
    (freedom,) = [f for f in freedoms(choice) if "niche" in f.text and "n1" in f.text]
    assert freedom.taken
    assert ("raise" in freedom.text) == (moved[1] > 0)
    assert freedom.terms.key(job.room.prefer) < freedom.without.key(job.room.prefer)


def test_a_start_under_its_own_heading_is_kept_there():
    text = EXAMPLE.replace(
        'start = "choose"   # to be found', '[wall.layout.start]   # own heading\nx = "left"\ny = "bottom"', 1
    )
    job = text_of(text)
    start = job.wall_by_id("B").layout.start.model_copy(update={"x": "tile"})
    walls = [
        w.model_copy(update={"layout": w.layout.model_copy(update={"start": start})}) if w.id == "B" else w
        for w in job.wall
    ]
    kept = keep(text, job, job.model_copy(update={"wall": walls}))
    assert "[wall.layout.start]   # own heading" in kept.text
    assert text_of(kept.text).wall_by_id("B").layout.start == start


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [(25.4, "in", "1"), (25.4 * 12.390625, "in", "12 25/64"), (-25.4 * 33.125, "in", "-33 1/8"), (0, "in", "0"),
     (25.4 / 3, "in", "0.3333333"), (152.4, "mm", "152.4"), (100 / 3, "mm", "33.33333")],
)  # fmt: skip
def test_lengths_are_written_as_a_setter_would(mm, unit, text):
    assert written_length(mm, unit) == text
    assert float(parse_length(text, unit)) == pytest.approx(mm, abs=1e-5)


def test_the_margin_of_a_plain_wall():
    wall = wall_data(width=1000, height=303)
    wall["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall))
    found = {m.edge: m for m in margins(choice.asked, choice.candidates[0])}
    # an end cut to 195.5 may lose 170.5 before it is a sliver of 25, or grow past whole tile and joint
    sizes = {r.edge: r.size for r in choice.candidates[0].zones["A", "field"].records}
    assert sizes["left"] == pytest.approx((1000 - 2 * 300 - 3 * 3) / 2)
    assert found["left"].inward == pytest.approx(sizes["left"] - 25)
    assert found["left"].outward == pytest.approx(300 - sizes["left"] + 3)
    assert "no other reading has less room" in in_words(choice.asked, margins(choice.asked, choice.candidates[0]))


@pytest.mark.parametrize("edge", ["right", "top"])
def test_a_margin_is_where_a_sliver_appears(edge):
    wall = wall_data(width=1010, height=400)
    wall["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall))
    (margin,) = [m for m in margins(choice.asked, choice.candidates[0]) if m.edge == edge]
    kept = choice.laid[0].zones[0].origin

    def slivers(change):
        moved = dict(wall)
        moved["width" if edge == "right" else "height"] += change
        moved["layout"] = {**wall["layout"], "start": {"x": kept[0], "y": kept[1]}}
        _, (face,) = laid_out(job_data(moved))
        pieces = make_pieces(job_of(job_data(moved)), (face,))[0].pieces
        return sum(min(p.width, p.height) < 25 - 1e-6 for p in pieces)

    assert slivers(0) == 0
    assert slivers(-margin.inward + 0.2) == slivers(margin.outward - 0.2) == 0
    assert slivers(-margin.inward - 0.2) > 0
    assert slivers(margin.outward + 0.2) > 0


def test_a_freedom_that_is_offered():
    # whole tiles from the trimmed end leave 50 at the corner; without those 50 and a joint no tile is cut
    trims = {"e": {"kind": "profile", "face": 2.5, "joint": 2}}
    bare = {"joint": 0}
    edges = {"left": {"meets": "corner", "joint": 3}, "right": {"trim": "e"}, "bottom": bare, "top": bare}
    wall = wall_data(width=3 + 50 + 3 + 2 * 303 - 3 + 4.5, height=303, edges=edges)
    wall["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall, trim=trims))
    offered = [f for f in freedoms(choice) if not f.taken]
    assert offered
    assert "53 mm less width" in offered[0].text
    assert offered[0].terms.cuts == 0
    assert choice.candidates[0].terms.cuts > 0


def test_the_fewest_tiles_decide_among_layouts_that_tie():
    wall = wall_data(width=1000, height=700)
    wall["layout"]["start"] = "choose"
    job = job_of(job_data(wall, room={"prefer": ["slivers", "tiles"]}))
    counted = []

    def count(decided):
        counted.append(decided)
        return {("A", "field"): (1, 100 - len(counted))}

    plain = choose(job, build_faces(job))
    choice = choose(job, build_faces(job), count=count)
    assert len(counted) > 1
    # the last that was counted takes the fewest
    assert choice.job.wall == counted[-1].wall
    assert choice.job.wall != plain.job.wall
    assert [c.number for c in choice.candidates] == list(range(1, len(choice.candidates) + 1))
    assert choice.candidates[0].terms.tiles == 100 - len(counted)


def test_a_joint_that_opens_at_a_tub_is_told():
    """Above the rim of a tub that stands in front of the wall the joint opens so that whole tiles end at it."""
    bare = {"joint": 0}
    edges = {"left": {"meets": "corner", "joint": 3}, "right": {"meets": "corner", "joint": 3}, "bottom": bare,
             "top": bare}  # fmt: skip
    # four courses, 609, and 11 more above a rim at 400: a joint of 3 leaves a cut of 5, or more, at one end; one of 8
    # leaves 3 beyond whole tiles, the width of a grout joint
    tub = {"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 900, "height": 400, "joint": [3, 8]}
    wall = wall_data(width=1000, height=400 + 11 + 4 * 153 - 3, edges=edges, fixture=[tub])
    wall["layout"]["start"] = {"x": "left", "y": {"wall": "B"}}
    wall["datum"] = 0
    other = wall_data(id="B", width=909, height=400 + 11 + 4 * 153 - 3, datum=0, edges={**edges, "left": bare})
    other["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall, other))
    (told,) = [f for f in freedoms(choice) if "tub" in f.text]
    assert told.taken
    assert "wall A: the joint at the top of tub tub opened from 3 mm to 8 mm: " in told.text
    assert told.terms.key(choice.asked.room.prefer[:7]) < told.without.key(choice.asked.room.prefer[:7])


def test_an_edge_that_just_ends_in_a_joint_has_no_margin_and_is_no_sliver():
    # the window's left stands on the far side of a joint: 303 is the start of a tile
    window = {"id": "w", "kind": "window", "x": 303, "y": 153, "width": 300, "height": 150,
              "edges": {s: {"joint": 0} for s in ("left", "right", "bottom", "top")}}  # fmt: skip
    wall = wall_data(width=1512 - 3, height=612 - 3, opening=[window])
    wall["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall))
    assert choice.candidates[0].terms.slivers == 0
    found = margins(choice.asked, choice.candidates[0])
    assert found[0].least == pytest.approx(0, abs=1e-6)
    assert max(found[0].inward, found[0].outward) > 25
    words = in_words(choice.asked, found)
    assert "any further" in words
    assert "as it is" not in words


def test_a_rake_is_no_end_of_a_wall():
    outline = [[0, 0], [2000, 0], [2000, 800], [1500, 1500], [0, 1500]]
    wall = wall_data(outline=outline)
    wall["layout"]["start"] = "choose"
    choice = choice_of(job_data(wall))
    judged = choice.candidates[0].zones["A", "field"]
    assert judged.rules.right == {"2"}
    assert judged.rules.left == {"5"}
    assert "out of true, or sloping: side 3 of A" in choice.zones[0].gaps
