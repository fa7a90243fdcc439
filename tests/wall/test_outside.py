"""Outside corners: who runs by, who stops; every sum by hand from the build-ups."""

from __future__ import annotations

import pytest

from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.wall import build_faces, outside_corners, wall_findings
from tests.builders import BARE, TILE, job_data, job_of, wall_data

# wall A 1200 wide, wall B 900 wide, B round A's right end; bed 3, tile of A 8 thick, of B 11 thick
BED, TILE_A, TILE_B, BOARD = 3.0, 8.0, 11.0, 12.5
TRIMS = {
    "end": {"kind": "profile", "face": 2.5, "joint": 2, "height": 12, "stock": 2500},
    "mitre": {"kind": "mitre", "face": 0, "joint": 1},
}


def data_of(a=None, b=None, **room):
    """Return the data of a room of two walls with an outside corner between them."""
    here = {"meets": "outside", "with": "B", **(a or {})}
    edges_a = {"left": BARE, "bottom": BARE, "top": BARE, "right": here}
    edges_b = {"right": BARE, "bottom": BARE, "top": BARE}
    if b is not None:
        edges_b["left"] = b
    layout = {"pattern": "stacked", "start": {"x": "left", "y": {"datum": 0}}}
    walls = [
        wall_data(1200, 1500, id="A", edges=edges_a, layout={"tile": "t", **layout}, datum=600),
        wall_data(900, 1500, id="B", edges=edges_b, layout={"tile": "u", **layout}, datum=600),
    ]
    tiles = {"t": TILE, "u": {**TILE, "thickness": TILE_B}}
    return job_data(*walls, tile=tiles, trim=TRIMS, room={"bed": BED, "board": BOARD, "first": ["A"], **room})


def job(a=None, b=None, **room):
    """Return that room."""
    return job_of(data_of(a, b, **room))


def ends(found):
    """Return where A's tile ends at the right and B's begins at the left, mm."""
    laid = lay_out(found, build_faces(found))
    a, b = (next(f for f in laid if f.face.id == w) for w in "AB")
    return a.zones[0].region.bounds[2], b.zones[0].region.bounds[0]


@pytest.mark.parametrize(
    ("to", "a_grows", "b_grows"),
    [("board", BED + TILE_B, BED + TILE_A), ("studs", BOARD + BED + TILE_B, BOARD + BED + TILE_A), ("finish", 0, 0)],
)
def test_a_trim_covers_the_edge_of_the_wall_that_runs_by(to, a_grows, b_grows):
    right, left = ends(job({"trim": "end"}, to=to))
    # A runs to the finished corner, less the trim's face and joint
    assert right == pytest.approx(1200 + a_grows - 2.5 - 2)
    # B stops at the back of A's tile and bed, and a joint beside the trim; the finished corner is b_grows past its end
    assert left == pytest.approx(-b_grows + (BED + TILE_A) + 2)


def test_the_other_wall_may_be_the_trimmed_one():
    right, left = ends(job(None, {"meets": "outside", "with": "A", "trim": "end"}))
    assert right == pytest.approx(1200 + (BED + TILE_B) - (BED + TILE_B) - 2)
    assert left == pytest.approx(-(BED + TILE_A) + 2.5 + 2)


@pytest.mark.parametrize("b", [None, {"meets": "outside", "with": "A", "trim": "mitre"}])
def test_a_mitre_takes_both_tiles_to_the_corner(b):
    found = job({"trim": "mitre"}, b)
    right, left = ends(found)
    assert right == pytest.approx(1200 + BED + TILE_B - 1)
    assert left == pytest.approx(-(BED + TILE_A) + 1)
    (corner,) = outside_corners(found)
    assert (corner.how, corner.trims) == ("mitre", ("mitre", "mitre"))


def test_two_trims_meet_at_the_corner():
    right, left = ends(job({"trim": "end"}, {"meets": "outside", "trim": "end"}))
    # the square of the two build-ups is the trims'; 11 + 3 and 8 + 3 are wider than the face of 2.5
    assert right == pytest.approx(1200 - 2)
    assert left == pytest.approx(0 + 2)


@pytest.mark.parametrize(("first", "a_past", "b_past"), [("A", 0, BED + TILE_A), ("B", BED + TILE_B, 0)])
def test_without_trim_the_wall_tiled_later_laps(first, a_past, b_past):
    right, left = ends(job(first=[first]))
    assert right == pytest.approx(1200 + a_past)
    assert left == pytest.approx(-b_past)


@pytest.mark.parametrize("first", [[], ["A", "B"]])
def test_with_nothing_said_widths_are_as_finished(first):
    found = job(first=first)
    assert ends(found) == pytest.approx((1200, 0))
    (note,) = [f for f in wall_findings(found) if f.rule == "outside-corner"]
    assert (note.where, note.level) == ("A-B", "note")
    assert "first" in note.text


@pytest.mark.parametrize("a", [{}, {"trim": "end"}, {"trim": "mitre"}])
def test_the_finished_corner_is_the_same_from_both_walls(a):
    faces = build_faces(job(a))
    right = max(p[0] for p in faces[0].built)
    left = min(p[0] for p in faces[1].built)
    # A's finished length ends at B's finished face, and B's at A's
    assert right - 1200 == pytest.approx(BED + TILE_B)
    assert -left == pytest.approx(BED + TILE_A)
    assert max(p[0] for p in faces[0].outline.ring) == 1200


def test_course_lines_go_on_round_the_corner():
    found = job({"trim": "mitre"})
    laid = lay_out(found, build_faces(found))
    lines = []
    for zone in make_pieces(found, laid):
        face = next(f for f in laid if f.face.id == zone.face)
        lines.append({round(p.slot[0][1] - face.face.datum[1], 6) for p in zone.pieces})
    assert lines[0] == lines[1]


def test_a_silent_wall_takes_the_corner_from_its_neighbour():
    faces = build_faces(job({"trim": "mitre"}))
    border = next(b for b in faces[1].borders if b.side == "left")
    assert (border.meets, border.round_corner, border.trim, border.kind) == ("outside", "A", "mitre", "trim")


def test_readings_at_an_outside_corner_must_agree():
    data = data_of({"trim": "end"})
    for wall, up in zip(data["wall"], (700, 712), strict=True):
        for key in ("width", "height", "datum"):
            wall.pop(key)
        wall["survey"] = {"down": [[0, 600], [900, 600]], "up": [[0, up], [900, up]],
                          "left": [[-600, 0], [700, 0]], "right": [[-600, 1000], [700, 1000]]}  # fmt: skip
        wall["edges"]["top"] = {"meets": "ceiling", "joint": 3}
    data["tape"] = 2
    found = job_of(data)
    (said,) = [f for f in wall_findings(found) if f.rule == "corner-agreement"]
    assert said.where == "A-B"
    assert "12 mm apart" in said.text
