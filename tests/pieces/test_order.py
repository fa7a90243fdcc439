"""The order of setting, against walls whose order a setter would tell at a glance."""

from __future__ import annotations

from typing import Any

from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.pieces.order import Stage, setting_stages, walls_in_turn
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, wall_data
from tests.sheets.jobs import example

TUB = {"meets": "tub", "joint": 5}


def stages(data: dict[str, Any]) -> tuple[Stage, ...]:
    job = job_of(data)
    laid = lay_out(job, build_faces(job))
    return setting_stages(job, laid, {(z.face, z.zone): z.pieces for z in make_pieces(job, laid)})


def wall(y: Any, **more: Any) -> dict[str, Any]:
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": y}}
    edges = {"left": BARE, "right": BARE, "bottom": TUB, "top": BARE}
    return wall_data(1510, 1160, layout=layout, edges=edges, **more)


def test_whole_tiles_at_the_bottom_need_no_ledger() -> None:
    found = stages(job_data(wall("bottom")))
    assert [s.course for s in found] == sorted(s.course for s in found)
    assert not any(s.on_ledger or s.below for s in found)


def test_a_cut_bottom_course_comes_last_below_the_ledger() -> None:
    found = stages(job_data(wall(100)))
    courses = [s.course for s in found]
    assert courses == [*range(2, max(courses) + 1), 1]
    assert found[0].on_ledger
    assert [s.below for s in found] == [False] * (len(found) - 1) + [True]


def test_pieces_of_a_course_go_from_the_left() -> None:
    for stage in stages(job_data(wall(100))):
        assert [p.order for p in stage.pieces] == list(range(stage.pieces[0].order, stage.pieces[-1].order + 1))
        lefts = [min(x for x, _ in p.outer) for p in stage.pieces]
        assert lefts == sorted(lefts)


def test_a_niche_comes_after_the_courses_beside_it_and_before_those_over_it() -> None:
    niche = {"id": "n1", "x": 400, "y": 400, "width": 500, "height": 300, "depth": 90}
    found = stages(job_data(wall("bottom", niche=[niche])))
    names = [(s.face, s.course) for s in found]
    first, last = (
        names.index(n) for n in (next(n for n in names if ".n1." in n[0]), [n for n in names if ".n1." in n[0]][-1])
    )
    for n, stage in enumerate(found):
        if stage.face == "A":
            low = min(y for p in stage.pieces for _, y in p.slot)
            assert (n < first) == (low < 700), stage.course
            assert n < first or n > last
    kinds = list(dict.fromkeys(s.face for s in found if ".n1." in s.face))
    assert kinds == [f"A.n1.{k}" for k in ("back", "sill", "left", "right", "head")]


def test_walls_in_first_go_first_then_round_the_room() -> None:
    walls = [wall("bottom", id=name) for name in "ABC"]
    data = job_data(*walls, room={"first": ["C", "B"]})
    assert walls_in_turn(job_of(data)) == ("C", "B", "A")
    found = stages(data)
    assert list(dict.fromkeys(s.wall for s in found)) == ["C", "B", "A"]
    assert found[0].pieces[0].order == 1


def test_legs_beside_a_tub_wait_for_the_ledger() -> None:
    found = [s for s in stages(example("tub-alcove")) if s.wall == "A"]
    assert found[0].course == 1
    assert found[0].on_ledger
    assert [s.course for s in found if s.below] == [0, -1, -2, -3, -4]


def test_every_piece_has_one_place() -> None:
    found = stages(example("shower-niche"))
    orders = [p.order for s in found for p in s.pieces]
    assert orders == list(range(1, len(orders) + 1))
