"""Rules about trim: joints of long runs, mitred tiles, corners that are not as asked."""

import pytest

from tests.checks.test_rules import BARE, bare, found, one, outlined


def sided(side, trim="m", **more):
    return bare(edges={**dict.fromkeys(("left", "right", "bottom", "top"), BARE), side: {"trim": trim, **more}})


PROFILE = {"kind": "profile", "face": 2.5, "joint": 2, "height": 11}
BARE_SIDES = dict.fromkeys(("left", "right", "bottom", "top"), BARE)
MITRE = {"m": {"kind": "mitre", "joint": 2}}


def test_a_run_longer_than_its_stick_has_its_joint_on_a_tile_joint_or_says_so():
    # courses of 100 and joints of 2 up a side 1018 high: a stick of 500 reaches the joint at 407
    trim = {"e": {**PROFILE, "stock": 500}}
    assert found("trim-joint", sided("left", "e"), trim=trim) == []
    # whole tiles of 300 along the top, 302 apart: a stick of 280 reaches no joint from the one before
    short = {"e": {**PROFILE, "stock": 280}}
    finding = one("trim-joint", sided("top", "e"), trim=short)
    assert (finding.where, finding.level) == ("A top", "advise")
    # 1206 from sticks of 280 takes 5: joints at 280, 560, 840, 1120
    assert "A-T1 is 1206 mm long and a stick 280 mm: it has 4 joints" in finding.text
    assert "280 mm, 560 mm, 840 mm, 1120 mm from its left end" in finding.text


def niche(**more):
    sides = {side: {"trim": "m"} for side in ("sill", "head", "left", "right")}
    return {"id": "n1", "x": 400, "y": 300, "width": 400, "height": 300, "depth": 90, "edges": sides, **more}


def window(**more):
    edges = {side: {"trim": "m"} for side in ("left", "right", "bottom", "top")}
    return {"id": "w1", "kind": "window", "x": 400, "y": 300, "width": 400, "height": 300, "edges": edges, **more}


def test_tiles_are_mitred_round_a_niche_and_round_an_opening_with_returns():
    assert found("mitre-side", bare(niche=[niche()]), trim=MITRE) == []
    assert found("mitre-side", bare(opening=[window(depth=80)]), trim=MITRE) == []


def test_a_mitre_has_nothing_to_meet_at_a_bare_opening_a_fixture_or_a_zone():
    findings = found("mitre-side", bare(opening=[window()]), trim=MITRE)
    assert [(f.where, f.level) for f in findings] == [
        (f"A w1 {side}", "stop") for side in ("bottom", "right", "top", "left")
    ]
    assert "gives no depth" in findings[0].text
    counter = {"id": "c", "kind": "counter", "x": 0, "y": 0, "width": 1206, "height": 200, "joint": 3}
    counter["edges"] = {"top": {"trim": "m"}}
    assert "at the counter" in one("mitre-side", bare(fixture=[counter]), trim=MITRE).text
    zone = {"id": "z", "x": 302, "y": 204, "width": 600, "height": 302, "edges": {"top": {"trim": "m"}}}
    zone["layout"] = {"tile": "field", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
    assert "same plane" in one("mitre-side", bare(zone=[zone]), trim=MITRE).text


def test_at_an_outside_corner_both_walls_are_mitred():
    alone = one("mitre-side", sided("right"), trim=MITRE)
    assert (alone.level, "no wall is named round the corner" in alone.text) == ("advise", True)
    other = {**sided("left", **{"with": "A"}), "id": "B"}
    assert found("mitre-side", sided("right", **{"with": "B"}), other, trim=MITRE) == []
    plain = {**bare(), "id": "B"}
    finding = one("mitre-side", sided("right", **{"with": "B"}), plain, trim=MITRE)
    assert (finding.level, "wall B is not mitred" in finding.text) == ("advise", True)


@pytest.mark.parametrize(
    ("first", "where", "says"),
    [
        (["A"], "B left", "the edge of wall B's tile, which laps the other's, shows"),
        (["B"], "A right", "the edge of wall A's tile, which laps the other's, shows"),
        ([], "A-B", "the edge of one wall's tile shows"),
    ],
)
def test_at_an_outside_corner_without_trim_the_edge_of_a_tile_shows(first, where, says):
    corner = {"meets": "outside", "with": "B"}
    here, there = {**BARE_SIDES, "right": corner}, {k: v for k, v in BARE_SIDES.items() if k != "left"}
    walls = bare(edges=here), {**bare(edges=there), "id": "B"}
    finding = one("corner-edge", *walls, room={"first": first})
    assert (finding.where, finding.level) == (where, "advise")
    assert finding.text.startswith(says)
    assert "profile or bullnose" in finding.text
    for trim in ({"e": {**PROFILE, "stock": 2500}}, {"e": {"kind": "mitre", "joint": 2}}):
        ended = bare(edges={**here, "right": {**corner, "trim": "e"}})
        assert found("corner-edge", ended, walls[1], trim=trim, room={"first": first}) == []
        # the trim may as well stand on the other wall
        round_it = {**there, "left": {"meets": "outside", "with": "A", "trim": "e"}}
        other = {**bare(edges=round_it), "id": "B"}
        assert found("corner-edge", walls[0], other, trim=trim, room={"first": first}) == []


def test_an_inside_corner_and_an_open_end_have_no_such_edge():
    inside = bare(edges={**BARE_SIDES, "right": {"meets": "corner", "joint": 3}})
    assert found("corner-edge", inside, {**bare(), "id": "B"}) == []
    assert found("corner-edge", bare()) == []


def test_a_bevel_along_a_curve_is_ground_by_hand():
    shape = [[0, 0], [2000, 0], [2000, 1000], {"arc": 1000}, [1000, 2000], [0, 2000]]
    edges = {**dict.fromkeys(("1", "2", "4", "5"), BARE), "3": {"trim": "m", "with": "B"}}
    wall = outlined(outline=shape, edges=edges)
    other = {**sided("left", **{"with": "A"}), "id": "B"}
    assert [f.text for f in found("mitre-side", wall, other, trim=MITRE)] == [
        "the side is bent: the bevel must be ground by hand, not sawn"
    ]


@pytest.mark.parametrize(("corner", "said"), [("piece", True), ("mitre", False), ("butt", False)])
def test_a_corner_piece_at_a_corner_that_is_not_square_is_told(corner, said):
    shape = [[0, 0], [3000, 0], [3000, 1000], [1000, 1000]]
    edges = {"1": BARE, "2": BARE, "3": {"trim": "e"}, "4": {"trim": "e"}}
    trim = {"e": {**PROFILE, "stock": 2500, "corner": corner}}
    findings = found("trim-corner", outlined(outline=shape, edges=edges), trim=trim)
    assert len(findings) == said
    if said:
        assert findings[0].text == "a corner piece is made for a square corner and this one has 135°: mitred"
