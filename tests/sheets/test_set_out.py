"""The set-out sheet and the story pole, read back from the PDF."""

from __future__ import annotations

import io
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
import shapely

from elevation.drawing.marks import Area, Circle, Line, Text, walk
from elevation.fonts import text_width
from elevation.output.pdf import pages_pdf
from elevation.pipeline import read, work_out
from elevation.sheets import frame
from elevation.sheets.elevation_sheet import ElevationSheet
from elevation.sheets.set_out import SetOut
from elevation.sheets.set_out_data import course_lines, gaps, setting_order
from elevation.sheets.set_out_drawing import beside_start
from elevation.sheets.story_pole import poles
from elevation.sheets.wall_view import START, start_line
from elevation.units import format_length

MM = 72 / 25.4
CROOKED = Path(__file__).parents[2] / "examples" / "crooked-bath.toml"
INCH = 25.4


@pytest.fixture(scope="module")
def plan():
    return work_out(read(CROOKED))


def drawn(plan, paper):
    return frame.compose_set(plan, "installer", paper, (SetOut(),))


def words(page):
    return [m.text for m in walk(page.marks) if isinstance(m, Text)]


def uprights(page):
    """Return place across and length of every upright line of a page of the PDF, mm of paper."""
    lines = [(r["x0"] / MM, (r["bottom"] - r["top"]) / MM) for r in page.lines if abs(r["x1"] - r["x0"]) < 0.01]
    lines += [(e["x0"] / MM, e["height"] / MM) for e in page.rects if e["width"] < 0.01]
    lines += [
        (a[0] / MM, abs(b[1] - a[1]) / MM)
        for c in page.curves
        for a, b in pairwise(c["pts"])
        if abs(a[0] - b[0]) < 0.01
    ]
    return lines


def heights_by_hand(plan):
    """Return every height that the pole must show, mm above the level line, from whole pieces and the readings."""
    out = {0.0}
    for wall in plan.walls:
        base = wall.face.datum[1]
        for piece in plan.pieces_of(wall.face.id):
            if piece.is_whole:
                out |= {min(y for _, y in piece.slot) - base, max(y for _, y in piece.slot) - base}
    # readings of the example: rims, floor, ceiling, and the niche's sill and head above B's lower left corner
    out |= {-h * INCH for h in (36.0, 36.375, 36.3125, 51.5625, 51.625, 51.6875)}
    out |= {h * INCH for h in (45.5625, 45.5, 45.25, 45.3125)}
    out |= {(h - 36) * INCH for h in (41 + 25 / 32, 41 + 25 / 32 + 11 + 13 / 16)}
    return sorted(out)


@pytest.mark.parametrize("paper", ["letter", "tabloid", "a3"])
def test_every_mark_of_the_pole_is_read_back_at_its_height(plan, paper):
    pages = drawn(plan, paper)
    pole = [p for p in pages if p.full_size]
    (found,) = poles(plan)
    assert found.walls == ("A", "B", "C")
    data = pages_pdf(pages, "pole")
    rows = found.rows(frame._body(plan, frame.PAPERS[paper], "installer").width - 24.0)
    there = heights_by_hand(plan)
    # whatever is on the wall is on some row; rows share 20 mm and leave nothing out
    assert rows[0][0] < there[0]
    assert rows[-1][1] > there[-1]
    assert all(b[0] == pytest.approx(a[1] - 20) for a, b in pairwise(rows))
    left = frame.PAPERS[paper].left + 5.0
    with pdfplumber.open(io.BytesIO(data)) as document:
        told = [document.pages[pages.index(p)] for p in pole]
        places = [x for page in told for x, length in uprights(page) if length > 1]
        for above in there:
            within = [r for r in rows if r[0] <= above <= r[1]]
            assert within
            for low, _ in within:
                assert min(abs(x - (left + above - low)) for x in places) < 0.003, above


def test_scale_bars_stand_along_both_axes_of_every_pole_page(plan):
    pages = drawn(plan, "letter")
    data = pages_pdf(pages, "pole")
    with pdfplumber.open(io.BytesIO(data)) as document:
        for page, made in zip(document.pages, pages, strict=True):
            if not made.full_size:
                continue
            level = [(r["x1"] - r["x0"]) / MM for r in page.lines if abs(r["top"] - r["bottom"]) < 0.01]
            upright = [length for _, length in uprights(page)]
            for bar in (100.0, 101.6):
                assert min(abs(v - bar) for v in level) < 0.003
                assert min(abs(v - bar) for v in upright) < 0.003
            assert "100 mm" in words(made)
            assert "4 in" in words(made)


@pytest.mark.parametrize("paper", ["letter", "tabloid", "a4", "arch-d"])
def test_nothing_stands_outside_the_frame(plan, paper):
    on = frame.PAPERS[paper]
    for page in drawn(plan, paper):
        for mark in walk(page.marks):
            if isinstance(mark, Text):
                assert on.left - 0.1 <= mark.at[0] <= on.width - on.margin + 0.1, mark
                assert on.margin - 0.1 <= mark.at[1] <= on.height - on.margin + 0.1, mark


def test_the_pole_names_its_rows_and_what_it_marks(plan):
    said = [w for p in drawn(plan, "tabloid") if p.full_size for w in words(p)]
    assert "row 1 of 9" in said
    assert "row 9 of 9" in said
    assert any("LEVEL LINE" in w for w in said)
    for text in ("-48 1/4", "-36 1/4", "-1/4", "+5 3/4", "+11 3/4", "+41 3/4"):  # heights of courses, by hand
        assert text in said, text
    for thing in ("B n1 sill", "B n1 head", "B ceiling low", "A tub; B tub high"):
        assert any(thing in w for w in said), thing


def test_the_wall_sheet_says_what_a_setter_needs(plan):
    page = next(p for p in drawn(plan, "tabloid") if p.id == "B")
    said = " ".join(words(page))
    for text in (
        "Tub high end left, 3/8 in.", "Tightest 59 3/4 at the top", "36 3/8 above the low point of the tub",
        "joint 3/8", "Set course 2 on it", "what is below last: course 1", "Readings are to the face of the board", "Take again",
    ):  # fmt: skip
        assert text.replace("  ", " ") in said.replace("  ", " "), text


def test_the_level_line_hides_no_course_number_and_the_start_hides_no_name():
    shower = work_out(read(CROOKED.with_name("window-shower.toml")))
    pages = {p.id: list(walk(p.marks)) for p in drawn(shower, "a3") if p.id in ("L", "W", "R")}
    assert len(pages) == 3
    for wall, marks in pages.items():
        level = next(m.points[0][1] for m in marks if isinstance(m, Line) and m.pen == "centre")
        name = next(m for m in marks if isinstance(m, Text) and m.text == "level line")
        start = next(m for m in marks if isinstance(m, Circle) and m.fill == "paper")
        x, y = name.at
        wide = text_width(name.text, name.height)
        apart = max(
            x - start.centre[0], start.centre[0] - x - wide, y - start.centre[1], start.centre[1] - y - name.height
        )
        assert apart >= start.radius, wall
        # course 7 runs from 90 below the level line to 61 above it: its number stands there, last, on cleared ground
        k, seven = next(
            (k, m) for k, m in enumerate(marks) if isinstance(m, Text) and m.text == "7" and m.weight == "semibold"
        )
        assert seven.at[1] < level < seven.at[1] + seven.height
        ground = marks[k - 1]
        assert isinstance(ground, Area)
        assert ground.fill == "paper"
        assert k > next(i for i, m in enumerate(marks) if isinstance(m, Line) and m.pen == "centre")


def test_heights_of_courses_run_both_ways_from_the_level_line(plan):
    lines = course_lines(plan, plan.face("B"))
    # low point of the tub 36 3/8 down; gap 1/8: the first line at 36 1/4, then one every 6; by hand
    assert [c.above / INCH for c in lines] == pytest.approx([-36.25 + 6 * k for k in range(14)], abs=2e-3)
    assert [c.label for c in lines if c.is_cut] == ["1"]
    tied = {round(c.above, 2) for c in course_lines(plan, plan.face("A"))}
    assert {round(c.above, 2) for c in lines} <= tied


def test_joints_at_the_stations(plan):
    found = {(g.edge, g.reading): g.gap / INCH for g in gaps(plan, plan.face("B")) if g.reading is not None}
    assert found["top", 45.5 * INCH] == pytest.approx(3 / 8, abs=2e-3)  # 1/8 at the low end and 1/4 out
    assert found["top", 45.25 * INCH] == pytest.approx(1 / 8, abs=2e-3)
    assert found["bottom", 36 * INCH] == pytest.approx(1 / 8)


@pytest.mark.parametrize("name", ["window-shower", "bullnose-band"])
def test_elevation_and_set_out_have_one_plumb_line_and_one_start(name):
    job = work_out(read(CROOKED.with_name(f"{name}.toml")))
    for wall in job.walls:
        zone, line = wall.zones[0], start_line(wall)
        # the left edge of a tile of the starting course, half a module or more from both ends of the tile
        modules = (line - zone.origin[0]) / zone.lattice.a[0]
        assert modules == pytest.approx(round(modules))
        x0, _, x1, _ = zone.region.bounds
        assert min(line - x0, x1 - line) >= zone.lattice.a[0] / 2 - 0.1
    paper = "tabloid" if job.job.units == "in" else "a3"
    both = frame.compose_set(job, "installer", paper, (ElevationSheet(), SetOut()))
    for wall in job.walls:
        left = start_line(wall) - wall.face.bounds[0]
        said = format_length(left, job.job.step / 2, job.job.units)
        for kind in ("elevation", "set-out"):
            there = [w for p in both if p.kind == kind and p.id.split("-")[0] == wall.face.id for w in words(p)]
            assert said in {w.replace("  ", " ") for w in there}, (wall.face.id, kind, said)


def test_a_band_on_the_pole_is_no_joint_and_has_its_course_line():
    plan = work_out(read(CROOKED.with_name("bullnose-band.toml")))
    (pole,) = poles(plan)
    # liner 1/2 + joint 1/8 above the band's lower side, 36 1/8 above the floor; the level line at 42
    assert {m.words: m.above / INCH for m in pole.marks}["M, N band course 1"] == pytest.approx(-5.25, abs=1e-3)
    grey = [m for p in drawn(plan, "tabloid") for m in walk(p.marks) if isinstance(m, Area) and m.fill == "pale"]
    widths = [max(x for x, _ in m.rings[0]) - min(x for x, _ in m.rings[0]) for m in grey]
    assert widths
    assert max(widths) == pytest.approx(INCH / 8, abs=0.05)


def test_the_plumb_line_stands_where_the_first_course_has_tile():
    plan = work_out(read(CROOKED.with_name("bullnose-band.toml")))
    # a course begins with 2 5/8 + 1/8 after a soft joint of 1/8, then every 6: the vanity stands from 18 to 48, so of
    # 14 7/8, 20 7/8 ... 50 7/8 the last is the nearest to the middle, 33 3/4, that is clear of it
    assert start_line(plan.face("M")) / INCH == pytest.approx(50 + 7 / 8, abs=1e-3)


def test_which_course_is_set_first(plan):
    assert next(iter(setting_order(plan, plan.face("B")))).startswith(
        "Ledger first: fix a straight batten level, its upper edge 30 1/4"
    )
    assert start_line(plan.face("B")) == pytest.approx(plan.face("B").zones[0].origin[0])


@pytest.mark.parametrize("across", [0.0, 0.1, 0.5, 0.85, 1.0])
@pytest.mark.parametrize("above", [-2.0, -0.5, 0.0, 0.5, 2.0])
@pytest.mark.parametrize("wall", [26.0, 40.0, 90.0])
def test_the_name_of_the_level_line_is_never_under_the_start(across, above, wall):
    start, size = (across * wall, 50.0 + above), 2.5
    x, y = beside_start((0.0, wall), 50.0, size, start, [(60.0, 51.0, 80.0, 60.0)])
    name = shapely.box(x, y, x + text_width("level line", size), y + size)
    assert wall < 90.0 or not name.intersects(shapely.box(60, 51, 80, 60))  # a valve there, and room beside it
    assert name.distance(shapely.Point(start)) > START
    assert not name.intersects(shapely.LineString([(0, 50), (wall, 50)]))


def test_a_drawing_goes_down_scale_by_scale_until_its_words_share_the_page():
    shower = work_out(read(CROOKED.with_name("shower-niche.toml")))
    pages = {page.title: page for page in drawn(shower, "tabloid")}
    # at 3/4 in to the foot the words of wall V need a second page; 96 in high, at 1/2 in it is 4 in, less than half
    assert '1/2" = 1\'-0"' in words(pages["Wall V, set-out"])
    assert "Wall V, set-out, continued (2)" not in pages
