"""Elevations: what stands on them, where, and that nothing stands on anything else."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Segments, Text, walk
from elevation.drawing.pens import PENS
from elevation.fonts import text_width
from elevation.pipeline import read, work_out
from elevation.plan import Plan
from elevation.sheets.base import Body, Content
from elevation.sheets.elevation_sheet import ElevationSheet
from elevation.sheets.frame import compose_set
from elevation.sheets.wall_dimensions import outline_corners
from tests.builders import job_data, wall_data
from tests.sheets.plans import plan_of, said

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("tub-alcove", "kitchen-wall", "shower-niche", "crooked-bath")

WIDE = """
title = "Wide, invented"
units = "mm"
joint = "3"
sliver = "25"
[tile.field]
name = "White"
length = "300"
width = "75"
thickness = "8"
sampled = 10
variation = "1"
edge = "pressed"
box = 10
[trim.end]
kind = "liner"
face = "20"
stock = "300"
[[wall]]
id = "A"
title = "Long wall"
width = "{width}"
height = "{height}"
datum = "1000"
[wall.edges]
left = {{ meets = "corner", joint = "3" }}
right = {{ trim = "end" }}
[wall.layout]
tile = "field"
pattern = "running-bond"
start = {{ x = "joint", y = "bottom" }}
"""


@cache
def example(name: str) -> Plan:
    return work_out(read(EXAMPLES / f"{name}.toml"))


def body_for(plan: Plan, edition: str = "installer", *, small: bool = False) -> Body:
    size = (190.0, 180.0) if small else (335.0, 244.0)
    return Body(17.7, 17.7, *size, plan.job.units, edition, plan.job.step)  # type: ignore[arg-type]


@cache
def pages(name: str, edition: str = "installer", small: bool = False) -> tuple[Content, ...]:
    plan = example(name)
    return tuple(ElevationSheet().compose(plan, body_for(plan, edition, small=small)))


def wide(tmp_path: Path, width: int, height: int) -> Plan:
    path = tmp_path / "wide.toml"
    path.write_text(WIDE.format(width=width, height=height), encoding="utf-8")
    return work_out(read(path))


def texts(content: Content) -> list[Text]:
    return [m for m in walk(content.marks) if isinstance(m, Text)]


def box_of(text: Text) -> tuple[float, float, float, float]:
    """Return what the capitals of a text cover, level or upright."""
    width = text_width(text.text, text.height, text.weight)
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    x, y = text.at
    if text.angle:
        return x - text.height, y - before, x, y - before + width
    return x - before, y, x - before + width, y + text.height


def points(mark: Mark) -> list[tuple[float, float]]:
    match mark:
        case Line(run, _):
            return list(run)
        case Area(rings, _, _):
            return [p for ring in rings for p in ring]
        case Segments(rows, _):
            return [p for a, b, c, d in rows for p in ((a, b), (c, d))]
        case Circle((x, y), r, _, _):
            return [(x - r, y - r), (x + r, y + r)]
        case Text():
            a, b, c, d = box_of(mark)
            return [(a, b), (c, d)]
    return []


def groups(content: Content) -> list[Group]:
    return [m for m in walk(content.marks) if isinstance(m, Group) and m.classes.startswith("tile")]


@pytest.mark.parametrize("small", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_no_text_stands_on_another(name: str, small: bool) -> None:
    for content in pages(name, small=small):
        found = [(box_of(t), t.text) for t in texts(content)]
        for (one, a), (two, b) in combinations(found, 2):
            apart = (
                one[2] <= two[0] + 0.05
                or two[2] <= one[0] + 0.05
                or one[3] <= two[1] + 0.05
                or two[3] <= one[1] + 0.05
            )
            assert apart, f"{content.id}: {a!r} on {b!r}"


@pytest.mark.parametrize("edition", ["installer", "homeowner"])
@pytest.mark.parametrize("small", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_everything_stands_in_the_free_area(name: str, small: bool, edition: str) -> None:
    body = body_for(example(name), edition, small=small)
    for content in pages(name, edition, small):
        for mark in content.marks:
            for m in walk((mark,)):
                if isinstance(mark, Group) and mark.clip is not None and m is not mark:
                    continue
                for x, y in points(m):
                    assert body.x - 0.4 <= x <= body.right + 0.4, m
                    assert body.y - 0.4 <= y <= body.top + 0.4, m


@pytest.mark.parametrize("name", NAMES)
def test_the_number_of_every_cut_stands_once(name: str) -> None:
    plan = example(name)
    for wall in plan.walls:
        own = [c for c in pages(name) if c.id.split("-")[0] == wall.face.id]
        drawn = Counter(t.text for c in own for t in texts(c) if t.weight == "semibold" and t.height <= 2.5)
        for piece in plan.pieces_of(wall.face.id):
            if piece.number is not None:
                assert drawn[piece.number] == 1, piece.number


@pytest.mark.parametrize("name", NAMES)
def test_a_number_stands_in_its_cut_or_on_a_leader_from_it(name: str) -> None:
    for content in pages(name):
        rings = {dict(g.data).get("number"): g.marks[0] for g in groups(content) if "cut" in g.classes}
        starts = [m.points[0] for m in content.marks if isinstance(m, Line) and len(m.points) == 2]
        for text in texts(content):
            area = rings.get(text.text)
            if area is None:
                continue
            xs, ys = [p[0] for p in points(area)], [p[1] for p in points(area)]
            a, b, c, d = box_of(text)
            inside = min(xs) <= a and c <= max(xs) and min(ys) <= b and d <= max(ys)
            led = any(min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys) for x, y in starts)
            assert inside or led, text.text


def test_lines_are_heavier_the_more_they_matter() -> None:
    content = pages("tub-alcove")[1]
    areas = [m for m in walk(content.marks) if isinstance(m, Area) and m.pen is not None]
    cut = {m.pen for g in groups(content) if g.classes == "tile cut" for m in g.marks if isinstance(m, Area)}
    lines = [m.pen for m in content.marks if isinstance(m, Segments)]
    assert cut == {"cut"}
    assert "whole" in lines
    widest = max(areas, key=lambda m: PENS[m.pen or ""].width)
    assert PENS[widest.pen or ""].width > PENS["cut"].width > PENS["whole"].width
    assert PENS["cut"].width == 2 * PENS["whole"].width


@pytest.mark.parametrize("name", NAMES)
def test_tiles_are_drawn_true_to_scale(name: str) -> None:
    plan = example(name)
    for content in pages(name):
        for group in groups(content):
            area = group.marks[0]
            data = dict(group.data)
            inch = 25.4 if plan.job.units == "in" else 1.0
            xs, ys = [p[0] for p in points(area)], [p[1] for p in points(area)]
            assert content.scale_ratio is not None
            assert (max(xs) - min(xs)) * content.scale_ratio == pytest.approx(float(data["w"]) * inch, abs=0.003)
            assert (max(ys) - min(ys)) * content.scale_ratio == pytest.approx(float(data["h"]) * inch, abs=0.003)


@pytest.mark.parametrize("name", NAMES)
def test_every_tile_is_there_once_with_its_data(name: str) -> None:
    plan = example(name)
    for wall in plan.walls:
        parts = [c for c in pages(name) if c.id.split("-")[0] == wall.face.id]
        drawn = {g.id: g for c in parts for g in groups(c)}
        pieces = plan.pieces_of(wall.face.id)
        assert set(drawn) == {"t-" + p.id.replace("/", ".") for p in pieces}
        for piece in pieces:
            group = drawn["t-" + piece.id.replace("/", ".")]
            assert ("whole" in group.classes) == piece.is_whole
            assert dict(group.data).get("number") == piece.number
            assert group.title


@pytest.mark.parametrize("name", NAMES)
def test_lettering_is_never_too_small(name: str) -> None:
    numbers = {p.number for p in example(name).cuts}
    for content in pages(name):
        for text in texts(content):
            assert text.height >= (1.8 if text.text in numbers else 2.5), text.text


def test_end_walls_tell_front_from_back() -> None:
    left, back, right = (c for c in pages("tub-alcove") if "-" not in c.id)
    at = {t.text: t.at[0] for t in texts(left) if t.text in ("FRONT", "BACK")}
    assert at["FRONT"] < at["BACK"]
    at = {t.text: t.at[0] for t in texts(right) if t.text in ("FRONT", "BACK")}
    assert at["BACK"] < at["FRONT"]
    assert not [t for t in texts(back) if t.text in ("FRONT", "BACK")]


def test_the_legend_explains_only_what_occurs() -> None:
    words = {c.id: " ".join(t.text for t in texts(c)) for c in pages("tub-alcove")}
    assert [wall for wall in "ABC" if "cover plate" in words[wall]] == ["C"]
    assert [wall for wall in "ABC" if "back of a niche" in words[wall]] == ["B"]
    assert "level line, 21 1/4 above the lower left corner" in words["B"]


def test_glass_is_explained_in_the_legend_and_named_where_there_is_no_legend() -> None:
    for wall, glass in (("L", True), ("W", False), ("R", True)):
        words = [t.text for c in pages("window-shower") if c.id.split("-")[0] == wall for t in texts(c)]
        assert ("glass: keep holes clear of it" in words) == glass, wall
        assert not any(w.startswith("No room on the drawing") for w in words), wall
    drawn = next(c for c in pages("window-shower", "homeowner") if c.id == "L")
    assert any("glass" in t.text for t in texts(drawn))


def test_the_homeowner_sees_no_numbers_and_no_hatch() -> None:
    for content in pages("tub-alcove", "homeowner"):
        numbers = {p.number for p in example("tub-alcove").cuts}
        assert not numbers & {t.text for t in texts(content)}
        assert not [m for m in walk(content.marks) if isinstance(m, Segments) and m.pen == "hatch"]
        assert "COURSE LIST" not in {t.text for t in texts(content)}


def test_the_homeowner_sees_the_colour_of_the_tile_and_the_installer_white_ground() -> None:
    colour = example("bullnose-band").job.tile["brick"].colour
    for edition, wanted in (("homeowner", colour), ("installer", "paper")):
        (tile, *_) = (g for c in pages("bullnose-band", edition) for g in groups(c) if g.id.startswith("t-M.field"))
        (area,) = (m for m in tile.marks if isinstance(m, Area))
        assert area.fill == wanted, edition


def test_dimensions_are_not_said_twice() -> None:
    for content in pages("tub-alcove"):
        level = [t for t in texts(content) if t.height == 3.5 and t.text == "34  1/2"]
        assert len(level) == (1 if content.id in ("A", "C") else 0)


def test_a_wall_too_big_for_the_paper_is_broken_at_match_lines(tmp_path: Path) -> None:
    plan = wide(tmp_path, 30000, 3000)
    found = list(ElevationSheet().compose(plan, body_for(plan)))
    parts = [c for c in found if c.scale_ratio is not None]
    assert len(parts) > 1
    assert {c.scale_ratio for c in parts} <= {5, 10, 20, 50}
    assert all(any(isinstance(m, Line) and m.pen == "match" for m in c.marks) for c in parts)
    drawn = {g.id for c in parts for g in groups(c)}
    assert drawn == {"t-" + p.id.replace("/", ".") for p in plan.pieces_of("A")}
    assert len({c.id for c in found}) == len(found)


def test_a_trim_is_drawn_at_its_face(tmp_path: Path) -> None:
    plan = wide(tmp_path, 900, 600)
    (content, *_) = ElevationSheet().compose(plan, body_for(plan))
    feature = [m.points for m in content.marks if isinstance(m, Line) and m.pen == "feature"]
    upright = [run for run in feature if abs(run[0][0] - run[1][0]) < 1e-6 and abs(run[0][1] - run[1][1]) > 1]
    assert content.scale_ratio is not None
    near, far = sorted(run[0][0] for run in upright)
    assert (far - near) * content.scale_ratio == pytest.approx(20.0, abs=0.003)


def test_two_runs_are_alike() -> None:
    plan = example("shower-niche")
    again = tuple(ElevationSheet().compose(plan, body_for(plan)))
    assert again == pages("shower-niche")


def test_an_arch_is_dimensioned_by_its_springing_and_crown_and_its_radius_is_told() -> None:
    outline = [[0, 0], [1200, 0], [1200, 1500], {"arc": 600}, [0, 1500]]
    plan = plan_of(job_data(wall_data(outline=outline)))
    (laid,) = plan.walls
    assert len(laid.face.outline.ring) > 100  # chords by the hundred, none of which is dimensioned
    corners = outline_corners(laid.face)
    assert sorted((round(x, 2), round(y, 2)) for x, y in corners) == [
        (0, 0), (0, 1500), (600, 2100), (1200, 0), (1200, 1500),
    ]  # fmt: skip
    (page, *_) = compose_set(plan, "installer", "a3", [ElevationSheet()])
    assert "Side 3: arc of radius 600, its centre 600 across, 1500 up." in said(page)


def test_a_wall_whose_numbers_would_stand_beside_their_cuts_is_drawn_larger_in_two_parts() -> None:
    first, second, *_ = pages("kitchen-wall")
    assert first.scale_ratio == second.scale_ratio == 10
    numbers = {p.number for p in example("kitchen-wall").cuts}
    inside = 0
    for content in (first, second):
        for group in groups(content):
            area, number = group.marks[0], dict(group.data).get("number")
            xs, ys = [p[0] for p in points(area)], [p[1] for p in points(area)]
            for a, b, c, d in (box_of(t) for t in texts(content) if t.text == number):
                inside += min(xs) <= a and c <= max(xs) and min(ys) <= b and d <= max(ys)
    assert inside > 0.8 * len(numbers)
    assert "plumb line" in {t.text for t in texts(first)}


def test_the_number_of_a_leg_beside_the_tub_stands_level_with_its_cut() -> None:
    # a leader that slants past the letters of the courses would set Ab-1 beside the letter of another course
    left_wall = texts(pages("tub-alcove")[0])
    for course in "bcde":
        number = next(t for t in left_wall if t.text == f"A{course}-1")
        letter = min(
            (t for t in left_wall if t.text == course), key=lambda t: t.at[0]
        )  # the course list is further right
        low, high = (sum(box_of(t)[1::2]) / 2 for t in (number, letter))
        assert low == pytest.approx(high, abs=0.6)
