"""The bound of what the tape does, against the same layout drawn again from readings that are off."""

from __future__ import annotations

import copy
import itertools
import random

import pytest

from elevation.geom import EPS
from elevation.layout import lay_out
from elevation.layout.edge_cuts import edge_cuts
from elevation.layout.sensitivity import not_judged, sensitivity
from elevation.layout.spans import zone_outlines
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, wall_data

TAPE = 2.0


def smallest(face):
    """Return the smallest cut of every edge of a laid face, by zone, edge and side."""
    found = {}
    outlines = zone_outlines(face.face, face.edges, [z.joint for z in face.zones])
    for zone, outline in zip(face.zones, outlines, strict=True):
        for span, cut in zip(outline.spans, edge_cuts(outline, zone.lattice, zone.origin), strict=True):
            # in the corner below a side that leans over it, an edge looks at that side: no cut is measured there
            wedge = any(abs(s.at_end - s.at_start) > s.end - s.start for s in span.far)
            if cut.size is not None and not wedge:
                key = zone.place.id, cut.edge, cut.direction
                found[key] = min(cut.size, found.get(key, 1e9))
    return found


def places(wall):
    """Yield container and key of every reading of a wall."""
    if "survey" in wall:
        for side in ("down", "up", "left", "right"):
            for reading in wall["survey"][side]:
                yield reading, 1
    else:
        for key in ("width", "height", "datum"):
            if key in wall:
                yield wall, key
    for fixture in wall.get("fixture", ()):
        for reading in fixture.get("top", ()):
            yield reading, 1


def drawn_again(data, origin, datum, errors):
    """Return the smallest cuts of the layout, its lines kept where they are, with errors on the readings."""
    off = copy.deepcopy(data)
    for (holder, key), error in zip(places(off["wall"][0]), errors, strict=True):
        holder[key] += error
    face = build_faces(job_of(off))[0]
    has_datum = face.has_datum
    off["wall"][0]["layout"]["start"] = {
        "x": origin[0] - datum[0] + face.datum[0],
        "y": {"datum": origin[1] - datum[1]} if has_datum else origin[1],
    }
    job = job_of(off)
    return smallest(lay_out(job, build_faces(job))[0])


def crooked(rng, joint, pattern):
    def r():
        return rng.choice([0, 0, rng.uniform(-6, 6)])

    width, low, high = rng.uniform(900, 1600), rng.uniform(500, 800), rng.uniform(600, 900)
    survey = {
        "down": [[s, low + r()] for s in ([60, width / 2, width - 60] if rng.random() < 0.4 else [0, width])],
        "up": [[s, high + r()] for s in (0, width)],
        "left": [[-low, r()], [high - 100, r()]],
        "right": [[-low, width + r()], [high, width + r()]],
    }  # fmt: skip
    edges = {s: {"meets": "corner", "joint": rng.choice([4, joint])} for s in ("left", "right", "bottom", "top")}
    start = {"x": rng.choice(["joint", "tile", "left"]), "y": rng.choice(["bottom", "top", {"datum": 20}])}
    layout = {"tile": "t", "start": start, **pattern}
    return job_data(wall_data(survey=survey, edges=edges, layout=layout), tape=TAPE, joint=rng.choice([1.5, 3, 5]))


PATTERNS = ({"pattern": "stacked"}, {"pattern": "running-bond", "shift": "1/3"}, {"pattern": "vertical-stack"})


@pytest.mark.parametrize("seed", range(24))
def test_no_combination_of_errors_gives_less(seed):
    rng = random.Random(seed)
    data = crooked(rng, rng.choice([6, [3, 8], [3, 12]]), PATTERNS[seed % 3])
    job = job_of(data)
    (face,) = lay_out(job, build_faces(job))
    found = {(e.zone, e.edge, e.side): e for e in sensitivity(job, (face,))}
    drawn = smallest(face)
    assert drawn == pytest.approx({k: e.drawn for k, e in found.items() if e.drawn is not None}, abs=EPS)
    origin, datum = face.zones[0].origin, face.face.datum
    count = sum(1 for _ in places(data["wall"][0]))
    tries = [tuple(rng.choice([-TAPE, 0.0, TAPE]) for _ in range(count)) for _ in range(6)]
    tries += [tuple(rng.uniform(-TAPE, TAPE) for _ in range(count)) for _ in range(4)]
    tries += [(e,) * count for e in (-TAPE, TAPE)]
    for errors in tries:
        for key, size in drawn_again(data, origin, datum, errors).items():
            e = found[key]
            low = e.worst is not None and size >= e.worst - EPS
            strip = size <= e.strip + EPS
            assert low or strip, (key, size, e)


@pytest.mark.parametrize("start", ["joint", "tile"])
def test_a_straight_wall_reaches_the_bound(start):
    data = job_data(
        wall_data(
            survey={
                "down": [[0, 600], [1500, 600]], "up": [[0, 700], [1500, 700]],
                "left": [[-600, 0], [700, 0]], "right": [[-600, 1500], [700, 1500]],
            },
            layout={"tile": "t", "pattern": "stacked", "start": {"x": start, "y": {"datum": 0}}},
        ), tape=TAPE,
    )  # fmt: skip
    job = job_of(data)
    (face,) = lay_out(job, build_faces(job))
    origin, datum = face.zones[0].origin, face.face.datum
    errors = list(itertools.product((-TAPE, TAPE), repeat=4))
    tried = [drawn_again(data, origin, datum, [e for e in four for _ in range(2)]) for four in errors]
    for e in sensitivity(job, (face,)):
        assert e.drawn is not None
        assert e.worst == pytest.approx(min(t[e.zone, e.edge, e.side] for t in tried), abs=1e-6)
        assert e.worst == pytest.approx(e.drawn - TAPE)


def plain(**more):
    edges = dict.fromkeys(("left", "bottom", "top"), BARE) | {"right": {"meets": "corner", "joint": 4}}
    return job_data(wall_data(edges=edges, **more), tape=TAPE)


def the_edge(data, name):
    job = job_of(data)
    return next(e for e in sensitivity(job, lay_out(job, build_faces(job))) if e.edge == name)


@pytest.mark.parametrize(
    ("cut", "worst", "is_sliver"), [(40, 38, False), (27.1, 25.1, False), (26.9, 24.9, True), (20, 18, False)]
)
def test_a_sliver_that_the_tape_may_make(cut, worst, is_sliver):
    # modules of 303, whole at the left; the limit is 25; what is a sliver as drawn is for another rule
    edge = the_edge(plain(width=5 * 303 + cut + 4), "right")
    assert (edge.drawn, edge.worst, edge.is_sliver) == (pytest.approx(cut), pytest.approx(worst), is_sliver)
    assert [r.key for r in edge.again] == ["wall[1].width"]


def test_a_cut_that_may_vanish_and_a_strip_that_may_open():
    edge = the_edge(plain(width=5 * 303 + 1.5 + 4), "right")
    assert edge.worst == 0
    # whole tiles end at the corner; 2 more and the joint of 3 still takes it; one of 1.5 leaves a strip of 0.5 open
    assert the_edge(plain(width=5 * 303 - 3 + 4), "right").strip == 0
    data = plain(width=5 * 301.5 - 1.5 + 4)
    data["joint"] = 1.5
    edge = the_edge(data, "right")
    assert edge.drawn is None
    assert edge.strip == pytest.approx(0.5)
    assert edge.worst == pytest.approx(298)  # 2 less and every tile there is trimmed


def test_readings_beyond_the_stations_weigh_more():
    survey = {
        "down": [[0, 600], [1500, 600]], "up": [[0, 700], [1500, 700]],
        "left": [[-600, 0], [700, 0]], "right": [[0, 1500], [350, 1500]],
    }  # fmt: skip
    edge = the_edge(job_data(wall_data(survey=survey), tape=TAPE), "right")
    # at 600 below, with readings at 0 and 350: 2 * (1 + 2 * 600 / 350)
    assert edge.reach == pytest.approx(2 * (1 + 2 * 600 / 350))
    assert edge.again[0].key == "wall[1].survey.right[1]"


def test_what_is_not_judged_is_said():
    niche = {"id": "n1", "x": 500, "y": 450, "width": 400, "height": 300, "depth": 90}
    band = {
        "id": "band",
        "x": 0,
        "y": 900,
        "width": 1500,
        "height": 150,
        "layout": {"tile": "m", "pattern": "stacked"},
    }
    data = job_data(wall_data(1500, 1200, niche=[niche], zone=[band]), tape=TAPE)
    data["tile"]["m"] = {**data["tile"]["t"], "length": 300, "width": 300, "chip": [25, 25]}
    job = job_of(data)
    laid = lay_out(job, build_faces(job))
    said = {n.what: n.why for n in not_judged(job, laid)}
    assert set(said) == {"n1", "zone band"}
    assert "chip" in said["zone band"]
    judged = {e.zone for e in sensitivity(job, laid)}
    assert judged == {"field"}


def test_zones_and_fixtures_are_judged_by_laying_out_again():
    # the tub's rim is read at 400 down, twice; a reading of 2 less or more moves its edge by as much
    tub = {"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 900, "height": 300, "joint": 3,
           "top": [[0, 400], [900, 400]]}  # fmt: skip
    start = {"x": "left", "y": {"datum": 0}}
    survey = {"down": [[0, 700], [1500, 700]], "up": [[0, 500], [1500, 500]],
              "left": [[-700, 0], [500, 0]], "right": [[-700, 1500], [500, 1500]]}  # fmt: skip
    layout = {"tile": "t", "pattern": "stacked", "start": start}
    data = job_data(wall_data(survey=survey, fixture=[tub], layout=layout), tape=TAPE)
    edge = the_edge(data, "tub top")
    sizes = []
    for errors in ((0, 0), *itertools.product((-TAPE, TAPE), repeat=2)):
        off = copy.deepcopy(data)
        for reading, error in zip(off["wall"][0]["fixture"][0]["top"], errors, strict=True):
            reading[1] += error
        job = job_of(off)
        (face,) = lay_out(job, build_faces(job))
        sizes.append(smallest(face)["field", "tub top", "bottom"])
    assert edge.drawn == pytest.approx(sizes[0])
    assert edge.worst == pytest.approx(min(sizes))
    assert {r.key for r in edge.again} <= {"wall[1].fixture[1].top[1]", "wall[1].fixture[1].top[2]"}
