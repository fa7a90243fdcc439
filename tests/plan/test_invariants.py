"""What must hold on every plan, looked at from outside: plan.json and plain shapely."""

import json
import tomllib
from collections import Counter
from itertools import pairwise

import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from shapely.geometry import Polygon

from elevation.errors import JobError
from elevation.output.tables import plan_json
from tests.planning import EXAMPLES, plan_of
from tests.strategies import banded_jobs, job_of, jobs

THERE = 0.05


def area(shape):
    return Polygon(shape["outer"], shape["holes"])


def zones(plan):
    for wall in plan["walls"]:
        for face in wall["faces"]:
            for zone in face["zones"]:
                yield wall, face, zone


def pieces_lie_inside_their_region_and_slot_and_do_not_overlap(job, plan):
    for _, _, zone in zones(plan):
        region = shapely.union_all([area(r) for r in zone["region"]])
        shapes = [area(p) for p in zone["pieces"]]
        room = region.buffer(0.001)
        for piece, shape in zip(zone["pieces"], shapes, strict=True):
            assert shape.is_valid, piece["id"]
            assert room.covers(shape), piece["id"]
            assert Polygon(piece["slot"]).buffer(0.001).covers(shape), piece["id"]
            assert shape.area == pytest.approx(piece["area"], abs=0.1)
        tree = shapely.STRtree(shapes)
        for i, j in tree.query(shapes, predicate="intersects").T:
            if i < j:
                assert shapes[i].intersection(shapes[j]).buffer(-0.001).is_empty


def what_no_piece_covers_is_nowhere_wider_than_the_joint(job, plan):
    for _, face, zone in zones(plan):
        region = shapely.union_all([area(r) for r in zone["region"]])
        bare = region.difference(shapely.union_all([area(p) for p in zone["pieces"]]))
        # a cut thinner than 0.05 is not there, so a joint may be wider by that much on either side; where a sloping
        # border cuts off one of the four tiles at a crossing, a joint is as wide as its diagonal
        level = all(p[0] == q[0] or p[1] == q[1] for r in zone["region"] for p, q in pairwise(r["outer"]))
        half = zone["joint"] / 2 * (1 if level else 2**0.5)
        left = bare.buffer(-(half + THERE + 0.005), join_style="mitre")
        assert left.is_empty, (face["id"], zone["id"], left.wkt)


def rings_are_closed_and_run_the_right_way(job, plan):
    for wall, face, zone in zones(plan):
        outers = [wall["outline"], face["outline"], *(p["outer"] for p in zone["pieces"])]
        outers += [p["slot"] for p in zone["pieces"]] + [r["outer"] for r in zone["region"]]
        holes = [h for p in (*zone["pieces"], *zone["region"]) for h in p["holes"]]
        for ring, ccw in [*((r, True) for r in outers), *((r, False) for r in holes)]:
            assert ring[0] == ring[-1]
            assert shapely.LinearRing(ring).is_ccw is ccw


def numbers_and_addresses_are_unique(job, plan):
    pieces = [p for _, _, z in zones(plan) for p in z["pieces"]]
    numbers = Counter(p["number"] for p in pieces if p["number"] is not None)
    assert max(numbers.values(), default=1) == 1
    assert max(Counter(p["id"] for p in pieces).values(), default=1) == 1
    assert sorted(p["order"] for p in pieces) == list(range(1, len(pieces) + 1))
    for piece in pieces:
        assert (piece["number"] is None) == (piece["kind"] == "whole")


def a_whole_tile_is_the_whole_slot_and_a_cut_is_not(job, plan):
    for _, _, zone in zones(plan):
        for piece in zone["pieces"]:
            lost = Polygon(piece["slot"]).difference(area(piece))
            thick = not lost.buffer(-THERE / 2 - 0.001, join_style="mitre").is_empty
            if piece["kind"] == "whole":
                assert not thick, piece["id"]
                assert len(piece["factory_edges"]) == 4
            else:
                assert not lost.buffer(-THERE / 2 + 0.002, join_style="mitre").is_empty, piece["id"]


def takeoff_totals_are_the_sums_over_the_walls(job, plan):
    for line in plan["takeoff"]:
        if line["by_wall"]:
            assert line["amount"] == pytest.approx(sum(line["by_wall"].values()), abs=1e-6), line
    lines = {(q["group"], q["item"], q["description"].rpartition(": ")[2]): q for q in plan["takeoff"]}
    tiled = lines["area", "tiled", "Tiled"]
    unit = 1e6 if job.units == "mm" else 304.8**2
    for wall in plan["walls"]:
        regions = sum(area(r).area for w, _, z in zones(plan) if w is wall for r in z["region"])
        assert wall["tiled_area"] == pytest.approx(regions, rel=1e-6)
        assert tiled["by_wall"].get(wall["id"], 0) == pytest.approx(regions / unit, abs=1e-4)
        assert wall["wall_area"] == pytest.approx(Polygon(wall["outline"]).area, rel=1e-6)
    for cutting in plan["cutting"]:
        pieces = [p for _, _, z in zones(plan) for p in z["pieces"] if z["tile"] == cutting["tile"]]
        whole = sum(p["kind"] == "whole" for p in pieces)
        assert lines["tile", cutting["tile"], "whole"]["amount"] == whole == cutting["whole"]
        assert lines["tile", cutting["tile"], "cut pieces"]["amount"] == len(pieces) - whole == cutting["cut"]
        assert lines["tile", cutting["tile"], "needed"]["amount"] == cutting["tiles"] >= cutting["lower_bound"]
        assert cutting["tiles"] == whole + len(cutting["plan"])


def every_cut_comes_out_of_one_tile(job, plan):
    cuts = sorted(p["id"] for _, _, z in zones(plan) for p in z["pieces"] if p["kind"] != "whole")
    assert cuts == sorted(i for c in plan["cutting"] for t in c["plan"] for i in t["pieces"])


def course_lines_of_tied_walls_agree(job, plan):
    data = {w["id"]: w for w in plan["walls"]}
    for wall in job.wall:
        start = wall.layout.start
        tied = getattr(getattr(start, "y", None), "wall", None)
        if tied is None or wall.layout.pattern != job.wall[0].layout.pattern:
            continue
        lines = [lines_of(data[w]) for w in (tied, wall.id)]
        for course in lines[0].keys() & lines[1].keys():
            assert lines[1][course] == pytest.approx(lines[0][course], abs=0.05)


def whole_tiles_resume_beyond_bands(job, plan):
    for wall in job.wall:
        data = next(w for w in plan["walls"] if w["id"] == wall.id)
        zones = {z["id"]: z for z in data["faces"][0]["zones"]}
        for band in wall.zone:
            after = zones[f"field.{band.id}"]
            axis = 1 if band.width == wall.width else 0
            start = (band.y + band.height, band.x + band.width)[1 - axis] + after["joint"]
            assert after["origin"][axis] == pytest.approx(start, abs=0.01)
            assert after["origin"][1 - axis] == zones["field"]["origin"][1 - axis]
            # above a level band no slot is cut by the band; a bond shifts courses beyond an upright one
            if axis == 1:
                assert min(y for p in after["pieces"] for _, y in p["slot"]) == pytest.approx(start, abs=0.01)


def lines_of(wall):
    """Return the height of each course of a wall's field over the datum, by the slots of its pieces."""
    pieces = wall["faces"][0]["zones"][0]["pieces"]
    return {p["course"]: min(y for _, y in p["slot"]) - wall["datum"]["y"] for p in pieces}


CHECKS = (
    pieces_lie_inside_their_region_and_slot_and_do_not_overlap,
    what_no_piece_covers_is_nowhere_wider_than_the_joint,
    rings_are_closed_and_run_the_right_way,
    numbers_and_addresses_are_unique,
    a_whole_tile_is_the_whole_slot_and_a_cut_is_not,
    takeoff_totals_are_the_sums_over_the_walls,
    every_cut_comes_out_of_one_tile,
    course_lines_of_tied_walls_agree,
)


@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(jobs())
def test_what_must_hold_on_every_plan_of_a_random_job(job):
    try:
        plan = plan_of(job, findings=False)
    except JobError:
        assume(False)
    data = json.loads(plan_json(plan))
    for check in CHECKS:
        check(job, data)


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(banded_jobs())
def test_what_must_hold_where_whole_tiles_resume_beyond_bands(job):
    try:
        plan = plan_of(job, findings=False)
    except JobError:
        assume(False)
    data = json.loads(plan_json(plan))
    for check in (*CHECKS, whole_tiles_resume_beyond_bands):
        check(job, data)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.__name__)
def test_what_must_hold_on_the_examples(check, path):
    job = job_of(tomllib.loads(path.read_text(encoding="utf-8")))
    check(job, json.loads(plan_json(plan_of(job, findings=False))))
