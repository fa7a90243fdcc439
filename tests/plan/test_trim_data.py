"""Trims in plan.json: what others may rely on."""

import json

import pytest
from jsonschema import Draft202012Validator
from shapely.geometry import Polygon

from elevation.output.tables import plan_json
from elevation.plan.schema import plan_schema
from tests.planning import plan_of
from tests.strategies import job_data, wall


def trims_of(kind, corner, stock):
    sides = {side: {"trim": "end"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 500, "y": 800, "width": 400, "height": 300, "depth": 90, "edges": sides}
    edges = {"left": {"trim": "end"}, "top": {"trim": "end"}}
    trim = {"kind": kind, "face": 20, "joint": 2, "stock": stock, "corner": corner, "height": 11}
    data = json.loads(plan_json(plan_of(job_data(wall(niche=[niche], edges=edges), trim={"end": trim}))))
    Draft202012Validator(plan_schema()).validate(data)
    (found,) = data["trims"]
    return found


@pytest.mark.parametrize("kind", ["profile", "bullnose", "liner", "mitre"])
@pytest.mark.parametrize("corner", ["mitre", "butt", "piece"])
def test_what_is_cut_covers_every_run_once(kind, corner):
    found = trims_of(kind, corner, 1300 if kind == "profile" else 210)
    assert (found["kind"], found["corner"]) == (kind, corner)
    assert len({r["tag"] for r in found["runs"]}) == len(found["runs"]) == 6
    assert found["length"] == pytest.approx(sum(r["length"] for r in found["runs"]))
    assert found["corner_pieces"] == sum(c["kind"] == "piece" for c in found["corners"])
    if kind == "mitre":
        assert found["sticks"] is None
        return
    cuts = [(n["run"], n["part"], n["length"]) for s in found["plan"] for n in s["lengths"]]
    tags = {r["id"]: r["tag"] for r in found["runs"]}
    if kind == "profile":
        assert found["pieces"] == []
        for run in found["runs"]:
            made = [length for name, _, length in cuts if name == run["id"]]
            assert sum(made) == pytest.approx(run["length"], abs=0.01)
            assert len(made) == len(run["joints"]) + 1
        assert found["sticks"] == len(found["plan"])
        return
    pieces = {(p["run"], p["place"]): p for p in found["pieces"]}
    assert sorted((tags[name], part) for name, part, _ in cuts) == sorted(pieces)
    for name, part, length in cuts:
        assert length == pytest.approx(pieces[tags[name], part]["length"], abs=0.01)
    numbers = [p["number"] for p in found["pieces"] if p["number"]]
    assert len(set(numbers)) == len(numbers)
    rings = {r["tag"]: Polygon(r["ring"]) for r in found["runs"]}
    for piece in found["pieces"]:
        assert Polygon(piece["outer"]).difference(rings[piece["run"]]).area < 0.01
        assert (piece["number"] is None) == (not any(piece["cut_ends"]))


def test_ends_of_a_frame_name_one_another():
    runs = {r["id"]: r for r in trims_of("profile", "butt", 2500)["runs"]}
    sill, jamb = runs["A n1 sill"], runs["A n1 left"]
    left = {"at": "left", "cut": "butt", "angle": 90.0, "long": None, "beside": jamb["tag"], "through": True}
    assert sill["ends"][0] == left
    assert jamb["ends"][0] == {**left, "at": "bottom", "beside": sill["tag"], "through": False}
    assert (sill["length"], jamb["length"]) == (440.0, 300.0)
    assert sill["outer"] == [[480.0, 780.0], [920.0, 780.0]]
