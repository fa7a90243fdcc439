"""Framing card and section on the niche sheet: numbers worked by hand, and the section true to its scale."""

from __future__ import annotations

import pytest

from elevation.drawing.marks import Area, Text, walk
from elevation.sheets import compose_set
from tests.planning import plan_of
from tests.strategies import job_data, wall

# tile 8 + bed 3 + board 12.5 = 23.5 on each side; the sill falls 24 a foot (304.8), over 127 by 10
NICHE = {"id": "n", "x": 400, "y": 900, "width": 600, "height": 300, "depth": 127, "pitch": 24, "bay": [370, 1030]}
FLOOR = {"bottom": {"meets": "floor", "joint": 3}}


def page(paper="a3", **niche):
    plan = plan_of(job_data(wall(niche=[{**NICHE, **niche}], edges=FLOOR, datum=1000), room={"bed": 3, "board": 12.5}))
    return compose_set(plan, "installer", paper, ["niche"])[0]


def words(drawn):
    return [m.text for m in walk(drawn.marks) if isinstance(m, Text)]


def test_card_says_clear_and_rough():
    said = words(page())
    rows = {
        "Width": ["600", "647"],
        "Height": ["300", "347"],
        "Lower side above finished floor": ["900", "877"],  # 876.5, halves go up
        "Lower side from the datum": ["100 below", "124 below"],  # 123.5
        "From the wall's left side": ["400", "377"],
    }
    for name, cells in rows.items():
        at = said.index(name)
        assert said[at + 1 : at + 3] == cells, name
    assert "Verify before framing." in said
    # 400 - 23.5 - 370 = 6.5 at either side
    assert "7 to spare at the left, 7 at the right" in " ".join(said)


def test_section_says_run_fall_and_true_length():
    said = " ".join(words(page()))
    # 127 * 24 / 304.8 = 10; the root of 127^2 + 10^2 is 127.393
    assert "run 127" in said
    assert "fall 10.0 mm" in said
    assert "true length of the slope 127.4 mm" in said


@pytest.mark.parametrize("paper", ["a3", "a1"])
def test_section_is_true_to_the_scale_it_names(paper):
    drawn = page(paper)
    scale = next(t for t in words(drawn) if t.startswith("Section through the sill"))
    ratio = int(scale.rsplit(":", 1)[1])
    areas = [a.rings[0] for a in walk(drawn.marks) if isinstance(a, Area)]
    # the sill's tile starts behind the wall's, 8 thick, and a joint of 2; it slopes by 10 over 127, so that these 10,
    # measured along it, are 10 * 127 / 127.393 = 9.969 of the run
    slopes = [
        r for r in areas
        if len(r) == 4 and r[0][0] < r[1][0] and (r[1][1] - r[0][1]) / (r[1][0] - r[0][0]) == pytest.approx(10 / 127)
    ]  # fmt: skip
    tile = next(r for r in slopes if (r[1][0] - r[0][0]) * ratio == pytest.approx(127 - 9.969, abs=1e-3))
    assert (tile[1][1] - tile[2][1]) * ratio == pytest.approx(8)


@pytest.mark.parametrize("lap", ["wall", "return"])
def test_a_stud_in_the_way_is_said_so(lap):
    said = " ".join(words(page(bay=[390, 1050], lap=lap)))
    assert "Reaches 14 into the left stud" in said
