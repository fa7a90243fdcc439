"""The take-off: two columns where that saves a page, and nothing said twice."""

from elevation.drawing.marks import Text, walk
from elevation.sheets import compose_set
from tests.planning import plan_of
from tests.strategies import job_data, wall

TRIM = {"kind": "profile", "face": 2, "joint": 2, "height": 11, "stock": 2500, "corner": "mitre"}


def plan_with_niches(count):
    """Return a wall with so many trimmed niches: each adds four rows to the trim schedule."""
    sides = {side: {"trim": "end"} for side in ("sill", "head", "left", "right")}
    niches = [
        {"id": f"n{k}", "x": 300 + 500 * k, "y": 800, "width": 300, "height": 300, "depth": 90, "edges": sides}
        for k in range(count)
    ]
    soft = {"meets": "corner", "joint": 4}
    top = {"meets": "ceiling", "joint": 8}
    edges = {"left": soft, "right": soft, "bottom": {"meets": "tub", "joint": 6}, "top": top}
    return plan_of(job_data(wall(width=4000, edges=edges, niche=niches), trim={"end": TRIM}))


def texts(pages):
    return [[m for m in walk(page.marks) if isinstance(m, Text)] for page in pages]


def headings(page):
    """Return where the headings of a page stand, by their words."""
    tall = max(m.height for m in page if m.text == "Areas")
    words = ("Areas", "Tile", "Trim", "Soft joints", "Grout", "Bonding mortar", "Cutting, in short", "Trim schedule")
    return {m.text: m.at[0] for m in page if m.text in words and m.height == tall}


def test_tables_stand_in_two_columns_where_that_saves_a_page():
    few, many = plan_with_niches(1), plan_with_niches(3)
    one = texts(compose_set(few, "installer", "a1", ["take-off"]))
    assert len(one) == 1
    assert len(set(headings(one[0]).values())) == 1  # there is room: one wide column is easier to read
    two = texts(compose_set(many, "installer", "a3", ["take-off"]))
    assert len(two) == 1
    assert len(set(headings(two[0]).values())) == 2
    assert headings(two[0])["Trim schedule"] > headings(two[0])["Areas"]


def test_an_assumption_that_repeats_is_told_once():
    corner = {"meets": "corner", "joint": 4}
    edges = {"left": corner, "right": corner, "bottom": {"meets": "tub", "joint": 6}, "top": {"meets": "ceiling"}}
    walls = [wall(edges=edges), wall(id="B", edges=edges)]
    (page,) = texts(compose_set(plan_of(job_data(*walls)), "installer", "a1", ["take-off"]))
    said = [m.text for m in page]
    # soft joints of 3, 4 and 6 mm stand one below the other, and each is counted by the same rule of the corner
    assert sum(t.startswith("the corner of two tiled walls") for t in said) == 1
    assert said.count("as above") == 2


def test_which_rests_to_keep_is_told_with_the_order_of_setting_alone():
    plan = plan_with_niches(1)
    pages = compose_set(plan, "installer", "a3", ["take-off", "cuts"])
    where = [n for n, page in enumerate(texts(pages)) if any(m.text.startswith("The rest of ") for m in page)]
    assert where
    assert {pages[n].title for n in where} <= {"Order of setting", "Order of setting, continued (2)"}
