"""The examples are the goldens: every sheet, tables, findings. Refresh with ``--snapshot-update``; then look."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from elevation.output.svg import page_svg
from elevation.output.tables import cuts_csv, takeoff_csv
from elevation.pipeline import read, work_out
from elevation.sheets import compose_set

EXAMPLES = sorted((Path(__file__).parent.parent / "examples").glob("*.toml"))


class TextFile(SingleFileSnapshotExtension):
    _write_mode = WriteMode.TEXT
    file_extension = "txt"


class SvgFile(TextFile):
    file_extension = "svg"


class CsvFile(TextFile):
    file_extension = "csv"


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda p: p.stem)
def plan(request):
    return work_out(read(request.param))


def test_sheets(plan, snapshot):
    paper = "tabloid" if plan.job.units == "in" else "a3"
    for n, page in enumerate(compose_set(plan, "installer", paper), 1):
        assert page_svg(page).decode() == snapshot(
            name=f"{Path(plan.file).stem}-{n:02d}-{page.kind}-{page.id}", extension_class=SvgFile
        )


def test_tables(plan, snapshot):
    name = Path(plan.file).stem
    assert cuts_csv(plan).decode().replace("\r\n", "\n") == snapshot(name=f"{name}-cuts", extension_class=CsvFile)
    assert takeoff_csv(plan).decode().replace("\r\n", "\n") == snapshot(
        name=f"{name}-takeoff", extension_class=CsvFile
    )


def test_findings(plan, snapshot):
    lines = [f"{f.level} {f.rule} | {f.where} | {f.text} | {f.source}" for f in plan.findings]
    assert "\n".join(lines) + "\n" == snapshot(name=f"{Path(plan.file).stem}-findings", extension_class=TextFile)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_examples_say_that_they_are_invented(path):
    assert "invented" in path.read_text(encoding="utf-8")
