"""Every kind of start, and the balanced layouts of the trade facts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from elevation.errors import JobError
from elevation.units import parse_length
from tests.builders import job_data, laid_out, pieces_of, wall_data


def start_data(x, y, **more):
    wall = wall_data(**more)
    wall["layout"] = {"tile": "t", "pattern": "stacked", "start": {"x": x, "y": y}}
    return wall


def origin(x, y, **more):
    return laid_out(job_data(start_data(x, y, **more)))[1][0].zones[0].origin


@pytest.mark.parametrize(
    ("x", "expected"),
    [("left", 0), ("right", 2000 - 300), ("joint", 1000 + 1.5), ("tile", 1000 - 150), (77, 77), ("3 in", 76.2)],
)
def test_start_in_x(x, expected):
    assert origin(x, "bottom")[0] == pytest.approx(expected)


@pytest.mark.parametrize(("y", "expected"), [("bottom", 0), ("top", 1200 - 150), (40, 40), ({"datum": -10}, 890)])
def test_start_in_y(y, expected):
    assert origin("left", y, datum=900)[1] == pytest.approx(expected)


def test_start_between_the_borders_left_by_the_gaps():
    edges = {"left": {"meets": "corner", "joint": 10}, "right": {"meets": "wall", "joint": 0}}
    assert origin("joint", "bottom", edges=edges)[0] == pytest.approx((10 + 2000) / 2 + 1.5)


NICHE = {"id": "n1", "x": 700, "y": 400, "width": 600, "height": 300, "depth": 90}


@pytest.mark.parametrize(
    ("at", "expected"), [("joint", 1000 + 1.5), ("tile", 850), ("left", 700 - 300), ("right", 1300)]
)
def test_start_on_a_niche_in_x(at, expected):
    assert origin({"on": "n1", "at": at}, "bottom", niche=[NICHE])[0] == pytest.approx(expected)


@pytest.mark.parametrize(("at", "expected"), [("sill", 400 - 150), ("head", 700)])
def test_start_on_a_niche_in_y(at, expected):
    assert origin("left", {"on": "n1", "at": at}, niche=[NICHE])[1] == pytest.approx(expected)


def test_a_trim_moves_the_edge_that_a_start_stands_on():
    niche = {**NICHE, "edges": {"sill": {"trim": "e"}, "left": {"trim": "e"}}}
    trims = {"e": {"kind": "profile", "face": 2.5, "joint": 2}}
    data = job_data(start_data({"on": "n1", "at": "left"}, {"on": "n1", "at": "sill"}, niche=[niche]), trim=trims)
    assert laid_out(data)[1][0].zones[0].origin == pytest.approx((700 - 4.5 - 300, 400 - 4.5 - 150))


def test_courses_meet_at_the_corners_of_a_room():
    walls = [
        start_data("left", "bottom", id="B", height=1200, datum=310),
        start_data("right", {"wall": "B"}, id="C", height=1650, datum=752.5),
        start_data("right", {"wall": "C"}, id="D", height=1650, datum=700),
    ]
    _, faces = laid_out(job_data(*walls[::-1]))
    lines = {f.face.id: (f.zones[0].origin[1] - f.face.datum[1]) % 153 for f in faces}
    assert max(lines.values()) - min(lines.values()) < 0.05


def test_starts_that_refer_to_each_other_are_refused():
    walls = [start_data("left", {"wall": o}, id=i, datum=5) for i, o in (("A", "B"), ("B", "A"))]
    with pytest.raises(JobError, match="refer to each other in a circle"):
        laid_out(job_data(*walls))


def inches(text):
    return float(parse_length(text, "in"))


# facts/trade.md 2.4, cases A to H: derived there by plain arithmetic, e = (W - 2g - f T - (f + 1) J) / 2
CASES = [
    ("A", "60", "4 1/4", "1/16", "1/8", "joint", 12, "3 31/32"),
    ("A", "60", "4 1/4", "1/16", "1/8", "tile", 13, "1 13/16"),
    ("B", "59 1/2", "12", "1/8", "1/8", "tile", 3, "11 3/8"),
    ("B", "59 1/2", "12", "1/8", "1/8", "joint", 4, "5 5/16"),
    ("C", "59 1/2", "24", "1/8", "1/8", "tile", 1, "17 1/2"),
    ("C", "59 1/2", "24", "1/8", "1/8", "joint", 2, "5 7/16"),
    ("D", "32", "12", "1/8", "1/8", "tile", 1, "9 3/4"),
    ("D", "32", "12", "1/8", "1/8", "joint", 2, "3 11/16"),
    ("E", "60", "6", "1/8", "1/8", "joint", 8, "5 5/16"),
    ("E", "60", "6", "1/8", "1/8", "tile", 9, "2 1/4"),
    ("F", "1500 mm", "197 mm", "3 mm", "3 mm", "joint", 6, "145.5 mm"),
    ("F", "1500 mm", "197 mm", "3 mm", "3 mm", "tile", 7, "45.5 mm"),
    ("G", "1700 mm", "297 mm", "3 mm", "3 mm", "joint", 4, "245.5 mm"),
    ("G", "1700 mm", "297 mm", "3 mm", "3 mm", "tile", 5, "95.5 mm"),
    ("H", "1700 mm", "597 mm", "3 mm", "6 mm", "tile", 1, "542.5 mm"),
    ("H", "1700 mm", "597 mm", "3 mm", "6 mm", "joint", 2, "242.5 mm"),
]


@pytest.mark.parametrize(("case", "wide", "tile", "joint", "gap", "start", "full", "end"), CASES)
def test_balanced_layouts(case, wide, tile, joint, gap, start, full, end):
    side = {"meets": "corner", "joint": gap}
    wall = wall_data(
        width=wide,
        height=inches(tile) / 25.4,
        edges={"left": side, "right": side, "bottom": {"joint": 0}, "top": {"joint": 0}},
    )
    wall["layout"] = {"tile": "t", "pattern": "stacked", "start": {"x": start, "y": "bottom"}}
    data = job_data(wall, units="in", joint=joint, sliver="1/4")
    data["tile"]["t"].update(length=tile, width=tile, thickness="5/16", variation="1/32")
    pieces = pieces_of(data)[0].pieces
    assert [p.kind for p in pieces] == ["straight", *["whole"] * full, "straight"]
    assert pieces[0].width == pytest.approx(pieces[-1].width)
    assert pieces[0].width == pytest.approx(inches(end), abs=1e-6)


def test_the_two_balanced_layouts_differ_by_half_a_module():
    # facts/trade.md 2.4: e(f) - e(f+1) = M / 2
    for width in (1500, 1733, 2010.5):
        ends = []
        for x in ("joint", "tile"):
            wall = start_data(x, "bottom", width=width, height=150)
            ends.append(pieces_of(job_data(wall))[0].pieces[0].width)
        assert max(ends) - min(ends) == pytest.approx(Fraction(303, 2))
