"""Every rule: a job it speaks of, and the same job put right; limits from the published rules that they name."""

from dataclasses import replace

import pytest

from elevation.checks import RULES, all_findings
from elevation.errors import Finding
from tests.planning import plan_of
from tests.strategies import job_data, tile, wall

TRIM = {"kind": "profile", "face": 2.5, "joint": 2, "height": 11, "stock": 2500}
BARE = {"meets": "wall"}
SIDES = ("left", "right", "bottom", "top")


def bare(**more):
    """Return a wall of which nothing but tile is said: whole tiles from the lower left, no soft joints."""
    start = {"x": "left", "y": "bottom"}
    base = {"width": 4 * 302 - 2, "height": 10 * 102 - 2, "edges": dict.fromkeys(SIDES, BARE)}
    return wall(**{**base, "layout": {"tile": "field", "pattern": "stacked", "start": start}, **more})


def outlined(**more):
    """Return a wall by its outline."""
    return {k: v for k, v in wall(**more).items() if k not in ("width", "height")}


def found(rule, *walls, **more):
    """Return what one rule finds."""
    return [f for f in plan_of(job_data(*(walls or (bare(),)), **more)).findings if f.rule == rule]


def one(rule, *walls, **more):
    """Return the one finding of a rule; there must be one."""
    (finding,) = found(rule, *walls, **more)
    return finding


def bond(length, shift, joint, **more):
    layout = {"tile": "field", "pattern": "running-bond", "shift": shift, "start": {"x": "left", "y": "bottom"}}
    return {"tile": {"field": tile(length, 200, **more)}, "joint": joint}, bare(layout=layout)


def test_a_plain_wall_of_whole_tiles_has_nothing_to_say():
    assert plan_of(job_data(bare())).findings == ()


def test_slivers_are_told_once_for_an_edge_and_by_how_much():
    finding = one("sliver", bare(width=4 * 302 + 20))
    assert (finding.where, finding.level) == ("A right", "advise")
    assert finding.text.startswith("10 cuts under 25 mm, the narrowest 20 mm: A1-5, ")
    assert "Moving the start to the left by 5 mm or more" in finding.text
    assert found("sliver", bare(width=4 * 302 + 25)) == []


@pytest.mark.parametrize(
    ("x", "where", "way", "cured"),
    [("right", "A left", "to the right", 27), ("left", "A right", "to the left", -5)],
)
def test_the_cure_of_a_sliver_cures_it(x, where, way, cured):
    def there(x):
        start = {"x": x, "y": "bottom"}
        return bare(width=4 * 302 + 20, layout={"tile": "field", "pattern": "stacked", "start": start})

    finding = one("sliver", there(x))
    assert finding.where == where
    assert f"{way} by 5 mm" in finding.text
    assert where not in [f.where for f in found("sliver", there(cured))]


def test_a_narrow_arm_beside_an_opening_is_a_sliver():
    window = {"id": "w", "kind": "window", "x": 320, "y": 254, "width": 550, "height": 286}
    finding = one("sliver", bare(opening=[{**window, "edges": dict.fromkeys(SIDES, BARE)}]))
    assert finding.where == "A w left"
    assert "18 mm" in finding.text


def test_a_plate_hides_what_a_hole_leaves():
    hole = {"id": "valve", "x": 150, "y": 50, "diameter": 60, "cover": 100}
    assert found("sliver", bare(hole=[hole])) == []


def test_half_tile_at_an_outer_edge():
    finding = one("half-tile", bare(width=4 * 302 + 100))
    assert (finding.where, finding.level) == ("A right", "advise")
    assert "the smallest 100 mm of 300 mm" in finding.text
    assert "151 mm, would make it 251 mm" in finding.text
    assert found("half-tile", bare(width=4 * 302 + 150)) == []


def test_a_face_less_than_a_tile_across_is_not_judged_by_halves():
    assert found("half-tile", bare(width=100), sliver=25) == []


def test_a_running_bond_is_not_judged_by_every_second_course():
    layout = {"tile": "field", "pattern": "running-bond", "shift": "1/2", "start": {"x": "left", "y": "bottom"}}
    assert found("half-tile", bare(layout=layout)) == []


def test_joint_of_three_times_the_variation():
    # the standard's own example: a variation of 1/16 in wants a joint of 3/16 in
    variation = {"field": tile(300, 100, variation=1.5875)}
    assert "4.8 mm" in one("joint-variation", tile=variation, joint=4.7).text
    assert found("joint-variation", tile=variation, joint=4.7625) == []


def test_least_joint():
    assert one("joint-minimum", joint=1, tile={"field": tile(variation=0.1)}).where == "tile field"
    assert found("joint-minimum", joint=1.5, tile={"field": tile(variation=0.1)}) == []


@pytest.mark.parametrize(
    ("length", "shift", "speaks"),
    [(600, "1/2", True), (600, "1/3", False), (600, "2/3", False), (381, "1/2", False), (382, "1/2", True)],
)
def test_long_tiles_are_offset_by_a_third_at_most(length, shift, speaks):
    job, there = bond(length, shift, 5)
    assert bool(found("offset-limit", there, **job)) is speaks


@pytest.mark.parametrize(
    ("edge", "warpage", "joint", "speaks"),
    [
        ("rectified", None, 2.9, True),
        ("rectified", None, 3, False),
        ("pressed", None, 4, True),
        ("pressed", None, 5, False),
        ("rectified", 0.8, 3, True),
        ("rectified", 0.8, 3.8, False),
    ],
)
def test_joint_of_long_tiles_laid_offset(edge, warpage, joint, speaks):
    job, there = bond(600, "1/3", joint, edge=edge, **({} if warpage is None else {"warpage": warpage}))
    assert bool(found("offset-joint", there, **job)) is speaks


def test_joint_of_long_tiles_published_example():
    # published example: rectified 12 x 24 in, warpage 1/32 in, running bond: 1/8 + 1/32 = 5/32 in
    sizes = {"length": 24, "width": 12, "thickness": "5/16", "variation": "1/64", "warpage": "1/32"}
    layout = {"tile": "field", "pattern": "running-bond", "shift": "1/3", "start": {"x": "left", "y": "bottom"}}
    there = wall(width=100, height=60, layout=layout)
    job = {"units": "in", "sliver": 1, "tile": {"field": tile(edge="rectified") | sizes}}
    assert "5/32 in is the least" in one("offset-joint", there, **job, joint="1/8").text
    assert found("offset-joint", there, **job, joint="5/32") == []


@pytest.mark.parametrize(("joint", "gap", "speaks"), [(2, 2.5, True), (2, 3, False), (5, 3, True), (5, 5, False)])
def test_soft_joint_at_a_change_of_plane(joint, gap, speaks):
    edges = {**dict.fromkeys(SIDES, BARE), "right": {"meets": "corner", "joint": gap}}
    there = found("soft-joint-width", bare(edges=edges), joint=joint)
    assert [f.where for f in there] == (["A right"] if speaks else [])


def test_a_missing_soft_joint_is_told():
    edges = {**dict.fromkeys(SIDES, BARE), "bottom": {"meets": "tub", "joint": 0}}
    assert "missing" in one("soft-joint-width", bare(edges=edges)).text


def test_preferred_gap_at_the_perimeter():
    edges = {
        **dict.fromkeys(SIDES, BARE),
        "bottom": {"meets": "floor", "joint": 3},
        "top": {"meets": "ceiling", "joint": 6},
    }
    finding = one("perimeter-gap", bare(edges=edges))
    assert (finding.where, finding.level) == ("A", "note")
    assert "bottom (3 mm)" in finding.text
    assert "top" not in finding.text


def test_nominal_and_few_samples():
    assert "nominal" in one("nominal-tile", tile={"field": tile(sampled=0)}).text
    assert "measure 6 more" in one("few-samples", tile={"field": tile(sampled=4)}).text
    for rule in ("nominal-tile", "few-samples"):
        assert found(rule, tile={"field": tile(sampled=10)}) == []
    unused = {"field": tile(), "spare": tile(sampled=0)}
    assert found("nominal-tile", tile=unused) == []


@pytest.mark.parametrize(
    ("width", "meets", "speaks"),
    [(3700, "tub", True), (3500, "tub", False), (7600, "floor", True), (7400, "floor", False)],
)
def test_soft_joints_over_a_long_run(width, meets, speaks):
    edges = {**dict.fromkeys(SIDES, BARE), "bottom": {"meets": meets, "joint": 6}}
    assert bool(found("soft-joint-spacing", bare(width=width, edges=edges))) is speaks


@pytest.mark.parametrize(("length", "speaks"), [(381, True), (380, False)])
def test_flatness_for_large_tile(length, speaks):
    assert bool(found("flatness", tile={"field": tile(length, 200)})) is speaks


@pytest.mark.parametrize(
    ("height", "level"), [(7.9, "stop"), (8, "advise"), (10.9, "advise"), (11, None), (12, None), (None, "note")]
)
def test_profile_takes_tile_and_bed(height, level):
    trim = {k: v for k, v in {**TRIM, "height": height}.items() if v is not None}
    edges = {**dict.fromkeys(SIDES, BARE), "left": {"trim": "end"}}
    there = found("trim-height", bare(edges=edges), trim={"end": trim}, room={"bed": 3})
    assert [f.level for f in there] == ([level] if level else [])


def test_a_profile_that_is_not_used_is_not_judged():
    assert found("trim-height", trim={"end": {**TRIM, "height": 2}}) == []


@pytest.mark.parametrize(
    ("hole", "level"),
    [
        ({"diameter": 60, "cover": 65}, "stop"),
        ({"diameter": 60, "cover": 68}, "advise"),
        ({"diameter": 60, "cover": 72}, None),
        ({"width": 50, "height": 80, "cover": [60, 90]}, "advise"),
        ({"width": 50, "height": 80, "cover": [55, 110]}, "stop"),
        # a round plate must reach the corners of a square box: its half diagonal is 51.3 mm with the gap
        ({"width": 50, "height": 80, "cover": 100}, "stop"),
        ({"width": 50, "height": 80, "cover": 110}, None),
    ],
)
def test_plate_hides_hole_and_gap(hole, level):
    there = found("cover-plate", bare(hole=[{"id": "valve", "x": 150, "y": 254, "gap": 3, **hole}]))
    assert [f.level for f in there] == ([level] if level else [])


@pytest.mark.parametrize(
    ("hole", "says", "cured"),
    [
        # 60 + 2 x 3 mm hidden, 3 mm more on each side
        ({"diameter": 60, "cover": 65}, "0.5 mm of the gap would show on a side. Take a round plate of 72 mm", 72),
        ({"diameter": 60, "cover": 68}, "by 1 mm only, 2 mm short", 72),
        ({"width": 50, "height": 80, "cover": [60, 90]}, "A plate of 62 mm x 92 mm or larger would do", [62, 92]),
    ],
)
def test_the_plate_that_would_do_does(hole, says, cured):
    there = {"id": "valve", "x": 150, "y": 254, "gap": 3, **hole}
    assert says in one("cover-plate", bare(hole=[there])).text
    assert found("cover-plate", bare(hole=[{**there, "cover": cured}])) == []


@pytest.mark.parametrize(("gap", "speaks"), [(2, True), (3, False)])
def test_gap_round_a_pipe(gap, speaks):
    assert bool(found("hole-gap", bare(hole=[{"id": "arm", "x": 150, "y": 50, "diameter": 20, "gap": gap}]))) is speaks


@pytest.mark.parametrize(
    ("y", "speaks"),
    [
        (50, False),  # amid a tile
        (20, True),  # its rim 4 mm over the tile's lower edge
        (22, False),  # 6 mm
        (101, False),  # on the joint: notched out of both
        (121, True),  # clear of the joint: its rim 3 mm over the next tile's lower edge
    ],
)
def test_a_hole_close_to_the_edge_of_a_tile(y, speaks):
    hole = {"id": "arm", "x": 150, "y": y, "diameter": 26, "gap": 3}
    there = found("hole-edge", bare(hole=[hole]))
    assert bool(there) is speaks
    assert all(f.where == "A arm" for f in there)


def moved(hole, x=0.0, y=0.0):
    """Return a wall with a hole whose layout has been moved."""
    layout = {"tile": "field", "pattern": "stacked", "start": {"x": x, "y": y}}
    return bare(hole=[{"id": "arm", "gap": 3, **hole}], layout=layout)


@pytest.mark.parametrize(
    ("rule", "hole", "says", "cures"),
    [
        # the rim 2 mm over the lower edge of a tile: 4 mm too close; to either side it is as near
        ("hole-edge", {"x": 150, "y": 102 + 18, "diameter": 26}, "within 2 mm of an edge of A2-1, 4 mm too close",
         {"4 mm up": (0, 4), "4 mm down": (0, -4)}),
        # 3 mm from the left edge of the second tile, a square box
        ("hole-edge", {"x": 302 + 3 + 28, "y": 50, "width": 50, "height": 50}, "within 3 mm of an edge of A1-2",
         {"3 mm to the left": (-3, 0)}),
        # 32 mm across and amid the joint at 101 mm: 17 beyond a tile's edge and 6 more to stay off it
        ("hole-joint", {"x": 150, "y": 101, "diameter": 26}, "17 mm beyond the edge of a tile: notched out of 2 tiles",
         {"23 mm down": (0, -23)}),
    ],
)  # fmt: skip
def test_the_move_that_a_hole_is_told_cures_it_and_half_of_it_does_not(rule, hole, says, cures):
    finding = one(rule, moved(hole))
    assert finding.where == "A arm"
    assert says in finding.text
    move = next(m for words, m in cures.items() if words in finding.text)
    assert found(rule, moved(hole, *move)) == []
    assert found(rule, moved(hole, *(v / 2 for v in move)))


def test_a_hole_by_the_border_of_the_tile_is_not_cured_by_a_move():
    hole = {"x": 4 * 302 - 2 - 3 - 28, "y": 50, "width": 50, "height": 50}
    assert "move the hole 3 mm away" in one("hole-edge", moved(hole)).text


def test_a_hole_too_large_for_a_tile_may_stand_on_a_joint():
    assert found("hole-joint", moved({"x": 150, "y": 101, "diameter": 84})) == []  # 90 + 12 mm in 100
    assert found("hole-joint", moved({"x": 150, "y": 101, "diameter": 82}))


def tub_wall(height, **more):
    edges = {**dict.fromkeys(SIDES, BARE), "bottom": {"meets": "floor", "joint": 6}}
    tub = {"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 760, "height": 360}
    return bare(height=height, edges=edges, fixture=[tub], **more)


@pytest.mark.parametrize(
    ("height", "says"),
    [
        (1828, "too low"),  # 72 in above the floor is 1829 mm
        (2000, "measure from the drain"),  # high enough over the floor, 1640 mm over the rim
        (360 + 1778, None),
    ],
)
def test_wet_height_over_floor_and_drain(height, says):
    there = found("wet-height", tub_wall(height))
    assert bool(there) is bool(says)
    assert all(says in f.text for f in there)


def test_the_datum_carries_the_floor_to_the_back_wall():
    edges = {**dict.fromkeys(SIDES, BARE), "bottom": {"meets": "tub", "joint": 6}}
    back = bare(id="B", height=1400, datum=540, edges=edges)
    assert "does not tell" in one("wet-height", back).text
    there = [f for f in found("wet-height", tub_wall(2200, datum=900), back) if f.where == "B"]
    assert "1760 mm above the floor" in there[0].text


@pytest.mark.parametrize(
    ("x", "y", "speaks"), [(100, 1400, True), (100, 1600, False), (2200, 1400, True), (2400, 1400, False)]
)
def test_safety_glass_low_and_near(x, y, speaks):
    window = {"id": "w", "kind": "window", "x": x, "y": y, "width": 300, "height": 300}
    there = found("safety-glazing", tub_wall(2200, width=3000, opening=[window]))
    assert [f.where for f in there] == (["A w"] if speaks else [])


@pytest.mark.parametrize(("x", "y", "speaks"), [(1600, 2000, True), (1700, 2000, False), (500, 2900, False)])
def test_lights_over_a_tub(x, y, speaks):
    mark = {"id": "l", "kind": "light", "x": x, "y": y, "width": 100, "height": 100}
    there = found("light-zone", tub_wall(3000, width=3000, mark=[mark]))
    assert bool(there) is speaks


@pytest.mark.parametrize(("x", "speaks"), [(700, True), (760, False)])
def test_outlets_over_a_tub(x, speaks):
    mark = {"id": "o", "kind": "outlet", "x": x, "y": 900, "width": 80, "height": 120}
    assert bool(found("outlet-zone", tub_wall(2200, mark=[mark]))) is speaks


@pytest.mark.parametrize(
    ("top", "speaks"), [(839, True), (840, False), (915, False), (916, True), (360 + 230, False), (360 + 300, True)]
)
def test_height_of_grab_bars(top, speaks):
    bar = {"id": "g", "kind": "bar", "x": 100, "y": top - 35, "width": 610, "height": 35}
    assert bool(found("grab-bar", tub_wall(2200, mark=[bar]))) is speaks


def test_tiles_of_two_sizes_with_one_joint():
    def band(width):
        layout = {"tile": "band", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
        zone = {"id": "z", "x": 302, "y": 204, "width": 604, "height": 204, "layout": layout}
        return bare(zone=[zone]), {"field": tile(), "band": tile(150, width)}

    there, tiles = band(49)  # 2 x 49 + 2 = 100
    assert found("mixed-tiles", there, tile=tiles) == []
    there, tiles = band(48)
    assert "2 of the smaller come to 98 mm" in one("mixed-tiles", there, tile=tiles).text


def test_whole_tiles_where_they_are_asked_for():
    edges = {**dict.fromkeys(SIDES, BARE), "right": {"meets": "wall", "full": True}}
    assert found("full-tile", bare(edges=edges)) == []
    finding = one("full-tile", bare(edges=edges, width=4 * 302 + 200))
    assert finding.where == "A right"
    assert "10 pieces of 10" in finding.text
    assert "by 100 mm" in finding.text


def test_taper_along_a_leaning_edge():
    def leaning(low, high):
        outline = [[0, 0], [4 * 302 + low, 0], [4 * 302 + high, 1018], [0, 1018]]
        edges = dict.fromkeys(("1", "2", "3", "4"), BARE)
        layout = {"tile": "field", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
        return outlined(outline=outline, edges=edges, layout=layout)

    finding = one("taper", leaning(30, 60))
    assert finding.where == "A 2"
    assert found("taper", leaning(200, 230)) == []
    # 84 mm on 1018 are just under 1 in 12, 86 are a rake
    assert found("taper", leaning(30, 30 + 84))
    assert found("taper", leaning(30, 30 + 86)) == []


def test_bare_places_are_found():
    plan = plan_of(job_data(bare()), findings=False)
    assert not [f for f in all_findings(plan) if f.rule == "uncovered"]
    zone = plan.zones[0]
    for missing in (0, 17, 39):
        fewer = replace(zone, pieces=(*zone.pieces[:missing], *zone.pieces[missing + 1 :]))
        there = [f for f in all_findings(replace(plan, zones=(fewer,))) if f.rule == "uncovered"]
        assert [(f.where, f.level) for f in there] == [("A", "stop")]


def test_a_border_that_cuts_off_a_crossing_is_no_bare_place():
    # the slope passes between the crossing of two joints and the corner of the tile it takes away
    outline = [[0, 0], [657.5, 0], [657.5, 1357], [0, 1081]]
    for x in range(228, 242):
        layout = {"tile": "field", "pattern": "vertical-stack", "start": {"x": x, "y": 6}}
        there = outlined(outline=outline, layout=layout)
        assert found("uncovered", there, joint=5, tile={"field": tile(203.5, 152.5)}) == []


def test_findings_come_gravest_first_then_wall_by_wall():
    hole = {"id": "valve", "x": 150, "y": 50, "diameter": 60, "cover": 60}
    walls = [bare(width=4 * 302 + 20), bare(id="B", width=4 * 302 + 20, hole=[hole])]
    notes = [Finding("n", "note", "B left", "x", "y"), Finding("n", "note", "wall[1].niche[1].x", "x", "y")]
    plan = plan_of(job_data(*walls), findings=False)
    order = [(f.level, f.where) for f in all_findings(plan, notes)]
    assert order == [
        ("stop", "B valve"),
        ("advise", "A right"),
        ("advise", "B right"),
        ("note", "wall[1].niche[1].x"),
        ("note", "B left"),
    ]


def test_rules_have_ids_of_their_own_a_docstring_and_a_source():
    assert len({r.id for r in RULES}) == len(RULES)
    for rule in RULES:
        text = type(rule).__doc__
        assert text is not None
        assert text.splitlines()[0].endswith("."), rule.id
        assert str(rule.source)
        assert "complies" not in text


@pytest.mark.parametrize(
    ("units", "size", "of", "where"),
    [
        ("in", (152.4, 42), (6, 3), []),  # 12 ft 8 in: nobody can tell
        ("in", (601, 96), (24, 12), ["A"]),
        ("in", (96, 301), (24, 12), ["A"]),
        ("in", (600, 300), (24, 12), []),
        ("mm", (60.25, 84), (60, 30), ["A"]),
        ("mm", (60.25, 150), (60, 30), []),
        ("mm", (1200, 900), (39, 20), ["tile field"]),
        ("mm", (1200, 900), (40, 20), []),
    ],
)
def test_sizes_in_the_other_unit(units, size, of, where):
    wide, high = size
    job = {"units": units, "tile": {"field": tile(*of, thickness=0.3 if units == "in" else 8)}, "sliver": 1}
    there = bare(width=wide, height=high)
    assert [f.where for f in found("unlikely-size", there, joint=0.125 if units == "in" else 2, **job)] == where
