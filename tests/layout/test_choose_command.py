"""``elevation choose`` from outside: the answer, JSON, what is kept, what is refused; the sheet to sign; plan.json."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from elevation.cli.choose import choose as command
from elevation.cutting import cut_tiles
from elevation.drawing.marks import Text, walk
from elevation.errors import OutputError
from elevation.layout import choice_findings, choose, start_words
from elevation.pieces import edge_runs, make_pieces
from elevation.plan import Plan
from elevation.plan.layout_data import layout_data
from elevation.sheets.base import Body
from elevation.sheets.choice import ChoiceSheet
from elevation.wall import build_faces
from tests.builders import job_of
from tests.layout.random_rooms import random_room
from tests.layout.test_choose import EXAMPLE


@pytest.fixture
def job_file(tmp_path):
    path = tmp_path / "bath.toml"
    path.write_text(EXAMPLE, encoding="utf-8")
    return path


def run(*args):
    return CliRunner().invoke(command, [str(a) for a in args], standalone_mode=False)


def test_the_answer_to_read(job_file):
    result = run(job_file)
    assert result.exception is None
    assert result.return_value == 0
    lines = result.output.splitlines()
    assert lines[0].split()[:3] == ["choice", "joint", "slivers"]
    numbers = [line.split()[0] for line in lines[1:6]]
    assert numbers[0] == "1"
    for words in ("wall B: start = {", "1 before 2: ", "1 against a tile midway", "most depends on", "starts judged"):
        assert words in result.output
    assert job_file.read_text(encoding="utf-8") == EXAMPLE


def test_json(job_file):
    data = json.loads(run(job_file, "--json").output)
    assert data["proved"] is True
    assert data["bound"] == 0
    first = data["candidates"][0]
    assert set(first["terms"]) == {
        "slivers", "asked", "under-half", "balance", "aligned", "narrowest", "cuts", "tiles",
    }  # fmt: skip
    assert set(first["starts"]) == {"B"}
    assert len(data["why"]) == len(data["candidates"]) - 1
    assert {m["face"] for m in data["margin"]} == {"A", "B"}


def test_keep_writes_that_choice_and_then_nothing_is_open(job_file):
    offered = json.loads(run(job_file, "--json").output)["candidates"][1]["starts"]["B"]
    result = run(job_file, "--keep", 2)
    assert result.return_value == 0
    assert "choice 2 written" in result.output
    text = job_file.read_text(encoding="utf-8")
    assert f"start = {offered}   # to be found" in text
    assert not list(job_file.parent.glob("bath.toml?*"))
    again = run(job_file)
    assert "leaves nothing to choose" in again.output
    assert "nothing to choose" in str(run(job_file, "--keep", 1).exception)


def test_a_choice_that_is_not_there(job_file):
    result = run(job_file, "--keep", 99)
    assert re.search(r"no choice 99; there are \d", str(result.exception))
    assert job_file.read_text(encoding="utf-8") == EXAMPLE


def test_a_file_that_cannot_be_written_stays(job_file, monkeypatch):
    def refuse(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("elevation.cli.choose.tempfile.mkstemp", refuse)
    result = run(job_file, "--keep", 1)
    assert isinstance(result.exception, OutputError)
    assert result.exception.exit_code == 3
    assert job_file.read_text(encoding="utf-8") == EXAMPLE


def plan_of(data):
    job = job_of(data)
    choice = choose(job, build_faces(job))
    zones = make_pieces(choice.job, choice.laid)
    cuts = [p for z in zones for p in z.pieces if not p.is_whole]
    whole = sum(p.is_whole for z in zones for p in z.pieces)
    cutting = (cut_tiles("t", choice.job.tile["t"], cuts, whole, choice.job.kerf),)
    return Plan(
        choice.job, "a.toml", "0" * 8, choice.laid, zones, edge_runs(choice.laid), cutting, (), (), choice=choice
    )


@pytest.mark.parametrize("seed", [2, 6, 19])
def test_plan_json_has_every_term_counted_on_the_pieces(seed):
    plan = plan_of(random_room(seed))
    entries = layout_data(plan.choice, plan.zones, plan.cutting)
    assert [(e["wall"], e["zone"]) for e in entries] == [(z.face, z.zone) for z in plan.zones]
    for entry, zone in zip(entries, plan.zones, strict=True):
        assert {"slivers", "asked", "under-half", "balance", "aligned", "narrowest", "cuts", "tiles"} == set(
            entry["chosen"]
        )
        assert entry["chosen"]["cuts"] == sum(not p.is_whole for p in zone.pieces)
        if "." not in entry["wall"]:
            assert entry["examined"] > 0
            assert entry["proved"] is True
            assert entry["candidates"][0]["taken"] is True
    assert sum(e["chosen"]["tiles"] for e in entries) == plan.cutting[0].tiles
    json.dumps(entries)


def texts(content):
    return [m for m in walk(content.marks) if isinstance(m, Text)]


@pytest.mark.parametrize(("width", "height"), [(330, 240), (200, 170), (160, 240)])
def test_the_sheet_shows_every_candidate_with_a_box_and_a_line_to_sign_on(width, height):
    plan = plan_of(random_room(6))
    body = Body(10, 10, width, height, "in", "homeowner", plan.job.step)
    pages = list(ChoiceSheet().compose(plan, body))
    shown = [t.text for page in pages for t in texts(page) if re.fullmatch(r"Choice \d", t.text)]
    assert shown == [f"Choice {c.number}" for c in plan.choice.candidates]
    for page in pages:
        assert {"Signature", "Date"} <= {t.text for t in texts(page)}
        for text in texts(page):
            assert body.x <= text.at[0] <= body.right
            assert body.y <= text.at[1] <= body.top


def test_no_sheet_where_nothing_is_open():
    plan = plan_of(random_room(6))
    body = Body(10, 10, 330, 240, "in", "homeowner", plan.job.step)
    given = choose(plan.job, build_faces(plan.job))
    assert given.candidates == ()
    assert list(ChoiceSheet().compose(plan_without(plan, given), body)) == []


def plan_without(plan, choice):
    return Plan(plan.job, plan.file, plan.fingerprint, plan.faces, plan.zones, plan.runs, (), (), (), choice=choice)


def test_notes_say_what_was_chosen():
    plan = plan_of(random_room(6))
    notes = list(choice_findings(plan.choice))
    for wall in plan.choice.open:
        words = start_words(plan.choice, wall)
        assert words.startswith("START CHOSEN: ")
        (note,) = [n for n in notes if n.where == wall]
        assert words.removeprefix("START CHOSEN: ") in note.text
        assert note.level == "note"
    assert start_words(None, "A") == ""
