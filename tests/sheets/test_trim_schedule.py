"""The trim schedule: lengths and sticks worked by hand."""

from elevation.drawing.marks import Text, walk
from elevation.sheets import compose_set
from tests.planning import plan_of
from tests.strategies import job_data, wall


def words(stock):
    trim = {"kind": "profile", "face": 2, "joint": 2, "height": 11, "stock": stock}
    bare = {"meets": "wall"}
    edges = {"left": {"trim": "end"}, "right": {"trim": "end"}, "bottom": bare, "top": bare}
    plan = plan_of(job_data(wall(height=1800, edges=edges), trim={"end": trim}))
    pages = compose_set(plan, "installer", "a3", ["take-off"])
    return " ".join(m.text for page in pages for m in walk(page.marks) if isinstance(m, Text))


def test_two_runs_that_do_not_share_a_stick_take_two():
    said = words(2500)  # 2 * 1800 > 2500
    assert "Trim end, profile: 2 sticks of 2500 mm, proved fewest" in said
    # set before the lowest tile beside it: the right one is the last of the first course, 6 pieces long
    assert "A-T1 A right 1800 mm square square 1 before the tile of course 1, place 6" in said
    assert "A-T2 A left 1800 mm square square 2 before the tile of course 1, place 1" in said


def test_two_runs_share_a_stick_that_takes_both_and_a_kerf():
    said = words(3603)  # 2 * 1800 + 3 of kerf
    assert "Trim end, profile: 1 stick of 3603 mm, proved fewest" in said
    assert "A-T1 A right 1800 mm square square 1" in said
    assert "A-T2 A left 1800 mm square square 1" in said


def test_a_run_longer_than_a_stick_says_where_its_lengths_come_from_and_where_its_joint_stands():
    # a stick of 1500 reaches the joint of the 14th course, 14 * 102 - 1 = 1427, but one at 1427 leaves 373, over a foot
    said = words(1500)
    assert "Trim end, profile: 3 sticks of 1500 mm, proved fewest" in said
    assert "(1427 mm), " in said
    assert "(373 mm)" in said
    assert "1427 mm from below, on tile joints" in said


def niche_words(high=300, **trim):
    sides = {side: {"trim": "end"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 500, "y": 800, "width": 400, "height": high, "depth": 90, "edges": sides}
    bare = {side: {"meets": "wall"} for side in ("left", "right", "bottom", "top")}
    plan = plan_of(job_data(wall(edges=bare, niche=[niche]), trim={"end": {"face": 20, "joint": 2, **trim}}))
    pages = compose_set(plan, "installer", "a3", ["take-off", "niche"])
    return " ".join(m.text for page in pages for m in walk(page.marks) if isinstance(m, Text))


def test_a_profile_says_its_place_in_the_course_and_one_length_on_every_sheet():
    sides = {side: {"trim": "end"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 500, "y": 816, "width": 400, "height": 300, "depth": 90, "edges": sides}
    bare = {side: {"meets": "wall"} for side in ("left", "right", "bottom", "top")}
    trim = {"kind": "profile", "face": 2, "joint": 2, "height": 11, "stock": 2500, "corner": "mitre"}
    plan = plan_of(job_data(wall(edges=bare, niche=[niche]), trim={"end": trim}))
    pages = compose_set(plan, "installer", "a3", ["take-off", "elevation"])
    said = " ".join(m.text for page in pages for m in walk(page.marks) if isinstance(m, Text))
    # courses of 102: the sill's tile is course 8, up to 814; columns of 302 from the middle of the wall at 750, so
    # from 147, 449, ...: the sill from 498 on lies over the third place, after the cut and one whole
    assert "before the tile of course 8, place 3" in said
    # 400 clear and a face of 2 at either end, long point to long point: so in the schedule and among the edges
    assert "A-T1 A n1 sill 404 mm" in said
    assert "n1 sill profile end, A-T1 404" in said


def test_ends_are_told_in_words():
    said = niche_words(kind="profile", height=11, stock=2500, corner="mitre")
    assert (
        "A-T1 A n1 sill 440 mm mitre 45°, long point outside, to A-T4 mitre 45°, long point outside, to A-T2" in said
    )
    assert "Lengths run from long point to long point." in said
    said = niche_words(kind="profile", height=11, stock=2500, corner="butt")
    assert "A-T1 A n1 sill 440 mm square, goes through past A-T4 square, goes through past A-T2" in said
    assert "A-T2 A n1 right 300 mm square, butts to A-T1 square, butts to A-T3" in said
    said = niche_words(kind="profile", height=11, stock=2500, corner="piece")
    assert "Corner pieces: 4 inside, with the tile going round." in said
    assert "A-T1 A n1 sill 400 mm square, corner piece to A-T4 square, corner piece to A-T2" in said


def test_cut_pieces_of_bullnose_are_listed_with_what_they_share_a_piece_with():
    said = niche_words(kind="bullnose", stock=150, corner="butt", high=60)
    # sill and head: (440 - 150 - 2 * 2) / 2 = 143 at either end; jambs: 60 less a joint at either end
    assert "A-T1-1 143 mm left: square none" in said
    assert "A-T2-1 56 mm top: square A-T4-1" in said
    assert "A-T4-1 56 mm top: square A-T2-1" in said
    # 2 whole, 4 of 143, and the two jambs, one of either hand, out of one: 56 + 3 + 56 is less than 150
    assert "Trim end, bullnose: 7 pieces of 150 mm, proved fewest; 2 whole and 6 cuts to set, 2 mm joints" in said


def test_mitred_tiles_need_nothing_bought():
    said = niche_words(kind="mitre", face=0)
    assert "Trim end, mitre: two tiles bevelled along 4 edges, nothing to buy" in said
    assert "A-T1 A n1 sill 404 mm bevel meets that of A-T4 bevel meets that of A-T2" in said


def test_the_niche_sheet_shows_the_frame_with_tags_and_lengths():
    said = niche_words(kind="liner", stock=200, corner="mitre")
    assert "Trim end from the front, not to scale A-T1 440 mm A-T2 340 mm A-T3 440 mm A-T4 340 mm" in said


def test_a_numbered_side_is_called_a_side_and_boxes_are_said_once():
    shape = [[0, 0], [2000, 0], [2000, 600], [1200, 600], [1200, 1200], [0, 1200]]
    corner = {"meets": "corner", "joint": 3}
    edges = {**{str(n): corner for n in range(1, 7)}, "2": {"trim": "end"}}
    whole = {k: v for k, v in wall(outline=shape, edges=edges).items() if k not in ("width", "height")}
    trim = {"end": {"kind": "profile", "face": 2.5, "joint": 2, "height": 12, "stock": 2500}}
    plan = plan_of(job_data(whole, trim=trim))
    said = [m.text for p in compose_set(plan, "installer", "a3") for m in walk(p.marks) if isinstance(m, Text)]
    for text in ("A side 2", "side 2, right", "Profile A-T1, side 2: before its tile"):
        assert text in said, text
    assert not {"A 2", "2, right", "Boxes"} & set(said)
