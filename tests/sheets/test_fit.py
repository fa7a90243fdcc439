"""Nothing on a sheet runs over anything else, nor out of the frame, on any paper, whatever the job."""

from __future__ import annotations

import functools

import pytest

from elevation.drawing.marks import Area, Circle, Group, Line, Segments, walk
from elevation.plan import Plan
from elevation.sheets.paper import PAPERS
from tests.sheets.jobs import crooked, example, nasty, thirty_findings
from tests.sheets.plans import boxes, overlaps, pages_of, plan_of, texts

JOBS = ("tub-alcove", "kitchen-wall", "shower-niche", "nasty", "crooked")


@functools.cache
def plan_for(name: str) -> Plan:
    if name == "nasty":
        return plan_of(nasty(), thirty_findings())
    return plan_of(crooked() if name == "crooked" else example(name))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("job", JOBS)
def test_texts_do_not_touch_and_stay_inside_the_frame(job: str, paper: str) -> None:
    on = PAPERS[paper]
    for page in pages_of(plan_for(job), paper):
        if page.full_size:
            continue  # templates have a paper and a frame of their own
        assert (page.width, page.height) == (on.width, on.height)
        assert overlaps(page) == [], f"{page.kind} {page.id}"
        low, high = on.margin, on.height - on.margin
        for b in boxes(page):
            inside = on.left <= b.x0 and b.x1 <= on.width - on.margin and low <= b.y0 and b.y1 <= high
            assert inside, f"{page.kind} {page.id}: {b}"


@pytest.mark.parametrize("job", JOBS)
def test_lines_stay_inside_the_frame(job: str) -> None:
    for paper in ("letter", "a3"):
        on = PAPERS[paper]
        for page in pages_of(plan_for(job), paper):
            if page.full_size:
                continue
            for mark in walk(page.marks):
                points: list[tuple[float, float]] = []
                if isinstance(mark, Line):
                    points = list(mark.points)
                elif isinstance(mark, Area):
                    points = [p for ring in mark.rings for p in ring]
                elif isinstance(mark, Segments):
                    points = [p for a, b, c, d in mark.segments for p in ((a, b), (c, d))]
                elif isinstance(mark, Circle):
                    points = [mark.centre]
                else:
                    assert isinstance(mark, Group) or mark.text is not None
                for x, y in points:
                    assert on.left - 1e-6 <= x <= on.width - on.margin + 1e-6, (page.kind, page.id, mark)
                    assert on.margin - 1e-6 <= y <= on.height - on.margin + 1e-6, (page.kind, page.id, mark)


@pytest.mark.parametrize("job", JOBS)
def test_no_text_is_smaller_than_may_be(job: str) -> None:
    for page in pages_of(plan_for(job), "letter"):
        assert all(t.height >= 1.8 for t in texts(page))


def test_the_checker_sees_an_overlap() -> None:
    page = pages_of(plan_for("crooked"), "tabloid")[0]
    first = next(texts(page))
    twice = type(page)(page.kind, page.id, page.title, page.width, page.height, (*page.marks, first))
    assert overlaps(twice)


@pytest.mark.parametrize("edition", ["installer", "homeowner", "permit", "bid", "all"])
def test_every_edition_has_its_sheets_and_unique_names(edition: str) -> None:
    plan = plan_for("tub-alcove")
    pages = pages_of(plan, "tabloid", edition)
    names = [(p.kind, p.id) for p in pages]
    assert len(set(names)) == len(names)
    kinds = {p.kind for p in pages}
    assert "cover" in kinds
    assert ("cuts" in kinds) == (edition in ("installer", "all"))
    assert ("take-off" in kinds) == (edition in ("installer", "bid", "all"))


def test_unknown_paper_or_edition_is_refused() -> None:
    plan = plan_for("crooked")
    with pytest.raises(ValueError, match="no paper 'napkin'"):
        pages_of(plan, "napkin")
    with pytest.raises(ValueError, match="no edition 'boss'"):
        pages_of(plan, "a4", "boss")
