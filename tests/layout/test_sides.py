"""Sides in the open that may move: the place found against every other place, what is kept, what is said."""

from __future__ import annotations

import tomllib
from random import Random

import pytest

from elevation.job.keep import keep
from elevation.job.models import Job
from elevation.layout import choice_findings, choose
from elevation.layout.freedoms import freedoms
from elevation.layout.groups import room_groups
from elevation.layout.search import GroupSearch
from elevation.layout.sides import SideMove, wall_with
from elevation.pieces import make_pieces
from elevation.wall import build_faces
from tests.builders import job_data, job_of, wall_data
from tests.layout.plainly import PROVED

CORNER = {"meets": "corner", "joint": 3}
TRIMS = {"e": {"kind": "profile", "face": 2.5, "joint": 2}}


def open_wall(rng, side, move=None, **more):
    """Return a wall trimmed at one side, that side perhaps free to move, with a niche and perhaps a bond."""
    edges = {s: dict(CORNER) for s in ("left", "right", "bottom", "top")}
    edges[side] = {"trim": "e"}
    if rng.random() < 0.5 and side in ("left", "right"):
        edges["right" if side == "left" else "left"] = {"trim": "e", "full": False}
        edges[side]["full"] = False
    if move:
        edges[side]["move"] = move
    niche = {
        "id": "n1",
        "x": rng.randint(400, 700),
        "y": rng.randint(300, 500),
        "width": 300,
        "height": 300,
        "depth": 90,
    }
    wall = wall_data(width=rng.randint(1300, 1700), height=rng.randint(1000, 1300), edges=edges, niche=[niche], **more)
    pattern = rng.choice([{"pattern": "stacked"}, {"pattern": "running-bond", "shift": "1/2"}])
    wall["layout"] = {"tile": "t", **pattern, "start": "choose"}
    return wall


def key_of(data):
    job = job_of(data)
    (group,) = room_groups(job, build_faces(job))
    return GroupSearch(group.plots, PROVED).best().key


@pytest.mark.parametrize("side", ["left", "right", "bottom", "top"])
@pytest.mark.parametrize("seed", range(4))
def test_no_other_place_of_a_side_is_better(side, seed):
    free = job_data(open_wall(Random(seed), side, [-30, 40]), trim=TRIMS)
    best = key_of(free)
    choice = choose(job_of(free), build_faces(job_of(free)))
    assert choice.candidates[0].terms.key(PROVED) == pytest.approx(best, abs=1e-5)
    still = job_of(job_data(open_wall(Random(seed), side), trim=TRIMS))
    for by in range(-30, 41, 5):
        moved = still.model_copy(update={"wall": [wall_with(still.wall[0], {side: float(by)})[0]]})
        (group,) = room_groups(moved, build_faces(moved))
        other = GroupSearch(group.plots, PROVED).best().key
        assert best <= tuple(v + 1e-5 for v in other), by


@pytest.mark.parametrize("side", ["left", "right", "bottom", "top"])
def test_what_a_wall_carries_stays_where_it_is(side):
    """Against the level line and the plumb line nothing moves but the side, whatever corner is reckoned from."""
    survey = {"down": [[0, 600], [2000, 606]], "up": [[0, 600], [2000, 600]], "left": [[-600, 4], [600, 0]],
              "right": [[-600, 2000], [600, 1994]], "diagonals": [2330, 2330]}  # fmt: skip
    more = {
        "niche": [{"id": "n1", "x": 400, "y": 300, "width": 300, "height": 300, "depth": 90, "bay": [350, 750]}],
        "opening": [{"id": "w", "kind": "window", "outline": [[900, 500], [1200, 500], [1200, 800], [900, 790]]}],
        "fixture": [{"id": "b", "kind": "bench", "x": 1400, "y": 100, "width": 300, "height": 200,
                     "top": [[1400, 300], [1700, 302]]}],
        "hole": [{"id": "v", "x": 300, "y": 900, "diameter": 80}],
        "mark": [{"id": "m", "kind": "stud", "x": 800, "y": 50, "width": 40, "height": 900}],
    }  # fmt: skip
    for wall in (wall_data(survey=survey, **more), wall_data(datum=500, **more)):
        wall["layout"]["start"] = {"x": 310, "y": 70}
        job = job_of(job_data(wall))
        after, _ = wall_with(job.wall[0], {side: 12.0})
        moved = job.model_copy(update={"wall": [after]})
        (old, *_), (new, *_) = build_faces(job), build_faces(moved)
        plumb_old = old.datum[0] if "survey" in wall else (0.0 if side != "left" else -12.0)
        plumb_new = new.datum[0]

        def seen(face, plumb):
            cuts = [(x - plumb, y - face.datum[1]) for c in face.cutouts for x, y in c.shape.ring]
            start = face.zones[0].pattern.start
            return [*cuts, (start.x - plumb, start.y - face.datum[1])]

        assert len(seen(old, plumb_old)) > 30
        for a, b in zip(seen(old, plumb_old), seen(new, plumb_new), strict=True):
            assert a == pytest.approx(b, abs=1e-6)
        x0, y0, x1, y1 = (a - b for a, b in zip(new.bounds, old.bounds, strict=True))
        grown = {"left": x1 - x0, "right": x1 - x0, "bottom": y1 - y0, "top": y1 - y0}[side]
        assert grown == pytest.approx(12, abs=0.05)


TEXT = """\
# An invented wall beside a tub, for the tests of sides that move.
title = "Invented"
units = "in"
joint = "1/16"
sliver = "1"
[tile.t]
name = "White"
length = "11 13/16"
width = "5 7/8"
thickness = "5/16"
sampled = 10
variation = "1/32"
edge = "pressed"
box = 44
[trim.e]
kind = "profile"
face = "3/32"
height = "7/16"

[[wall]]
id = "A"
title = "Side wall"
width = "34 1/2"        # to the front
height = "61 1/4"
datum = "20"
[wall.edges]
left = { trim = "e", move = ["-1", "3"] }       # front
right = { meets = "corner" }
bottom = { meets = "floor" }
[wall.edges.top]        # a wainscot
trim = "e"
move = ["-3", "3"]      # as high as looks best
[wall.layout]
tile = "t"
pattern = "stacked"
start = "choose"
[[wall.fixture]]
id = "tub"
kind = "tub"
x = "4 1/2"  # from the front
y = "0"
width = "30"
height = "14 3/4"
joint = "1/8"
"""
ZONED = (
    TEXT.replace('move = ["-1", "3"] }       # front', "full = false }       # front")
    + """
[[wall.zone]]
id = "w"
x = "10"
y = "24"
width = "14"        # a panel
height = "20"
edges = { right = { trim = "e", move = ["-2", "2"] } }
layout = { tile = "s", pattern = "stacked", start = "choose" }
[tile.s]
name = "Small"
length = "3 7/8"
width = "3 7/8"
thickness = "5/16"
sampled = 10
variation = "1/32"
edge = "pressed"
box = 44
"""
)
SURVEYED = TEXT.replace(
    'width = "34 1/2"        # to the front\nheight = "61 1/4"\ndatum = "20"\n',
    """[wall.survey]
down = [["0", "20"], ["34 1/2", "20 1/8"]]   # floor
up = [["0", "41 1/4"], ["34 1/2", "41 1/8"]]
left = [["-20", "0"], ["41", "1/8"]]
right = [["-20", "34 1/2"], ["41", "34 1/2"]]
diagonals = ["70", "70 1/4"]
""",
)


def read(text):
    return Job.model_validate(tomllib.loads(text), context={"units": "in"})


@pytest.mark.parametrize("text", [TEXT, SURVEYED, ZONED], ids=["plain", "surveyed", "zone"])
def test_what_is_kept_is_what_was_offered(text):
    job = read(text)
    choice = choose(job, build_faces(job))
    offered = choice.candidates[0]
    assert any(abs(by) > 1 for by in offered.sides.values())
    kept = keep(text, job, offered.job)
    assert "move" not in kept.text.replace("that move", "")
    for comment in ("# front", "# from the front", "# a wainscot"):
        assert comment in kept.text
    again = read(kept.text)
    laid = choose(again, build_faces(again)).laid
    for a, b in zip(make_pieces(offered.job, offered.laid), make_pieces(again, laid), strict=True):
        assert [p.number for p in a.pieces] == [p.number for p in b.pieces]
        for p, q in zip(a.pieces, b.pieces, strict=True):
            assert p.area == pytest.approx(q.area, abs=0.05)
            assert p.width == pytest.approx(q.width, abs=1e-3)


def test_what_a_side_buys_is_said_and_noted():
    job = read(TEXT)
    choice = choose(job, build_faces(job))
    moved = {s.side: by for s, by in choice.sides.items() if abs(by) > 1e-6}
    used = [f for f in freedoms(choice) if f.taken and ("past the tub" in f.text or "top of the field" in f.text)]
    assert len(used) == len(moved) > 0
    for freedom in used:
        assert freedom.terms.key(job.room.prefer[:7]) < freedom.without.key(job.room.prefer[:7])
    notes = [f.text for f in choice_findings(choice) if f.where in ("A left", "A top")]
    assert len(notes) == 2
    assert sum("drawn with its side moved" in n for n in notes) == len(moved)


def test_a_side_that_is_better_where_it_is_stays():
    wall = wall_data(width=303 * 5 - 3, height=153 * 6 - 3)
    wall["edges"] = {**wall["edges"], "right": {"meets": "wall", "joint": 0, "move": [-200, 200]}}
    wall["layout"]["start"] = "choose"
    job = job_of(job_data(wall))
    choice = choose(job, build_faces(job))
    assert choice.sides == {SideMove("A", "", "right"): 0}
    assert choice.zones[0].proved
    assert [f.text for f in choice_findings(choice) if f.where == "A right"] == [
        "may move, and stands best where the job file has it"
    ]


def test_a_side_whose_start_is_given_stays_and_a_note_says_so():
    wall = wall_data()
    wall["edges"] = {**wall["edges"], "right": {"meets": "wall", "joint": 0, "move": [-50, 50]}}
    job = job_of(job_data(wall))
    choice = choose(job, build_faces(job))
    assert choice.sides == {}
    (note,) = choice_findings(choice)
    assert "stays" in note.text


def tied(x, side):
    """Return a back wall left open and a side wall tied to it, one end of which may move."""
    back = wall_data(id="B", width=1500, height=1000, datum=300)
    back["layout"]["start"] = "choose"
    edges = {"left": dict(CORNER), "right": dict(CORNER), "bottom": {"joint": 0}, "top": {"joint": 0}}
    edges[side] = {"meets": "wall", "joint": 0, "move": [-70, 70]}
    wall = wall_data(id="A", width=1000, height=1000, datum=300, edges=edges)
    wall["layout"]["start"] = {"x": x, "y": {"wall": "B"}}
    return job_of(job_data(wall, back))


@pytest.mark.parametrize(("x", "side"), [("left", "left"), ("right", "right"), ("left", "right"), ("right", "left")])
def test_a_side_moves_on_a_wall_whose_start_across_is_given(x, side):
    job = tied(x, side)
    choice = choose(job, build_faces(job))
    by = choice.sides[SideMove("A", "", side)]
    # 1000 less a joint of 3: three modules of 303 and 88 over. From a start at the side that moves, or at the other,
    # what is left at the far end is whole at 300: 212 more, or nothing: 91 less; half, 150, is 62 more
    left_over = 88 + by
    records = {r.edge: r.size for r in choice.candidates[0].zones["A", "field"].records}
    other = ({"left", "right"} - {x}).pop()
    assert records[x] is None
    assert records[other] == pytest.approx(left_over)
    assert by == pytest.approx(62)
    assert choice.candidates[0].job.wall_by_id("A").layout.start == job.wall_by_id("A").layout.start


def test_a_side_does_not_move_where_the_start_is_midway():
    job = tied("joint", "right")
    choice = choose(job, build_faces(job))
    assert choice.sides == {}


def zone_job(move):
    zone = {"id": "w", "x": 300, "y": 206, "width": 500, "height": 320, "layout": {"tile": "m", "pattern": "stacked"},
            "edges": {"top": {"trim": "e"}, "right": {"trim": "e"}}}  # fmt: skip
    if move:
        zone["edges"]["top"]["move"] = move
    wall = wall_data(width=1503, height=1000, zone=[zone])
    wall["layout"]["start"] = "choose"
    data = job_data(wall, trim=TRIMS)
    data["tile"]["m"] = {**data["tile"]["t"], "length": 97, "width": 97}
    return job_of(data)


def test_a_side_of_a_zone_is_tried_where_whole_tiles_end():
    job = zone_job([-40, 40])
    choice = choose(job, build_faces(job))
    before = choose(zone_job(None), build_faces(zone_job(None)))

    def key(found):
        terms = [z.chosen for z in found.zones]
        return sum(terms[1:], terms[0]).key(PROVED)

    assert key(choice) <= key(before)
    # 320 less a trim of 4.5 is 315.5; three tiles and their joints are 297, 18.5 less, three and a half 30 more
    for place in (-40.0, -18.5, 0.0, 30.0, 40.0):
        moved = job.model_copy(update={"wall": [with_top(job.wall[0], place)]})
        assert key(choice) <= key(choose(moved, build_faces(moved)))
    assert not next(z for z in choice.zones if z.zone == "field").proved
    assert any("zone w" in gap for z in choice.zones for gap in z.gaps)


def with_top(wall, by):
    zone = wall.zone[0]
    edges = {**zone.edges, "top": zone.edges["top"].model_copy(update={"move": None})}
    return wall.model_copy(update={"zone": [zone.model_copy(update={"height": zone.height + by, "edges": edges})]})
