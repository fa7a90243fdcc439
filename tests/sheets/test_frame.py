"""The frame: numbers, title block, scale bar, revisions, NOMINAL."""

from __future__ import annotations

import pytest

from elevation.drawing.marks import Area
from elevation.sheets.scale_bar import scale_bar
from tests.builders import TILE, job_data, wall_data
from tests.sheets.jobs import LONG, example, nasty
from tests.sheets.plans import pages_of, plan_of, said, texts


def test_sheets_are_numbered_and_the_index_agrees() -> None:
    pages = pages_of(plan_of(nasty()), "a4")
    for n, page in enumerate(pages, 1):
        assert f"Sheet {n} of {len(pages)}" in said(page)
    index = " ".join(said(p) for p in pages if p.kind == "cover")
    first = next(n for n, p in enumerate(pages, 1) if p.kind == "take-off")
    last = max(n for n, p in enumerate(pages, 1) if p.kind == "take-off")
    assert f"{first}-{last} Take-off" in index


def test_title_block_says_what_the_job_says_and_nothing_more() -> None:
    data = example("tub-alcove")
    page = pages_of(plan_of(data), "tabloid", kinds=["cuts"])[0]
    words = said(page)
    for key in ("title", "number", "client", "address", "prepared_by", "date"):
        assert data[key] in words
    for must in ("job file 1a2b3c4d", "All lengths in inches.", "Dimensions to finished tile.",
                 "Scale as shown on 11x17.", "For the installer"):  # fmt: skip
        assert must in words
    bare = said(pages_of(plan_of(job_data(wall_data(1000, 600))), "a3")[0])
    for label in ("CLIENT", "ADDRESS", "DATE", "PREPARED BY", "REVISION", "NOMINAL"):
        assert label not in bare.replace("0: NOMINAL", "")
    assert "All lengths in millimetres." in bare


def test_nominal_is_large_on_every_sheet() -> None:
    data = job_data(wall_data(1000, 600), tile={"t": {**TILE, "sampled": 0}})
    for page in pages_of(plan_of(data), "a4"):
        assert any(t.text == "NOMINAL" and t.height >= 5 for t in texts(page))


def test_long_words_are_shortened_not_lost() -> None:
    page = pages_of(plan_of(nasty()), "letter")[0]
    assert LONG[:30] in said(page)
    assert "more in the job file" in said(page)


@pytest.mark.parametrize("ratio", [1, 2, 4, 8, 12, 24, 48, 96, 192])
def test_scale_bar_is_as_long_as_it_says(ratio: int) -> None:
    marks, _ = scale_bar(ratio, "in", 10.0, 10.0, 44.0)
    bars = [m for m in marks if isinstance(m, Area)]
    last = [m.text for m in marks if not isinstance(m, Area)][-1]
    value, unit = last.split()
    length = float(value) * (12 if unit == "ft" else 1) * 25.4
    xs = [p[0] for bar in bars for p in bar.rings[0]]
    assert (max(xs) - min(xs)) * ratio == pytest.approx(length, abs=1e-6)


@pytest.mark.parametrize("ratio", [1, 2, 5, 10, 20, 50, 100])
def test_metric_scale_bar(ratio: int) -> None:
    marks, _ = scale_bar(ratio, "mm", 10.0, 10.0, 44.0)
    last = [m.text for m in marks if not isinstance(m, Area)][-1]
    xs = [p[0] for m in marks if isinstance(m, Area) for p in m.rings[0]]
    assert (max(xs) - min(xs)) * ratio == pytest.approx(float(last.split()[0]), abs=1e-6)
