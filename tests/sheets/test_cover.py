"""The cover, the take-off and the notes: what they must say."""

from __future__ import annotations

import pytest

from elevation.errors import Finding
from elevation.sheets.gauge import gauge_lines
from elevation.sheets.unfold import unfolded
from tests.builders import TILE, job_data, wall_data
from tests.sheets.jobs import crooked, example, nasty, thirty_findings
from tests.sheets.plans import pages_of, plan_of, said, texts


def test_gauge_check_by_hand() -> None:
    # ten of 11 13/16 + 1/16 are 118 3/4; ten of 2 15/16 + 1/16 are 30
    assert gauge_lines(plan_of(example("tub-alcove"))) == [("Gloss white 3 x 12", "1/16", "118 3/4", "30")]
    tile = {**TILE, "length": "5 7/8", "width": "2 117/128", "thickness": "1/4", "variation": "1/32"}
    plan = plan_of(job_data(wall_data(40, 40), units="in", joint="1/16", sliver=1, tile={"t": tile}))
    # 2 117/128 is 2.9140625; with 1/16 2.9765625; ten are 29.765625, to the sixteenth 29 3/4
    assert gauge_lines(plan)[0][2:] == ("59 3/8", "29 3/4")


def test_the_walls_share_one_datum() -> None:
    plan = plan_of(example("tub-alcove"))
    walls = unfolded(plan.walls, 200, 120, "in")
    assert walls is not None
    marks = walls.draw(plan, 0.0, 200.0)
    level = next(m for m in marks if getattr(m, "pen", "") == "centre").points[0][1]
    outlines = [m for m in marks if getattr(m, "pen", "") == "wall"]
    assert len(outlines) == 3
    for wall, outline in zip(plan.walls, outlines, strict=True):
        low = min(y for _, y in outline.rings[0])
        assert (level - low) * walls.ratio == pytest.approx(wall.face.datum[1], abs=0.003)
    lefts = [min(x for x, _ in o.rings[0]) for o in outlines]
    assert lefts == sorted(lefts)


@pytest.mark.parametrize("count", [1, 5, 12, 26])
def test_any_number_of_walls_is_shown(count: int) -> None:
    plan = plan_of(nasty(count))
    page = pages_of(plan, "letter", kinds=["cover"])[0]
    names = {t.text.split()[0] for t in texts(page) if t.text}
    assert {w.face.id for w in plan.walls} <= names


def test_findings_stand_in_order_of_weight() -> None:
    plan = plan_of(example("tub-alcove"), thirty_findings())
    words = [t.text for p in pages_of(plan, "tabloid", kinds=["cover"]) for t in texts(p)]
    levels = [w for w in words if w in ("STOP", "ADVISE", "Note")]
    assert levels == ["STOP"] * 10 + ["ADVISE"] * 10 + ["Note"] * 10


def test_notes_give_the_source_of_every_finding() -> None:
    finding = Finding("x", "advise", "B4-1", "is narrow", "Some handbook, 3rd edition, page 12")
    words = " ".join(said(p) for p in pages_of(plan_of(example("tub-alcove"), [finding]), "a3", "permit", ["notes"]))
    assert "B4-1: is narrow. Source: Some handbook, 3rd edition, page 12." in words
    assert "complies" not in words
    assert "compliant" not in words


def test_take_off_prints_every_quantity_and_its_shares_add_up() -> None:
    plan = plan_of(nasty())
    pages = pages_of(plan, "letter", "bid", ["take-off"])
    words = " ".join(said(p) for p in pages)
    for q in plan.takeoff:
        for note in q.assumptions:
            assert note.split()[0] in words
        decimals = 1 if q.unit in ("ft", "m", "ft2", "m2", "L", "kg", "lb") else 0
        assert f"{q.rounded(decimals)[0]:.{decimals}f}" in words, q.description


def test_niche_sheet_has_every_cut_of_the_niche() -> None:
    plan = plan_of(example("tub-alcove"))
    pages = pages_of(plan, "tabloid", kinds=["niche"])
    assert pages[0].id == "B-n1"
    # a number without room on the drawing is told beside it
    words = [w.strip(".,") for page in pages for w in said(page).split()]
    faces = [f.face.id for f in plan.faces if f.face.of == "n1"]
    assert "B.n1.back" in faces
    for piece in (p for face in faces for p in plan.pieces_of(face)):
        assert piece.number is None or piece.number in words
    assert pages_of(plan_of(job_data(wall_data(1000, 600))), "a3", kinds=["niche"]) == ()


def test_returns_of_a_window_have_their_sheet() -> None:
    plan = plan_of(crooked())
    pages = pages_of(plan, "tabloid", kinds=["niche"])
    words = " ".join(said(p) for p in pages)
    assert pages[0].title == "Window w on wall A, returns"
    assert "508" in words
    for piece in plan.cuts:
        assert "." not in piece.face or str(piece.number) in words


def test_same_plan_same_pages() -> None:
    assert pages_of(plan_of(example("tub-alcove")), "a3") == pages_of(plan_of(example("tub-alcove")), "a3")
