"""Checks across keys: what is good must pass; what is wrong is shown case by case in tests/bad_jobs."""

import pytest

from elevation.errors import JobError
from elevation.job import read_text
from elevation.job.cross import CHECKS
from elevation.job.cross.view import rough_shape

HEAD = """
title = "Test"
units = "mm"
joint = [2, 3]
sliver = 20
[tile.field]
name = "White"
length = 300
width = 100
thickness = 8
sampled = 10
variation = 0.5
edge = "pressed"
box = 44
[tile.chip]
name = "Chips"
length = 300
width = 300
thickness = 6
sampled = 0
variation = 0
edge = "natural"
box = 10
chip = [25, 25]
[trim.end]
kind = "profile"
face = 3
height = 10
"""
SIZE = "width = 1500\nheight = 2100"
ZONE = '[[wall.zone]]\nid = "z1"\nx = 0\ny = 0\nwidth = 1500\nheight = 900\nlayout = { pattern = "stacked" }\n'
LAYOUT = 'layout = { tile = "field", pattern = "stacked" }\n'
WALL = '[[wall]]\nid = "A"\ntitle = "A"\nwidth = 1500\nheight = 2100\n'
NICHE = '[[wall.niche]]\nid = "n1"\nx = 500\ny = 1000\nwidth = 400\nheight = 300\ndepth = 90\n'


def keys(text):
    """Return the keys that are complained of."""
    try:
        read_text(HEAD + text, "x.toml")
    except JobError as error:
        return [p.key for p in error.problems]
    return []


OUTLINES = {
    "an arched top": "[900, 0], [900, 2000], { arc = 450 }, [0, 2000]",
    "closed by an arc": "[900, 0], [900, 900], { arc = -1500 }",
    "a rake": "[900, 0], [500, 900], [0, 900]",
}


def outlined(name):
    return WALL.replace(SIZE, f"outline = [[0, 0], {OUTLINES[name]}]")


def surveyed(survey):
    lines = zip(("down", "up", "left", "right"), survey, strict=True)
    return WALL.replace(SIZE, "survey = { " + ", ".join(f"{name} = {line}" for name, line in lines) + " }") + LAYOUT


def tied(layout, keys="", joint=""):
    start = "start = { x = 'left', y = { wall = 'B' } }\n"
    first = f"datum = 900\n[wall.layout]\ntile = 'field'\npattern = '{layout}'\n{keys}{joint}{start}"
    return WALL + first + WALL.replace('"A"', '"B"') + "datum = 880\n" + LAYOUT


SURVEY = (
    "[[0, 900], [1500, 905]]",
    "[[0, 1200], [1500, 1198]]",
    "[[-900, 0], [1200, 4]]",
    "[[-900, 1500], [1200, 1497]]",
)
OUT_OF_LEVEL = ("[[0, 900], [1500, 890]]", SURVEY[1], "[[-900, 0], [1200, 9]]", SURVEY[3])
WINDOW = '[[wall.opening]]\nid = "w"\nkind = "window"\nx = 900\ny = 1000\nwidth = 300\nheight = 300\n'
TUB = '[[wall.fixture]]\nid = "tub"\nkind = "tub"\nx = -50\ny = -20\nwidth = 1700\nheight = 450\nradius = 40\n'
LIGHT = '[[wall.mark]]\nid = "m"\nkind = "light"\nx = 700\ny = 1800\n'
STUD = '[[wall.mark]]\nid = "s"\nkind = "stud"\nx = 1490\ny = -30\nwidth = 38\nheight = 2500\n'
ON_LIGHT = """[wall.layout]
tile = "field"
pattern = "stacked"
start = { x = { on = "m", at = "joint" }, y = "top" }
"""
GOOD = {
    "a plain wall": WALL + LAYOUT,
    "a niche over the whole width": WALL + LAYOUT + NICHE.replace("x = 500", "x = 0").replace("400", "1500"),
    "a niche that touches an opening": WALL + LAYOUT + NICHE + WINDOW,
    "a tub that reaches beyond both ends": WALL + LAYOUT + TUB,
    "a zone across a niche": WALL + LAYOUT + NICHE + ZONE.replace("y = 0", "y = 500"),
    "two zones edge to edge": WALL + LAYOUT + ZONE + ZONE.replace("z1", "z2").replace("y = 0", "y = 900"),
    "marks anywhere": WALL + LAYOUT + NICHE + STUD,
    "a start on a mark": WALL + LIGHT + ON_LIGHT,
    "an arched top": outlined("an arched top") + LAYOUT,
    "an outline closed by an arc": outlined("closed by an arc") + LAYOUT,
    "sides of an outline by number": outlined("closed by an arc")
    + 'edges = { 1 = { joint = 3 }, 3 = { trim = "end" } }\n'
    + LAYOUT,
    "a zone that an outline cuts": outlined("a rake") + LAYOUT + ZONE.replace("1500", "900"),
    "a survey instead of a size": surveyed(SURVEY) + NICHE,
    "a wainscot on a wall out of level": surveyed(OUT_OF_LEVEL) + ZONE + NICHE.replace("x = 500", "x = 0"),
    "a move within a wide bay": WALL + LAYOUT + NICHE + "bay = [520, 1000]\nmove = { x = [-40, 40] }\n",
    "a tie to a later wall, the joints overlapping": tied("stacked", joint="joint = 3\n"),
    "a tie to running bond of the same course": tied("running-bond", "shift = '1/3'\n"),
    "the same id on two walls": WALL + LAYOUT + NICHE + WALL.replace('"A"', '"B"') + LAYOUT + NICHE,
    "a hole that touches two sides": WALL + LAYOUT + '[[wall.hole]]\nid = "h"\nx = 30\ny = 30\ndiameter = 60\n',
}


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD.keys())
def test_what_is_good_passes(text):
    assert keys(text) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (WALL + LAYOUT + '[[wall.hole]]\nid = "h"\nx = 29\ny = 30\ndiameter = 60\n', ["wall[1].hole[1]"]),
        (WALL + LAYOUT + NICHE.replace("x = 500", "x = 1100.2"), ["wall[1].niche[1]"]),
        (WALL + LAYOUT + NICHE + NICHE.replace('"n1"', '"n2"').replace("x = 500", "x = 899"), ["wall[1].niche[2]"]),
        (WALL + LAYOUT + NICHE + "bay = [560, 1000]\nmove = { x = [-40, 40] }\n", ["wall[1].niche[1].bay"]),
        (tied("stacked", joint="joint = 4\n"), ["wall[1].layout.start.y.wall"]),
        (tied("vertical-stack"), ["wall[1].layout.start.y.wall"]),
        (outlined("a rake") + LAYOUT + ZONE.replace("1500", "901"), ["wall[1].zone[1]"]),
        (surveyed(OUT_OF_LEVEL) + NICHE.replace("x = 500", "x = -15"), ["wall[1].niche[1]"]),
        (WALL + 'edges = { left = { joint = 1497.9 }, right = { trim = "end" } }\n' + LAYOUT, ["wall[1].edges"]),
    ],
)
def test_what_is_just_past_the_limit_does_not(text, expected):
    assert keys(text) == expected


def test_what_can_be_read_is_checked_beside_what_cannot():
    """The first niche cannot be read; the second is still the second, and still outside the wall."""
    broken = NICHE.replace("y = 1000", 'y = "high"')
    outside = NICHE.replace('"n1"', '"n2"').replace("x = 500", "x = 1400")
    assert keys(WALL + LAYOUT + broken + outside) == ["wall[1].niche[1].y", "wall[1].niche[2]"]


def test_a_name_is_known_though_its_table_cannot_be_read():
    text = HEAD.replace("length = 300\nwidth = 100", 'length = "long"\nwidth = 100')
    with pytest.raises(JobError) as caught:
        read_text(text + WALL + LAYOUT, "x.toml")
    assert [p.key for p in caught.value.problems] == ["tile.field.length"]
    start = 'layout = { tile = "field", pattern = "stacked", start = { x = { on = "n1", at = "left" }, y = "top" } }\n'
    assert keys(WALL + start + NICHE.replace("y = 1000", 'y = "high"')) == ["wall[1].niche[1].y"]


def test_a_wall_whose_layout_cannot_be_read_is_checked_for_the_rest():
    assert keys(WALL + 'layout = "stacked"\n' + NICHE.replace("x = 500", "x = 1400")) == [
        "wall[1].layout",
        "wall[1].niche[1]",
    ]


@pytest.mark.parametrize(
    ("unit", "keep"), [('"cm"', "mm"), ('"inch"', "in"), ('"millimeter"', "mm"), ("3", "mm"), ('"foot"', "in")]
)
def test_a_wrong_unit_is_told_once_and_the_rest_is_read_in_the_likely_one(unit, keep):
    text = (HEAD + WALL + LAYOUT).replace('units = "mm"', f"units = {unit}")
    if keep == "in":
        for mm, inches in (("300", "12"), ("100", "4"), ("[2, 3]", "0.1"), ("[25, 25]", "[1, 1]"), ("= 20", "= 1")):
            text = text.replace(mm, inches)
    with pytest.raises(JobError) as caught:
        read_text(text, "x.toml")
    assert [p.key for p in caught.value.problems] == ["units"]


def test_a_survey_makes_the_wall_it_was_read_from():
    """By hand: bottom left (0, 0) of the frame; upper right 1497 + 4/7 across at a height of 2100 or so."""
    source = read_text(HEAD + GOOD["a survey instead of a size"], "x.toml")
    shape = rough_shape(source.job.wall[0])
    x0, y0, x1, y1 = shape.bounds
    assert (x0, y0) == pytest.approx((0, -5), abs=0.02)
    assert (x1, y1) == pytest.approx((1500, 2100), abs=0.02)
    assert shape.area == pytest.approx(1500 * 2101.5, rel=0.004)


def test_every_check_is_listed_once_and_says_what_it_finds():
    assert len(set(CHECKS)) == len(CHECKS)
    assert all(check.__doc__.startswith("Find") for check in CHECKS)
