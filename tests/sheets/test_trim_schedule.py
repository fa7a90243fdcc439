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
    assert "A right 1800 mm 1 A left 1800 mm 2" in said


def test_two_runs_share_a_stick_that_takes_both_and_a_kerf():
    said = words(3603)  # 2 * 1800 + 3 of kerf
    assert "Trim end, profile: 1 stick of 3603 mm, proved fewest" in said
    assert "A right 1800 mm 1 A left 1800 mm 1" in said


def test_a_run_longer_than_a_stick_says_where_its_lengths_come_from():
    said = words(1500)  # 1500 and 300, twice; both rests from one stick
    assert "Trim end, profile: 3 sticks of 1500 mm, proved fewest" in said
    assert "(1500 mm)" in said
    assert "(300 mm): in 2 lengths" in said
