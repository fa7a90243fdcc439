"""Templates at full size: read back from the PDF, from their marks, and from a print of 300 dots to the inch."""

from __future__ import annotations

import io
import math
from collections import defaultdict
from typing import Any

import pdfplumber
import pypdfium2
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate

from elevation.drawing.marks import Area, Group, Line, Page, Text, walk
from elevation.output.pdf import pages_pdf
from elevation.plan import Plan
from elevation.sheets import frame
from elevation.sheets.slim import MARGIN, slim_area
from elevation.sheets.template_parts import KINDS, OVERLAP, Template, spread, templates
from elevation.sheets.templates import Templates
from tests.builders import TILE, job_data, wall_data
from tests.sheets.jobs import crooked, example
from tests.sheets.plans import boxes, groups, overlaps, plan_of, said

MM = 72 / 25.4


def large() -> dict[str, Any]:
    """Return holes and a tub's corner in tiles of 900 by 600 mm: each template takes several pages."""
    tub = {"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 1250, "height": 350, "joint": 6, "radius": 60}
    hole = {"id": "box", "x": 1400, "y": 850, "width": 500, "height": 300, "cover": [520, 320]}
    tile = {"t": {**TILE, "length": 900, "width": 600}}
    return job_data(wall_data(2600, 1800, fixture=[tub], hole=[hole]), tile=tile)


JOBS = {"alcove": lambda: example("tub-alcove"), "crooked": crooked, "large": large}


@pytest.fixture(scope="module", params=JOBS)
def plan(request: pytest.FixtureRequest) -> Plan:
    return plan_of(JOBS[request.param]())


@pytest.fixture(scope="module")
def pages(plan: Plan) -> tuple[Page, ...]:
    return frame.compose_set(plan, "installer", "tabloid", [Templates()])


def window(group: Group) -> tuple[float, ...]:
    return tuple(float(v) for v in dict(group.data)["window"].split())


def outline_on(page: Page, group: Group) -> list[shapely.LineString]:
    """Return the lines of a piece on a page."""
    found = []
    for mark in walk(group.marks):
        if isinstance(mark, Area) and mark.pen == "feature":
            found += [shapely.LineString([*ring, ring[0]]) for ring in mark.rings]
        elif isinstance(mark, Line) and mark.pen == "feature":
            found.append(shapely.LineString(mark.points))
    return found


def test_every_piece_that_needs_one_has_one(plan: Plan, pages: tuple[Page, ...]) -> None:
    wanted = {str(p.number) for p in plan.cuts if p.kind in KINDS}
    drawn = {n for page in pages for g in groups(page.marks, "template") for n in dict(g.data)["numbers"].split()}
    assert drawn == wanted
    assert wanted


def test_pages_together_show_the_whole_cut_line_true_to_size(plan: Plan, pages: tuple[Page, ...]) -> None:
    by_number = {str(p.number): p for p in plan.cuts}
    parts: dict[str, list[shapely.LineString]] = defaultdict(list)
    for page in pages:
        for g in groups(page.marks, "template"):
            piece = by_number[dict(g.data)["numbers"].split()[0]]
            x0, y0 = min(x for x, _ in piece.slot), min(y for _, y in piece.slot)
            lines = outline_on(page, g)
            # where the window stands on the paper is told by the name's own group: least x, y of all that is drawn
            at = dict(g.data)["at"].split()
            dx, dy = x0 + window(g)[0] - float(at[0]), y0 + window(g)[1] - float(at[1])
            parts[str(piece.number)] += [translate(line, dx, dy) for line in lines]
    for number, lines in parts.items():
        piece = by_number[number]
        body = shapely.Polygon(piece.outer, piece.holes)
        drawn = shapely.union_all(lines)
        assert shapely.hausdorff_distance(shapely.union(drawn, body.boundary), body.boundary) < 0.003
        cut = body.boundary.difference(shapely.Polygon(piece.slot).boundary.buffer(0.05))
        assert cut.difference(drawn.buffer(0.003)).length < 0.01, number


def test_registration_marks_have_the_same_place_on_both_pages(plan: Plan) -> None:
    for template in templates(plan):
        area = slim_area("letter")
        found = spread(template, area.width, area.height - 20)
        covered = shapely.union_all([shapely.box(*w.box) for w in found.windows])
        assert covered.buffer(1e-6).contains(shapely.box(*template.frame))
        for _, (x, y) in found.marks:
            near = [w for w in found.windows if shapely.box(*w.box).contains(shapely.Point(x, y).buffer(4.0))]
            assert len(near) >= 2


def test_marks_printed_on_two_pages_agree() -> None:
    pages = frame.compose_set(plan_of(large()), "installer", "a3", [Templates()])
    seen: dict[tuple[str, str], set[tuple[str, str]]] = defaultdict(set)
    count: dict[tuple[str, str], int] = defaultdict(int)
    shown: dict[tuple[str, str], list[tuple[float, float]]] = defaultdict(list)
    for page in pages:
        template = next(groups(page.marks, "template"))
        number = dict(template.data)["numbers"].split()[0]
        at = [float(v) for v in dict(template.data)["at"].split()]
        for mark in groups(page.marks, "registration"):
            data = dict(mark.data)
            key = number, data["mark"]
            seen[key].add((data["x"], data["y"]))
            count[key] += 1
            cross = next(m for m in mark.marks if hasattr(m, "centre"))
            x0, y0, _, _ = window(template)
            shown[key].append((cross.centre[0] - at[0] + x0, cross.centre[1] - at[1] + y0))  # type: ignore[union-attr]
    assert seen
    assert all(len(places) == 1 for places in seen.values())
    assert all(n >= 2 for n in count.values())
    for key, places in shown.items():
        x, y = next(iter(seen[key]))
        for px, py in places:
            assert (px, py) == pytest.approx((float(x), float(y)), abs=1e-4)


def rectangle(width: float, height: float) -> Template:
    """Return a template of a whole tile, which fills its pages most."""
    slot = shapely.box(0, 0, width, height)

    class Plain(Template):
        origin = (0.0, 0.0)
        body = slot
        frame = (-5.0, -5.0, width + 5, height + 5)

    found = Plain((), None, None)  # type: ignore[arg-type]
    found.__dict__["slot"] = slot
    return found


@settings(max_examples=50)
@given(st.floats(20, 1500), st.floats(20, 1500))
def test_windows_cover_and_overlap(width: float, height: float) -> None:
    found = spread(rectangle(width, height), 240, 150)
    covered = shapely.union_all([shapely.box(*w.box) for w in found.windows])
    assert covered.buffer(1e-6).contains(shapely.box(-5, -5, width + 5, height + 5))
    for w in found.windows:
        assert w.box[2] - w.box[0] <= 240 + 1e-6
        assert w.box[3] - w.box[1] <= 150 + 1e-6
    for one in found.windows:
        right = [w for w in found.windows if (w.row, w.column) == (one.row, one.column + 1)]
        for two in right:
            assert one.box[2] - two.box[0] == pytest.approx(OVERLAP)
            marks = [p for _, p in found.marks if abs(p[0] - (two.box[0] + OVERLAP / 2)) < 1e-6
                     and one.box[1] < p[1] < one.box[3]]  # fmt: skip
            shares = sorted((y - one.box[1]) / (one.box[3] - one.box[1]) for _, y in marks)
            assert any(abs(s - 0.1) < 1e-6 for s in shares)
            assert any(abs(s - 0.9) < 1e-6 for s in shares)


def test_read_back_from_the_pdf(plan: Plan, pages: tuple[Page, ...]) -> None:
    data = pages_pdf(pages, "T")
    with pdfplumber.open(io.BytesIO(data)) as document:
        for page, made in zip(document.pages, pages, strict=True):
            assert (float(page.width), float(page.height)) == pytest.approx(
                (made.width * MM, made.height * MM), abs=0.01
            )
            things = [*page.lines, *page.curves, *page.rects]
            spans = {(round((t["x1"] - t["x0"]) / MM, 4), round((t["y1"] - t["y0"]) / MM, 4)) for t in things}
            for wanted in ((100.0, 0.0), (0.0, 100.0), (101.6, 0.0), (0.0, 101.6)):
                assert any(abs(w - wanted[0]) < 0.003 and abs(h - wanted[1]) < 0.003 for w, h in spans), wanted
            # every outline of a piece, point by point
            points = {(x / MM, float(page.height) / MM - y / MM) for t in things for x, y in t["pts"]}
            tree = shapely.STRtree([shapely.Point(p) for p in points])
            for g in groups(made.marks, "template"):
                for line in outline_on(made, g):
                    for p in line.coords:
                        assert tree.query_nearest(shapely.Point(p), return_distance=True)[1][0] < 0.003
            # margins
            for t in things:
                assert t["x0"] >= MARGIN * MM - 0.01
                assert t["x1"] <= float(page.width) - MARGIN * MM + 0.01
                assert t["y0"] >= MARGIN * MM - 0.01
                assert t["y1"] <= float(page.height) - MARGIN * MM + 0.01
            for char in page.chars:
                assert char["x0"] >= MARGIN * MM - 0.5
                assert char["x1"] <= float(page.width) - MARGIN * MM + 0.5


def test_words(plan: Plan, pages: tuple[Page, ...]) -> None:
    for n, page in enumerate(pages, 1):
        words = said(page)
        assert page.full_size
        assert "100 mm must measure 100 mm" in words
        assert "FULL SIZE (1:1)" in words
        assert "ace up" in words
        assert f"Sheet {n} of {len(pages)}" in words
        assert "1a2b3c4d" in words
        for box in boxes(page):
            assert box.x0 >= MARGIN - 0.3, box
            assert box.x1 <= page.width - MARGIN + 0.3, box
        for group in groups(page.marks, "template"):
            assert dict(group.data)["numbers"].split()[0] in words


def test_letter_for_inches_and_a4_for_millimetres() -> None:
    for data, sizes in (
        (example("tub-alcove"), {(279.4, 215.9), (215.9, 279.4)}),
        (crooked(), {(297, 210), (210, 297)}),
    ):
        pages = frame.compose_set(plan_of(data), "installer", "tabloid", [Templates()])
        assert {(p.width, p.height) for p in pages} <= sizes


def test_several_small_ones_share_a_page() -> None:
    pages = frame.compose_set(plan_of(example("tub-alcove")), "installer", "tabloid", [Templates()])
    assert max(len(list(groups(p.marks, "template"))) for p in pages) > 1
    for page in pages:
        assert [pair for pair in overlaps(page) if "factory edge" not in pair] == []


def test_a_print_of_300_dpi_measures_true() -> None:
    pages = frame.compose_set(plan_of(example("tub-alcove")), "installer", "tabloid", [Templates()])
    data = pages_pdf(pages, "T")
    image = pypdfium2.PdfDocument(data)[0].render(scale=300 / 72, grayscale=True).to_numpy() < 128
    made = pages[0]

    def dark(x: float, y: float) -> bool:
        """Tell whether the print is dark within a dot of a place, mm from the lower left corner."""
        col, row = round(x / 25.4 * 300), round((made.height - y) / 25.4 * 300)
        return bool(image[row - 2 : row + 3, col - 2 : col + 3].any())

    checked = 0
    for group in groups(made.marks, "template"):
        for line in outline_on(made, group):
            for k in range(51):
                p = line.interpolate(k / 50, normalized=True)
                assert dark(p.x, p.y), (p.x, p.y)
                checked += 1
    # the bar of 100 mm, from dot to dot along its row
    bar = next(g for g in groups(made.marks, "scale-bar") if dict(g.data) == {"length": "100 mm", "axis": "x"})
    x, y, x1, _ = bar.marks[0].segments[0]  # type: ignore[union-attr]
    row = round((made.height - y) / 25.4 * 300)
    strip = image[row - 2 : row + 3].any(axis=0)
    cols = [c for c in range(len(strip)) if strip[c] and x - 2 < c * 25.4 / 300 < x1 + 2]
    assert (cols[-1] - cols[0]) * 25.4 / 300 == pytest.approx(100.0, abs=0.35)
    assert checked > 100


def test_whole_tiles_and_straight_cuts_need_no_template() -> None:
    plan = plan_of(job_data(wall_data(1510, 1160)))
    assert frame.compose_set(plan, "installer", "a3", [Templates()]) == ()


def test_a_tile_not_measured_is_nominal() -> None:
    data = large()
    data["tile"]["t"]["sampled"] = 0
    for page in frame.compose_set(plan_of(data), "installer", "a3", [Templates()]):
        assert any(isinstance(m, Text) and m.text == "NOMINAL" and m.height >= 5 for m in walk(page.marks))
        assert math.isclose(page.width * page.height, 297 * 210)
