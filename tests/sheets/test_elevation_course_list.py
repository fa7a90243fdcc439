"""The course list: what it says, and that what it says adds up to the wall."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevation.pipeline import read, work_out
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.course_list import CourseRow, course_rows, list_lines
from elevation.sheets.elevation_sheet import printed_sizes

EXAMPLES = Path(__file__).parents[2] / "examples"

JOB = """
title = "Course list, invented"
units = "in"
joint = "{joint}"
sliver = "1"
[tile.field]
name = "White"
length = "{length}"
width = "{width}"
thickness = "5/16"
sampled = 10
variation = "1/32"
edge = "pressed"
box = 10
[[wall]]
id = "A"
title = "Wall"
width = "{wide}"
height = "{high}"
[wall.edges]
left = {{ meets = "corner", joint = ["1/8", "1/4"] }}
right = {{ meets = "corner", joint = ["1/8", "1/4"] }}
bottom = {{ meets = "tub", joint = ["1/8", "1/4"] }}
top = {{ meets = "ceiling", joint = "1/8" }}
[wall.layout]
tile = "field"
{layout}
{more}
"""
STACKED = 'pattern = "stacked"\nstart = { x = "joint", y = "bottom" }'


def plan_of(folder: Path, **values: str) -> Plan:
    said = {"joint": "1/16", "length": "11 13/16", "width": "2 15/16", "wide": "60 1/4", "high": "30", "more": ""}
    path = folder / "job.toml"
    path.write_text(JOB.format(**{**said, "layout": STACKED, **values}), encoding="utf-8")
    return work_out(read(path))


def rows_of(plan: Plan, wall: str = "A") -> tuple[CourseRow, ...]:
    body = Body(0, 0, 300, 200, plan.job.units, "installer", plan.job.step)
    return course_rows(plan, plan.face(wall), printed_sizes(plan, body))


def inches(text: str) -> Fraction:
    """Read ``6 1/4`` as a person does."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


@pytest.fixture(params=["tub-alcove", "kitchen-wall", "shower-niche"])
def example(request: pytest.FixtureRequest) -> Plan:
    return work_out(read(EXAMPLES / f"{request.param}.toml"))


def test_says_what_an_installer_reads(tmp_path: Path) -> None:
    lines = list_lines(rows_of(plan_of(tmp_path)))
    # (60 1/4 - 2 x 1/8 - 4 x 11 13/16 - 5 x 1/16) / 2 = 6 7/32, cut short at a corner; 30 - 1/4 is 9 courses and 2 3/4
    assert [(line.courses, line.count) for line in lines] == [("1-9", 9), ("10", 1)]
    assert re.fullmatch(r"(6 (3/16|7/32) cut), 4 whole, \1", lines[0].text)
    assert lines[1].text.startswith("all cut 2 ")
    assert lines[0].blanks == ("left", "right")
    assert lines[1].blanks == ("left", "right", "height")


def test_courses_that_alternate_are_told_once(tmp_path: Path) -> None:
    layout = 'pattern = "running-bond"\nshift = "1/3"\nstart = { x = "joint", y = "bottom" }'
    lines = list_lines(rows_of(plan_of(tmp_path, layout=layout, high="36 3/16")))
    assert [line.courses for line in lines][:3] == ["1, 4 ... 10", "2, 5 ... 11", "3, 6 ... 12"]
    assert sum(line.count for line in lines) == 12


def test_pieces_cut_to_a_shape_are_named(tmp_path: Path) -> None:
    more = '[[wall.hole]]\nid = "v"\nx = "30"\ny = "10 1/2"\ndiameter = "1"\n'
    rows = rows_of(plan_of(tmp_path, more=more))
    named = [r.text for r in rows if "A" in r.text]
    assert named
    assert all(re.search(r"(holed|curved|notched) cut A\d+-\d+", text) for text in named)


def test_an_opening_is_told_in_its_courses(tmp_path: Path) -> None:
    more = '[[wall.opening]]\nid = "w1"\nkind = "window"\nx = "20"\ny = "9"\nwidth = "20"\nheight = "15"\n'
    rows = rows_of(plan_of(tmp_path, more=more))
    beside = rows[5].text  # courses of 3 in: the sixth stands 15 to 18 in up
    assert [n for n, row in enumerate(rows, 1) if "window" in row.text] == [4, 5, 6, 7, 8]
    assert beside.index("cut") < beside.index("(window w1)") < beside.rindex("cut")


def test_every_piece_stands_in_one_row(example: Plan) -> None:
    for face in example.walls:
        rows = rows_of(example, face.face.id)
        listed = Counter(p.id for r in rows for p in r.pieces)
        assert listed == Counter(p.id for p in example.pieces_of(face.face.id))


def test_parts_telescope_to_the_wall(example: Plan) -> None:
    for wall in example.job.wall:
        if wall.width is None:
            continue
        for row in rows_of(example, wall.id):
            assert sum(p.width for p in row.parts) == pytest.approx(wall.width, abs=1e-6)


SIXTEENTHS = st.integers(40 * 16, 70 * 16).map(lambda n: str(Fraction(n, 16)))


@settings(max_examples=25)
@given(
    wide=SIXTEENTHS, joint=st.sampled_from(["1/16", "1/8", "3/16"]), start=st.sampled_from(["joint", "tile", "left"])
)
def test_printed_pieces_joints_and_gaps_make_up_the_width(
    tmp_path_factory: pytest.TempPathFactory, wide: str, joint: str, start: str
) -> None:
    layout = f'pattern = "stacked"\nstart = {{ x = "{start}", y = "bottom" }}'
    plan = plan_of(tmp_path_factory.mktemp("sum"), wide=wide, joint=joint, layout=layout)
    for row in rows_of(plan):
        said = row.text.rpartition(": ")[2]
        tiles, length = 0, Fraction(0)
        for word in said.split(", "):
            if match := re.fullmatch(r"(\d+) (whole|full width)", word):
                tiles += int(match[1])
                length += int(match[1]) * inches("11 13/16")
            elif match := re.fullmatch(r"(\d+) cuts of ([\d /]+)", word):
                tiles += int(match[1])
                length += int(match[1]) * inches(match[2])
            else:
                match = re.fullmatch(r"([\d /]+) cut", word)
                assert match, word
                tiles += 1
                length += inches(match[1])
        left_for_soft_joints = inches(wide) - length - (tiles - 1) * inches(joint)
        # two soft joints of 1/8 to 1/4 in; a ground-in cut may be off by half of what the sheet rounds to
        assert Fraction(2, 8) - Fraction(1, 32) <= left_for_soft_joints <= Fraction(2, 4) + Fraction(1, 32)
