"""Bands beyond which whole tiles of the field resume: hand arithmetic, and what is refused."""

import pytest
from shapely.geometry import box

from elevation.errors import JobError
from elevation.geom import EPS
from elevation.layout import choose
from elevation.layout.choice import judged, total
from elevation.layout.lay import lay_decided
from elevation.patterns import Start
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, laid_out, pieces_of, wall_data
from tests.planning import plan_of

INCH = 25.4


def band(**more):
    layout = {"pattern": "stacked", "joint": 3, "start": {"x": "left", "y": "bottom"}}
    return {"id": "b", "x": 0, "y": 500, "width": 2000, "height": 100, "restart": True, "layout": layout, **more}


def upright(**more):
    return band(**{"x": 900, "y": 0, "width": 100, "height": 1200, **more})


def test_on_a_wall_of_96_in_courses_above_a_band_begin_with_a_whole_tile():
    tile = {"name": "t", "length": 12, "width": 6, "thickness": "5/16", "sampled": 9, "variation": 0, "edge": "pressed",
            "box": 9}  # fmt: skip
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
    soft = {"meets": "floor", "joint": "1/8"}
    wall = {"id": "A", "title": "A", "width": 60, "height": 96, "edges": {"bottom": soft, "top": soft}, "layout": layout,
            "zone": [band(y=40, width=60, height="9 3/8", layout={**layout, "joint": "1/8"})]}  # fmt: skip
    _, (face,) = laid_out(job_data(wall, units="in", joint="1/8", sliver=1, tile={"t": tile}))
    below, above = face.field
    # below: 1/8 at the floor, then 6 1/8 a course; 6 courses reach 36 3/4, the seventh is cut at 39 7/8, 3 in high
    assert [v / INCH for v in below.region.bounds[1::2]] == pytest.approx([0.125, 39.875])
    # above: a joint over the band's 49 3/8; up to 95 7/8 that is 46 3/8, 7 courses of 6 1/8 and 3 1/2
    assert [v / INCH for v in above.region.bounds[1::2]] == pytest.approx([49.5, 95.875])
    assert above.origin[1] / INCH == pytest.approx(49.5)
    assert above.origin[0] == below.origin[0]


def test_courses_go_on_counting_above_a_level_band():
    # 1200 high, bare: 3 courses of 153 and 38 below 497; above 603: 3 of 153 and 138
    field, _, above = pieces_of(job_data(wall_data(zone=[band()])))
    assert sorted({p.course for p in field.pieces}) == [1, 2, 3, 4]
    assert sorted({p.course for p in above.pieces}) == [5, 6, 7, 8]
    first = [p for p in above.pieces if p.course == 5]
    assert {p.height for p in first} == {150}
    assert min(y for _, y in first[0].outer) == pytest.approx(603)
    assert [p.number for p in above.pieces if p.course == 8] == [f"A8-{n}" for n in range(1, 8)]
    # upright joints go on over the band: 6 of 303, and 182
    assert [p.width for p in first] == pytest.approx([300] * 6 + [182])


def test_places_go_on_counting_to_the_right_of_an_upright_band():
    field, _, right = pieces_of(job_data(wall_data(zone=[upright()])))
    # left of 897: 2 of 303 and 291; right of 1003: 3 of 303 and 88
    assert [(p.place, p.width) for p in field.pieces if p.course == 2] == [(1, 300), (2, 300), (3, pytest.approx(291))]
    assert [(p.place, p.width) for p in right.pieces if p.course == 2] == [
        (4, 300), (5, 300), (6, 300), (7, pytest.approx(88)),
    ]  # fmt: skip
    assert min(x for p in right.pieces for x, _ in p.outer) == pytest.approx(1003)


def test_two_bands_make_three_parts_whatever_their_order_in_the_file():
    upper = band(id="c", y=800, height=60)
    for zones in ([band(), upper], [upper, band()]):
        found = pieces_of(job_data(wall_data(zone=zones)))
        courses = {z.zone: sorted({p.course for p in z.pieces}) for z in found}
        # 603 to 797 takes one of 153 and 41; 863 to 1200 two of 153 and 31
        assert courses["field.b"] == [5, 6]
        assert courses["field.c"] == [7, 8, 9]


def test_a_window_in_the_band_keeps_the_parts_apart():
    window = {"id": "w", "kind": "window", "x": 800, "y": 400, "width": 400, "height": 500}
    _, (face,) = laid_out(job_data(wall_data(zone=[band()], opening=[window])))
    below, above = face.field
    assert below.region.bounds[3] == pytest.approx(497)
    assert above.region.bounds[1] == pytest.approx(603)


def test_a_range_at_the_top_opens_for_the_courses_above_the_band():
    # above 603 the fourth course ends at 603 + 4 * 153 - 3 = 1212; the top at 1215 with 1 to 6 takes it up: 3
    edges = {**dict.fromkeys(("left", "right", "bottom"), BARE), "top": {"meets": "ceiling", "joint": [1, 6]}}
    _, (face,) = laid_out(job_data(wall_data(height=1215, edges=edges, zone=[band()])))
    top = next(e for e in face.edges if e.border.name == "top")
    assert top.gap == pytest.approx((3, 3))


@pytest.mark.parametrize(
    ("zone", "says"),
    [
        (band(x=400, width=800), "does not divide the field"),
        (band(width=1900), "does not divide the field"),
        (band(y=0), 'has no field below it, so nothing resumes; leave it out, and write y = { on = "b", at = "top" }'),
        (band(y=1100), "has no field above it"),
        (upright(height=1100), "does not divide the field"),
        (upright(x=0), 'write x = { on = "b", at = "right" }'),
    ],
)
def test_what_does_not_divide_the_field_is_refused(zone, says):
    with pytest.raises(JobError) as error:
        laid_out(job_data(wall_data(zone=[zone])))
    assert 'wall "A", zone "b", restart' in str(error.value)
    assert says in str(error.value)


def test_bands_one_upon_the_other_leave_nothing_to_resume_between():
    with pytest.raises(JobError, match="no field lies between"):
        laid_out(job_data(wall_data(zone=[band(), band(id="c", y=600, height=50)])))


def test_a_zone_without_restart_divides_nothing():
    _, (face,) = laid_out(job_data(wall_data(zone=[band(restart=False)])))
    (field,) = face.field
    assert field.region.symmetric_difference(box(0, 0, 2000, 497).union(box(0, 603, 2000, 1200))).area < EPS


def tied(**more):
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": {"wall": "A"}}}
    return wall_data(id="B", datum=600, layout=layout, **more)


def parting(*walls):
    plan = plan_of(job_data(*walls))
    return [f for f in plan.findings if f.rule == "band-courses"]


def test_walls_tied_to_each_other_keep_their_courses_only_with_the_same_band():
    first = wall_data(datum=600, zone=[band()])
    assert parting(first, tied(zone=[band()])) == []
    (found,) = parting(first, tied())
    assert found.where == "B"
    # without the band a course stands at 612, 4 of 153; with it at 603: 9 apart
    assert (
        "from 3 mm above the level line its courses no longer meet those of wall A, which stand 9 mm off" in found.text
    )
    assert "Give wall B such a band" in found.text
    (found,) = parting(wall_data(datum=600), tied(zone=[band()]))
    assert "Give wall A such a band" in found.text


PROVED = ("slivers", "asked", "under-half", "balance", "aligned", "narrowest")


def judged_at(job, x, y):
    """Return the terms of the field, all its parts together, for a start that is given."""
    layout = job.wall[0].layout.model_copy(update={"start": Start(x=x, y=y)})
    given = job.model_copy(update={"wall": [job.wall[0].model_copy(update={"layout": layout})]})
    (face,) = [f for f in lay_decided(given, build_faces(given)) if not f.face.of]
    zones = {("A", z.place.id): judged(given, face, n, (False, n > 0)) for n, z in enumerate(face.zones)}
    return total(zones, ["A"]).key(PROVED)


@pytest.mark.parametrize("pattern", ["stacked", "running-bond"])
def test_the_search_weighs_what_stands_beyond_the_band_too(pattern):
    # alone, the part below starts at 4.5; that leaves 620 - 4.5 - 606 = 9.5 of tile beside the niche above
    niche = {"id": "n", "x": 620, "y": 700, "width": 320, "height": 250, "depth": 90}
    edges = {side: {"meets": "corner", "joint": 3} for side in ("left", "right", "bottom", "top")}
    wall = wall_data(1500, zone=[band(width=1500)], niche=[niche], edges=edges)
    wall["layout"] = {"tile": "t", "pattern": pattern, "start": "choose"}
    job = job_of(job_data(wall))
    found = choose(job, build_faces(job), most=1)
    (laid, *_) = found.laid
    x, y = laid.zones[0].origin
    best = judged_at(job, x, y)
    assert best == found.candidates[0].terms.key(PROVED)
    for k in range(34):
        assert best <= judged_at(job, x + 9 * k, y)
    for k in range(17):
        assert best <= judged_at(job, x, y + 9 * k)
    # without the niche another start would be taken, and it is worse with it
    plain = job.model_copy(update={"wall": [job.wall[0].model_copy(update={"niche": []})]})
    without = choose(plain, build_faces(plain), most=1).laid[0].zones[0].origin
    assert best < judged_at(job, *without)
    below, above = (c for c in found.zones if c.wall == "A" and c.zone in ("field", "field.b"))
    assert below.examined == above.examined > 0
    assert below.proved
    assert above.proved


def test_the_search_lays_what_stands_right_of_an_upright_band_with_the_same_courses():
    edges = {side: {"meets": "corner", "joint": 3} for side in ("left", "right", "bottom", "top")}
    window = {"id": "w", "kind": "window", "x": 1200, "y": 411, "width": 300, "height": 300}
    wall = wall_data(zone=[upright()], opening=[window], edges=edges)
    wall["layout"] = {"tile": "t", "pattern": "stacked", "start": "choose"}
    job = job_of(job_data(wall))
    found = choose(job, build_faces(job), most=1)
    x, y = found.laid[0].zones[0].origin
    best = found.candidates[0].terms
    for k in range(17):
        assert best.key(("slivers", "asked", "under-half")) <= judged_at(job, x, y + 9 * k)[:3]


def test_joints_of_a_niche_go_on_from_the_courses_that_it_stands_in():
    # courses above the band start at 603, those below at 0; the niche's frame stands at (620, y)
    def back(y, height):
        niche = {"id": "n", "x": 620, "y": y, "width": 320, "height": height, "depth": 90, "pitch": 0}
        _, faces = laid_out(job_data(wall_data(zone=[band()], niche=[niche])))
        found = next(f for f in faces if f.face.kind == "back")
        return (found.zones[0].origin[1] + found.face.at[1]) % 153

    assert back(700, 250) == pytest.approx(603 % 153)
    assert back(100, 250) == pytest.approx(0)
    # across the band: those beside its middle, here 610, above the band, and 590
    assert back(410, 400) == pytest.approx(603 % 153)
    assert back(390, 400) == pytest.approx(0)
