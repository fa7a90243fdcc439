"""Numbers of courses and places: design section 5."""

from __future__ import annotations

import pytest

from elevation.errors import JobError
from elevation.pieces.numbers import course_label
from tests.builders import cuts_by_number, job_data, pieces_of, wall_data


@pytest.mark.parametrize(
    ("course", "label"), [(1, "1"), (12, "12"), (0, "a"), (-1, "b"), (-25, "z"), (-26, "aa"), (-27, "ab"), (-52, "ba")]
)  # fmt: skip
def test_course_labels(course, label):
    assert course_label(course) == label


def test_places_count_whole_tiles_and_courses_start_at_the_bottom():
    # 2000 wide: 6 whole of 303 and 182 over; 1200 high: 7 whole of 153 and 129 over
    zones = pieces_of(job_data(wall_data()))
    numbers = [p.number for p in zones[0].pieces if p.number]
    assert numbers[:7] == [f"A{n}-7" for n in range(1, 8)]
    assert numbers[7:] == [f"A8-{n}" for n in range(1, 8)]


def test_a_tied_wall_counts_from_the_wall_it_is_tied_to_and_downward_in_letters():
    base = wall_data(height=1200, datum=500)
    low = wall_data(id="B", height=1700, datum=1000)
    low["layout"] = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": {"wall": "A"}}}
    zones = pieces_of(job_data(base, low))
    courses = {z.face: sorted({p.course for p in z.pieces}) for z in zones}
    assert courses["A"] == list(range(1, 9))
    # 500 lower: 3 whole courses of 153 and 41 over
    assert courses["B"] == list(range(-3, 9))
    assert "Bd-1" in cuts_by_number(zones)


def test_an_opening_makes_two_pieces_of_a_slot_and_each_has_a_place():
    wall = wall_data(opening=[{"id": "w", "kind": "window", "x": 350, "y": 200, "width": 100, "height": 300, "edges": {
        s: {"meets": "wall", "joint": 0} for s in ("left", "right", "bottom", "top")}}])  # fmt: skip
    pieces = [p for p in pieces_of(job_data(wall))[0].pieces if p.course == 3]
    assert [(p.place, p.part) for p in pieces] == [(1, 1), (2, 1), (3, 2), (4, 1), (5, 1), (6, 1), (7, 1), (8, 1)]
    assert pieces[1].width == pytest.approx(350 - 303)
    assert pieces[2].width == pytest.approx(303 + 300 - 450)


def test_numbers_are_unique_over_walls_zones_and_niches():
    zone = {
        "id": "z1",
        "x": 0,
        "y": 600,
        "width": 2000,
        "height": 200,
        "layout": {"pattern": "running-bond", "start": {"x": "tile", "y": "top"}},
    }
    niche = {"id": "n1", "x": 400, "y": 200, "width": 400, "height": 250, "depth": 90}
    zones = pieces_of(job_data(wall_data(zone=[zone], niche=[niche]), wall_data(id="B", niche=[niche])))
    numbers = [p.number for z in zones for p in z.pieces if p.number]
    assert len(numbers) == len(set(numbers))
    assert any(n.startswith("Az.1-") for n in numbers)
    assert any(n.startswith("An1b1-") for n in numbers)


def test_ids_that_run_together_are_refused():
    # 27 courses below course 1 of wall A are "aa"; course "a" of a wall "Aa" reads the same
    top = wall_data(id="Z", height=200, datum=200)
    deep = wall_data(id="A", height=4600, datum=4600)
    shallow = wall_data(id="Aa", height=400, datum=400)
    for wall in (deep, shallow):
        wall["layout"] = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": {"wall": "Z"}}}
    with pytest.raises(JobError, match=r"run together: both have a piece Aa[ab]-7; rename one"):
        pieces_of(job_data(top, deep, shallow))


def test_a_zone_is_told_by_as_few_letters_as_tell_it_from_the_others():
    def zone(name, y):
        layout = {"pattern": "stacked", "start": {"x": "tile", "y": "top"}}
        return {"id": name, "x": 0, "y": y, "width": 2000, "height": 100, "layout": layout}

    def starts(*names):
        zones = pieces_of(job_data(wall_data(zone=[zone(n, 200 * k) for k, n in enumerate(names)])))
        return {p.number.partition(".")[0] for z in zones for p in z.pieces if p.number and "." in p.number}

    assert starts("panel") == {"Ap"}
    assert starts("panel", "band") == {"Ap", "Ab"}
    assert starts("panel", "Paint", "paint2") == {"Apan", "APaint", "Apaint2"}
    assert starts("z1", "z2") == {"Az1", "Az2"}
