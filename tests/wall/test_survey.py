"""Readings become walls: rectangles, mirrors, shifted laser lines, slips."""

from __future__ import annotations

import copy
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from elevation.errors import JobError
from elevation.job.load import read_job
from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.pieces.measure import measure_pieces
from elevation.pieces.runs import edge_runs
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, pieces_of, wall_data

CORNERS = {s: {"meets": "corner", "joint": 4} for s in ("left", "right")}
ENDS = {"bottom": {"meets": "tub", "joint": [3, 6]}, "top": {"meets": "ceiling", "joint": [3, 9]}}


def off(most=8):
    return st.integers(-most * 4, most * 4).map(lambda n: n / 4)


@st.composite
def survey(draw, datum=(0.0, 0.0)):
    """Return readings of a wall about 1500 wide and 1300 high, crooked by some millimetres."""
    x, y = datum
    stations = draw(st.sampled_from([(0.0, 1500.0), (0.0, 700.0, 1500.0)]))
    return {
        "down": [[s - x, 600 + y + draw(off())] for s in stations],
        "up": [[s - x, 700 - y + draw(off())] for s in (0.0, 1500.0)],
        "left": [[-600 - y, -x + draw(off())], [700 - y, -x + draw(off())]],
        "right": [[h - y, 1500 - x + draw(off())] for h in (-600, 0, 700)],
    }  # fmt: skip


def surveyed(readings, **layout):
    start = {"x": "joint", "y": "bottom"}
    table = {"tile": "t", "pattern": "stacked", "start": start, **layout}
    return job_data(wall_data(survey=readings, edges={**CORNERS, **ENDS}, layout=table))


def shifted(readings, dx, dy):
    """Return the readings as taken from other laser lines, further right by dx and higher by dy."""
    return {
        "down": [[s - dx, r + dy] for s, r in readings["down"]],
        "up": [[s - dx, r - dy] for s, r in readings["up"]],
        "left": [[s - dy, r - dx] for s, r in readings["left"]],
        "right": [[s - dy, r - dx] for s, r in readings["right"]],
    }


def mirrored(readings):
    flip = {name: [[-s, r] for s, r in reversed(readings[name])] for name in ("down", "up")}
    flip["left"] = [[s, -r] for s, r in readings["right"]]
    flip["right"] = [[s, -r] for s, r in readings["left"]]
    return flip


def outlines(data):
    """Return the number, kind and outline of every piece."""
    return [(p.number, p.kind, p.outer) for z in pieces_of(data) for p in z.pieces]


def close(one, two):
    """Compare rings that may start elsewhere when two corners are within a hair of the same height."""
    assert len(one) == len(two)
    left = list(two)
    for p in one:
        near = min(left, key=lambda q: abs(q[0] - p[0]) + abs(q[1] - p[1]))
        assert near == pytest.approx(p, abs=1e-5)
        left.remove(near)


@settings(max_examples=15, deadline=None)
@given(survey(), off(200), off(200))
def test_another_laser_line_changes_no_piece(readings, dx, dy):
    one, two = outlines(surveyed(readings)), outlines(surveyed(shifted(readings, dx, dy)))
    assert [p[:2] for p in one] == [p[:2] for p in two]
    for (_, _, a), (_, _, b) in zip(one, two, strict=True):
        close(a, b)


@settings(max_examples=15, deadline=None)
@given(survey())
def test_a_mirrored_survey_gives_mirrored_pieces(readings):
    one, two = surveyed(readings), surveyed(mirrored(readings))
    a, b = ([p for z in pieces_of(d) for p in z.pieces] for d in (one, two))
    corner = [build_faces(job_of(d))[0].datum[0] for d in (one, two)]

    def flip(p):
        return 2 * corner[1] - (p[0] - corner[0] + corner[1]), p[1]

    # the two frames have their origins at different corners, of different heights
    rise = build_faces(job_of(one))[0].datum[1] - build_faces(job_of(two))[0].datum[1]
    want = sorted((round(p.area, 2), p.kind, p.course) for p in a)
    assert sorted((round(p.area, 2), p.kind, p.course) for p in b) == want
    rows = {p.course for p in a}
    for row in rows:
        ours = [p for p in a if p.course == row]
        theirs = [p for p in b if p.course == row][::-1]
        for p, q in zip(ours, theirs, strict=True):
            close([(x, y - rise) for x, y in map(flip, p.outer)], q.outer)


@settings(max_examples=10, deadline=None)
@given(
    st.integers(600, 1800), st.integers(500, 1500), st.integers(-200, 200), st.integers(100, 900),
    st.sampled_from(["joint", "tile", "left", "right"]), st.sampled_from(["bottom", "top"]),
)  # fmt: skip
def test_a_survey_of_a_rectangle_is_the_rectangle(width, height, x, y, across, up):
    readings = {
        "down": [[-x, y], [width - x, y]], "up": [[-x, height - y], [width - x, height - y]],
        "left": [[-y, -x], [height - y, -x]], "right": [[-y, width - x], [height - y, width - x]],
    }  # fmt: skip
    start = {"x": across, "y": up}
    read = surveyed(readings, start=start)
    plain = copy.deepcopy(read)
    del plain["wall"][0]["survey"]
    plain["wall"][0] |= {"width": width, "height": height, "datum": y}
    sizes = []
    for data in (read, plain):
        job = job_of(data)
        laid = lay_out(job, build_faces(job))
        zones = make_pieces(job, laid)
        measures = measure_pieces(job, laid, zones, edge_runs(laid))
        cuts = {p.number: measures[p.id].size for z in zones for p in z.pieces if p.number is not None}
        sizes.append((outlines(data), cuts))
    assert sizes[0][1] == sizes[1][1]
    assert [p[:2] for p in sizes[0][0]] == [p[:2] for p in sizes[1][0]]
    for (_, _, a), (_, _, b) in zip(sizes[0][0], sizes[1][0], strict=True):
        close(a, b)


@settings(max_examples=10, deadline=None)
@given(survey(), survey(datum=(30.0, 45.0)), off(20))
def test_course_lines_of_tied_walls_agree(one, two, above):
    start = {"x": "left", "y": {"datum": above}}
    layout = {"tile": "t", "pattern": "stacked"}
    a = wall_data(id="A", survey=one, edges={**CORNERS, **ENDS}, layout={**layout, "start": start})
    b = wall_data(
        id="B", survey=two, edges={**CORNERS, **ENDS}, layout={**layout, "start": {"x": "tile", "y": {"wall": "A"}}}
    )
    job = job_of(job_data(a, b))
    faces = lay_out(job, build_faces(job))
    lines = [(f.zones[0].origin[1] - f.face.datum[1]) % 153 for f in faces]
    apart = abs(lines[0] - lines[1])
    assert min(apart, 153 - apart) < 0.05
    assert faces[0].zones[0].origin[1] - faces[0].face.datum[1] == pytest.approx(above)


@settings(max_examples=10, deadline=None)
@given(survey(), st.sampled_from(["studs", "board", "finish"]), st.sampled_from(["A", "B"]), st.integers(0, 3))
def test_finished_width_and_build_ups_make_the_reading(readings, to, first, membrane):
    walls = [wall_data(id=n, survey=readings, edges={**CORNERS, "bottom": BARE, "top": BARE}) for n in "ABC"]
    room = {"first": [first], "to": to, "bed": 3, "board": 12, "membrane": membrane}
    job = job_of(job_data(*walls, room=room))
    for face in lay_out(job, build_faces(job)):
        sides = {b.side: (b, e) for b, e in zip(face.face.borders, face.edges, strict=True)}
        y = face.face.datum[1]
        ends = {s: _x_at(sides[s][0].line, y) for s in ("left", "right")}
        tile = face.zones[0].region.intersection(_level(y)).bounds
        lean = {s: abs(_lean(sides[s][0].line)) for s in ("left", "right")}
        gaps = [e.offset * (1 + lean[s] ** 2) ** 0.5 for s, (_, e) in sides.items() if s in lean]
        assert tile[2] - tile[0] + sum(gaps) == pytest.approx(ends["right"] - ends["left"], abs=0.01)
        bare = {"studs": 12, "board": 0, "finish": 0}[to]
        build = 0 if to == "finish" else bare + membrane + 3 + 8
        for side, other in (("left", -1), ("right", 1)):
            met = "ABC"[("ABC".index(face.face.wall) + other) % 3]
            if (face.face.wall == first) != (met == first):
                want = bare if face.face.wall == first else build
                assert sides[side][0].behind == pytest.approx(want)


def _level(y):
    return LineString([(-1e4, y), (1e4, y)])


def _x_at(line, y):
    points = sorted(line, key=lambda p: p[1])
    for a, b in pairwise(points):
        if a[1] <= y <= b[1]:
            return a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    raise AssertionError(y)


def _lean(line):
    points = sorted(line, key=lambda p: p[1])
    # the level line lies in the lower stretch of a side read at three stations: 0 is a station
    a, b = points[0], points[1]
    return (b[0] - a[0]) / (b[1] - a[1])


GOOD = {
    "down": "[[0, 900], [1500, 905]]", "up": "[[0, 1200], [1500, 1195]]",
    "left": "[[-900, 0], [1200, 3]]", "right": "[[-900, 1500], [1200, 1505]]",
}  # fmt: skip
JOB = """title = "Slips"
units = "mm"
joint = 3
sliver = 25
[tile.t]
name = "T"
length = 300
width = 150
thickness = 8
sampled = 10
variation = 0.5
edge = "pressed"
box = 20
[[wall]]
id = "A"
title = "W"
{size}
[wall.survey]
{survey}
[wall.layout]
tile = "t"
pattern = "stacked"
start = {{ x = "left", y = "bottom" }}
{more}
"""
TUB = '[[wall.fixture]]\nid = "tub"\nkind = "tub"\nx = 0\ny = 0\nwidth = 700\nheight = 400\ntop = {}\n'


@pytest.mark.parametrize(
    ("changes", "size", "more", "said"),
    [
        ({"down": "[[0, 900]]"}, "", "", "has 1 reading; it needs at least 2"),
        ({"up": "[[1500, 1195], [0, 1200]]"}, "", "", "up[2] = [0, 1200]: stands at 0 mm behind 1500 mm"),
        ({"up": "[[0, -950], [1500, -950]]"}, "", "", "stands 50 mm above the top; is the tub higher than the ceiling?"),
        ({"down": "[[0, 900], [700, -1300], [1500, 905]]"}, "", "", "at 700 mm across the bottom stands 102.3 mm above"),
        ({"left": "[[-900, 0], [0, 1600], [1200, 0]]"}, "", "", "at height 0 mm the left side stands 97.9 mm"),
        ({"left": GOOD["right"], "right": GOOD["left"]}, "", "", "to the right is positive"),
        ({}, "width = 1562", "", "makes it about 1501 mm, 61 mm less"),
        ({}, "", TUB.format("[[0, -1300], [700, -1300]]"), "top of the wall; is the tub higher than the ceiling?"),
        ({}, "", TUB.format("[[700, 500], [0, 500]]"), "stands at 0 mm behind 700 mm"),
        ({}, "", TUB.format("[[0, 950], [700, 950]]"), "50 mm below the foot of the tub"),
    ],
)  # fmt: skip
def test_odd_surveys_get_clear_messages(tmp_path, changes, size, more, said):
    readings = "\n".join(f"{k} = {v}" for k, v in {**GOOD, **changes}.items())
    file = tmp_path / "job.toml"
    file.write_text(JOB.format(size=size, survey=readings, more=more))
    with pytest.raises(JobError) as caught:
        read_job(file)
    assert said in str(caught.value)
