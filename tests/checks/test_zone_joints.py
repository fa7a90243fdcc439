"""Joints between zones, against shapes drawn by hand; zones that meet niches and openings."""

import pytest
import shapely
from shapely.geometry import box

from elevation.errors import JobError
from tests.builders import job_data, laid_out, pieces_of, wall_data
from tests.planning import plan_of


def zone(name, x, y, width, height, **more):
    layout = {"pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
    return {"id": name, "x": x, "y": y, "width": width, "height": height, "layout": layout, **more}


def said(*zones):
    plan = plan_of(job_data(wall_data(zone=list(zones))))
    return [(f.where, f.text) for f in plan.findings if f.rule == "zone-joints"]


def test_zones_one_joint_apart_are_not_spoken_of():
    assert said(zone("a", 400, 300, 300, 300), zone("b", 703, 300, 300, 300)) == []
    assert said(zone("a", 400, 300, 300, 300)) == []


def test_zones_that_touch_have_no_room_for_their_joint():
    ((where, text),) = said(zone("a", 400, 300, 300, 300), zone("b", 700, 300, 300, 300))
    assert where == "A b"
    assert text.startswith("touches zone a: there is no room for the joint of 3 mm")
    ((_, text),) = said(zone("a", 400, 300, 300, 300), zone("b", 701, 300, 300, 300))
    assert text.startswith("stands 1 mm from zone a")


def test_zones_up_to_two_joints_apart_leave_a_gap_that_nothing_fills():
    # 5 from zone to zone: more than the joint of 3, and less than the 6 at which the field begins to show
    ((where, text),) = said(zone("a", 400, 300, 300, 300), zone("b", 705, 300, 300, 300))
    assert where == "A a"
    assert "wider than the joint of 3 mm and too narrow for the field" in text
    assert said(zone("a", 400, 300, 300, 300), zone("b", 740, 300, 300, 300)) == []


def test_a_niche_across_the_border_of_a_band_is_cut_out_of_both():
    niche = {"id": "n", "x": 800, "y": 450, "width": 400, "height": 300, "depth": 90}
    wall = wall_data(zone=[zone("band", 0, 500, 2000, 150)], niche=[niche])
    _, (face, *_) = laid_out(job_data(wall))
    opening = box(800, 450, 1200, 750)
    for name in ("field", "band"):
        assert face.zone(name).region.intersection(opening).area == pytest.approx(0, abs=0.01)
    assert face.zone("band").region.area == pytest.approx((2000 - 400) * 150)
    # band and field both have pieces that end at the niche's left side
    found = {z.zone: z.pieces for z in pieces_of(job_data(wall)) if z.face == "A"}
    for name in ("field", "band"):
        assert any(max(x for x, _ in p.outer) == pytest.approx(800) for p in found[name])
    every = shapely.union_all([box(*shapely.Polygon(p.outer).bounds) for p in found["band"]])
    assert every.bounds == pytest.approx((0, 500, 2000, 650))


def test_a_strip_between_two_niches_is_not_blamed_on_the_start():
    niches = [
        {"id": n, "x": 800, "y": y, "width": 300, "height": 300, "depth": 90} for n, y in (("n", 312), ("m", 621))
    ]
    plan = plan_of(job_data(wall_data(niche=niches)))
    texts = [f.text for f in plan.findings if f.rule == "sliver" and f.where in ("A n head", "A m sill")]
    # 612 to 621 is 9 high whatever the start, although the lower edge stands on a course line, 4 of 153
    assert texts
    assert all("It lies between two borders 9 mm apart" in t for t in texts)


@pytest.mark.parametrize(
    ("wall", "says"),
    [
        ({"zone": [zone("z", 850, 350, 100, 100)],
          "niche": [{"id": "n", "x": 800, "y": 300, "width": 300, "height": 300, "depth": 90}]},
         'wall "A", zone "z": lies wholly where niche n is'),
        ({"zone": [zone("z", 850, 350, 100, 100)],
          "opening": [{"id": "w", "kind": "window", "x": 800, "y": 300, "width": 300, "height": 300}]},
         "lies wholly where window w is"),
        ({"zone": [zone("z", 0, 0, 2000, 1200)]}, "leaves nothing of the field"),
    ],
)  # fmt: skip
def test_a_zone_that_leaves_nothing_is_refused(wall, says):
    with pytest.raises(JobError) as error:
        laid_out(job_data(wall_data(**wall)))
    assert says in str(error.value)
