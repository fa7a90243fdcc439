"""The cut sheet against the plan: every number, every quantity, every sketch true to its scale."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from elevation.drawing.marks import Area, Page, Text, walk
from elevation.pipeline import read, work_out
from elevation.plan import Plan
from elevation.sheets.cut_groups import CAUTIONS, cut_groups, tool_for
from tests.builders import BARE, job_data, wall_data
from tests.sheets.jobs import crooked, example, nasty
from tests.sheets.plans import groups, pages_of, plan_of, said, texts

JOBS = {"alcove": lambda: example("tub-alcove"), "kitchen": lambda: example("kitchen-wall"),
        "shower": lambda: example("shower-niche"), "crooked": crooked, "nasty": lambda: nasty(4)}  # fmt: skip


@pytest.fixture(scope="module", params=JOBS)
def plan(request: pytest.FixtureRequest) -> Plan:
    return plan_of(JOBS[request.param]())


@pytest.fixture(scope="module")
def pages(plan: Plan) -> tuple[Page, ...]:
    # the order of setting, at the end, names them once more
    return tuple(p for p in pages_of(plan, "tabloid", kinds=["cuts"]) if not p.id.startswith("order"))


def test_every_cut_is_printed_once_with_a_box_to_tick(plan: Plan, pages: tuple[Page, ...]) -> None:
    printed = Counter(t.text for page in pages for t in texts(page))
    for cut in plan.cuts:
        assert printed[str(cut.number)] == 1, cut.number
    ticks = sum(
        isinstance(m, Area) and m.pen == "fine" and abs(m.rings[0][2][0] - m.rings[0][0][0] - 2.8) < 1e-9
        and abs(m.rings[0][2][1] - m.rings[0][0][1] - 2.8) < 1e-9
        for page in pages for m in walk(page.marks)
    )  # fmt: skip
    assert ticks == len(plan.cuts)


def test_quantities_add_up(plan: Plan, pages: tuple[Page, ...]) -> None:
    grouped = [g for _, found in cut_groups(plan) for g in found]
    assert sum(len(g.pieces) for g in grouped) == len(plan.cuts)
    assert {p.id for g in grouped for p in g.pieces} == {p.id for p in plan.cuts}
    count = 0
    seen = set()
    for page in pages:
        for text in texts(page):
            match = re.fullmatch(r"(\d+) pieces?(, part (\d+) of \d+)?", text.text)
            if match and (match[3] is None or match[3] == "1"):
                count += int(match[1])
                seen.add(text.at)
    assert count == len(plan.cuts)


def test_sketches_are_true_to_scale(plan: Plan, pages: tuple[Page, ...]) -> None:
    by_number = {p.number: p for p in plan.cuts}
    checked = 0
    for page in pages:
        scale = next(t.text for t in texts(page) if re.match(r"(1:\d+|.*\" = 1'-0\")", t.text))
        ratio = float(scale[2:]) if scale.startswith("1:") else 12 / inches(scale.split('"')[0])
        for group in groups(page.marks, "cut-sketch"):
            piece = by_number[dict(group.data)["numbers"].split()[0]]
            drawn = next(m for m in group.marks if isinstance(m, Area) and m.pen == "cut")
            xs, ys = [p[0] for p in drawn.rings[0]], [p[1] for p in drawn.rings[0]]
            assert (max(xs) - min(xs)) * ratio == pytest.approx(piece.width, abs=0.003)
            assert (max(ys) - min(ys)) * ratio == pytest.approx(piece.height, abs=0.003)
            checked += 1
    assert checked


def inches(text: str) -> float:
    """Return a number such as ``1 1/2``."""
    return sum(float(a) / float(b or 1) for a, _, b in (part.partition("/") for part in text.split()))


def test_dimensions_stand_on_the_sketch(plan: Plan, pages: tuple[Page, ...]) -> None:
    by_number = {p.number: p for p in plan.cuts}
    for page in pages:
        for group in groups(page.marks, "cut-sketch"):
            piece = by_number[dict(group.data)["numbers"].split()[0]]
            words = {" ".join(m.text.strip("()ØR ").split()) for m in walk(group.marks) if isinstance(m, Text)}
            for d in plan.measures[piece.id].dimensions:
                derived = d.label in ("width", "height") and not (d.sawn or d.full)
                assert derived or d.text in words or abs(d.mm) < 0.05, (piece.number, d.label)


def test_cutting_order_is_by_fence_then_course(plan: Plan) -> None:
    for _, found in cut_groups(plan):
        for tile in {g.first.tile for g in found}:
            straight = [g for g in found if g.measure.fence is not None and g.first.tile == tile]
            keys = [(g.measure.fence[0], -float(g.measure.fence[1])) for g in straight if g.measure.fence]
            assert keys == sorted(keys)
            for one, two in zip(straight, straight[1:], strict=False):
                if one.measure.fence == two.measure.fence:
                    assert one.first.course <= two.first.course


def test_cautions_of_every_tool_on_a_page_are_printed(plan: Plan, pages: tuple[Page, ...]) -> None:
    tools = {g.tool.text: g.tool for _, found in cut_groups(plan) for g in found}
    for page in pages:
        words = said(page)
        for text, tool in tools.items():
            if f" {text}." in words:
                assert all(CAUTIONS[c] in words for c in tool.cautions), (page.id, text)


def test_tools_by_kind() -> None:
    holes = [
        {"id": "small", "x": 450, "y": 225, "diameter": 30, "cover": 70},
        {"id": "big", "x": 1000, "y": 225, "diameter": 110, "cover": 140},
        {"id": "box", "x": 1650, "y": 225, "width": 50, "height": 70, "cover": [70, 115]},
    ]
    edges = {"left": BARE, "right": BARE, "bottom": BARE, "top": BARE}
    plan = plan_of(job_data(wall_data(1910, 1160, hole=holes, edges=edges)))
    by_hole = {}
    for p in plan.cuts:
        tool = tool_for(p, plan.measures[p.id], plan.tile(p))
        by_hole[p.kind, p.circles[0].of if p.circles else ""] = tool.text
    assert by_hole["holed", "small"] == "Core bit or hole saw"
    assert by_hole["holed", "big"] == "Grinder"
    assert by_hole["holed", ""] == "Drill the corners, then grinder"
    assert by_hole["straight", ""] == "Score and snap, or wet saw"


def test_a_wall_of_whole_tiles_has_no_cut_sheet() -> None:
    plan = plan_of(job_data(wall_data(1512, 1221)))
    assert plan.cuts == ()
    assert pages_of(plan, "a3", kinds=["cuts"]) == ()


def test_near_alike_tapers_share_a_table() -> None:
    plan = plan_of(crooked())
    pages = pages_of(plan, "tabloid", kinds=["cuts"])
    tapered = [p for p in plan.cuts if p.kind == "tapered"]
    assert len(tapered) > 10
    tables = [g for page in pages for g in groups(page.marks, "cut-sketch") if g.title == "tapers"]
    assert tables
    assert max(len(dict(g.data)["numbers"].split()) for g in tables) >= 4


def test_cuts_of_a_wall_at_two_scales_say_of_which_tile_they_are():
    plan = work_out(read(Path(__file__).parents[2] / "examples" / "bullnose-band.toml"))
    printed = [m.text for p in pages_of(plan, "tabloid", kinds=["cuts"]) for m in walk(p.marks) if isinstance(m, Text)]
    # 53 tiles of the band, 50 whole; M has 49 cuts of the field, N 21 and no more than one of the band
    heads = [text.partition(".")[0] for text in printed if text.startswith("Wall ") and " cut" in text]
    assert heads == [
        "Wall M, Sea green 2 x 2: 2 cuts of 2 kinds", "Wall N, Sea green 2 x 2: 1 cut of 1 kind",
        "Wall M, Ivory 3 x 6: 49 cuts of 8 kinds", "Wall N, Ivory 3 x 6: 21 cuts of 3 kinds",
    ]  # fmt: skip
