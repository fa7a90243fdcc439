"""Mitred pieces: every tile that stands at a mitre says on which side, whole ones too, on the wall and on its returns."""

from __future__ import annotations

import json

from elevation.output.tables import cuts_csv, plan_json
from tests.builders import BARE, TILE, job_data, wall_data
from tests.planning import plan_of

MITRE = {"m": {"kind": "mitre", "joint": 1}}


def niche_plan():
    sides = {side: {"trim": "m"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 500, "y": 450, "width": 400, "height": 300, "depth": 90, "edges": sides}
    return plan_of(job_data(wall_data(1500, 1200, niche=[niche]), trim=MITRE))


def stands_at(piece, box, joint):
    """Return on which sides a piece touches a box moved out by a joint: plain arithmetic on bounds."""
    x0, y0, x1, y1 = box
    xs, ys = [p[0] for p in piece.outer], [p[1] for p in piece.outer]
    over_x, over_y = min(xs) < x1 and max(xs) > x0, min(ys) < y1 and max(ys) > y0
    round_corner = piece.kind in ("L", "notched")
    found = set()
    for near, end, at, side, along in (
        (over_y, max(xs), x0 - joint, "right", xs), (over_y, min(xs), x1 + joint, "left", xs),
        (over_x, max(ys), y0 - joint, "top", ys), (over_x, min(ys), y1 + joint, "bottom", ys),
    ):  # fmt: skip
        if near and (abs(end - at) < 0.05 or (round_corner and min(along) < at < max(along))):
            found.add(side)
    return found


def test_the_wall_round_a_mitred_niche():
    plan = niche_plan()
    for piece in plan.pieces_of("A"):
        assert set(plan.mitred.get(piece.id, ())) == stands_at(piece, (500, 450, 900, 750), 1), piece.number


def test_the_returns_are_mitred_at_their_front():
    plan = niche_plan()
    front = {"sill": "bottom", "head": "top", "left": "left", "right": "right"}
    for kind, side in front.items():
        face = plan.face(f"A.n1.{kind}")
        pieces = plan.pieces_of(face.face.id)
        marked = [p for p in pieces if plan.mitred.get(p.id) == (side,)]
        # depth 90 is less than a tile: every piece of a return reaches its front
        assert marked
        assert len(marked) == len(pieces)
    assert not [p for p in plan.pieces_of("A.n1.back") if p.id in plan.mitred]


def corner_plan(start):
    edges_a = {"left": BARE, "bottom": BARE, "top": BARE, "right": {"meets": "outside", "with": "B", "trim": "m"}}
    edges_b = {"right": BARE, "bottom": BARE, "top": BARE}
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": start, "y": {"datum": 0}}}
    walls = [
        wall_data(1200, 900, id="A", edges=edges_a, layout=layout, datum=300),
        wall_data(1000, 900, id="B", edges=edges_b, layout=layout, datum=300),
    ]
    return plan_of(job_data(*walls, trim=MITRE, tile={"t": TILE}, room={"first": ["A"]}))


def test_whole_tiles_at_an_outside_corner():
    plan = corner_plan("left")
    walls = json.loads(plan_json(plan))["walls"]
    data = {p["id"]: p for w in walls for f in w["faces"] for z in f["zones"] for p in z["pieces"]}
    for wall, side, last in (("A", "right", True), ("B", "left", False)):
        for _, pieces in plan.courses(wall, "field"):
            end = pieces[-1 if last else 0]
            assert data[end.id]["mitred"] == [side]
            assert all("mitred" not in data[p.id] for p in pieces if p is not end)
    # A's last tiles end at 4 x 300 + 3 x 3 = 1209, a millimetre short of the corner's 1210: whole, and mitred
    assert any(data[p.id]["kind"] == "whole" and "mitred" in data[p.id] for p in plan.pieces_of("A"))


def test_the_list_of_cuts_says_it():
    plan = corner_plan("left")
    header, *rows = cuts_csv(plan).decode("utf-8-sig").splitlines()
    assert header.split(",")[-1] == "mitred"
    told = {row.split(",")[0]: row.split(",")[-1] for row in rows}
    for piece in plan.cuts:
        assert told[piece.number] == " ".join(plan.mitred.get(piece.id, ()))
    assert set(told.values()) >= {"", "left"}
