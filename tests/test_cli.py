"""The command line as a user meets it: answers, messages, exit codes."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from elevation.cli.group import run

EXAMPLES = Path(__file__).parent.parent / "examples"
ALCOVE = EXAMPLES / "tub-alcove.toml"


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "bath.toml"
    path.write_bytes(ALCOVE.read_bytes())
    return path


def tree(folder):
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_draw_writes_the_set_beside_the_job_file(job, capsys):
    assert run(["draw", str(job)]) == 0
    folder = job.with_suffix("")
    names = {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()}
    assert {"set.pdf", "plan.json", "cuts.csv", "takeoff.csv"} <= names
    sheets = sorted(n for n in names if n.startswith("sheets/"))
    assert [n.split("/")[1][:2] for n in sheets] == [f"{n:02d}" for n in range(1, len(sheets) + 1)]
    kinds = {"cover", "picture", "choice", "elevation", "set-out", "niche", "cuts", "templates", "take-off", "notes"}
    assert all(any(n[len("sheets/00-") :].startswith(f"{k}-") for k in kinds) for n in sheets)
    assert {p.name for p in job.parent.iterdir()} == {"bath.toml", "bath"}
    out = capsys.readouterr()
    assert "sheets on tabloid" in out.out


def test_two_runs_in_two_processes_give_the_same_bytes(job, tmp_path):
    for name in ("one", "two"):
        env = {**os.environ, "PYTHONHASHSEED": "1" if name == "one" else "2"}
        subprocess.run(
            [sys.executable, "-m", "elevation", "draw", str(job), "-o", str(tmp_path / name)],
            check=True,
            env=env,
            capture_output=True,
        )
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_a_second_draw_replaces_the_sheets_as_a_whole(job):
    assert run(["draw", str(job)]) == 0
    folder = job.with_suffix("")
    (folder / "sheets" / "99-cuts-stale.svg").write_text("stale")
    (folder / "notes.txt").write_text("mine")
    assert run(["draw", str(job), "--paper", "letter"]) == 0
    assert not (folder / "sheets" / "99-cuts-stale.svg").exists()
    assert (folder / "notes.txt").read_text() == "mine"


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        *(("kitchen-wall", p) for p in ("letter", "tabloid", "arch-c", "arch-d", "a4", "a3", "a2", "a1")),
        *((n, p) for n in ("tub-alcove", "shower-niche", "crooked-bath") for p in ("letter", "a3")),
    ],
)
def test_examples_on_every_paper(name, paper, tmp_path):
    assert run(["draw", str(EXAMPLES / f"{name}.toml"), "-o", str(tmp_path / "set"), "--paper", paper, "--quiet"]) == 0


@pytest.mark.parametrize("edition", ["installer", "homeowner", "permit", "bid", "all"])
def test_every_edition(edition, job, tmp_path):
    assert run(["draw", str(job), "-o", str(tmp_path / edition), "--for", edition, "--quiet"]) == 0


def test_json_is_json_and_alone_on_stdout(job, capsys):
    for command in (["draw", str(job)], ["check", str(job)], ["takeoff", str(job)]):
        assert run([*command, "--json"]) in (0, 1)
        json.loads(capsys.readouterr().out)
    for command in (["schema"], ["schema", "--plan"]):
        assert run(command) == 0
        assert "$schema" in json.loads(capsys.readouterr().out)


def test_a_wrong_job_file_is_one_message_on_stderr_and_writes_nothing(job, capsys):
    job.write_text(job.read_text().replace('width = "60 1/4"', 'widht = "60 1/4"'))
    assert run(["draw", str(job)]) == 2
    out = capsys.readouterr()
    assert out.out == ""
    assert "bath.toml:" in out.err
    assert "widht" in out.err
    assert "width" in out.err
    assert "Traceback" not in out.err
    assert not job.with_suffix("").exists()


def test_a_problem_found_by_a_later_stage_names_the_line(job, capsys):
    text = job.read_text().replace(
        'start = { x = "left", y = { wall = "B" } }', 'start = { x = { on = "n9", at = "left" }, y = "bottom" }'
    )
    job.write_text(text)
    assert run(["check", str(job)]) == 2
    err = capsys.readouterr().err
    assert "n9" in err
    assert "bath.toml:" in err


def test_a_missing_file_and_a_folder(tmp_path, capsys):
    assert run(["draw", str(tmp_path / "none.toml")]) == 2
    assert run(["check", str(tmp_path)]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_output_that_cannot_be_written(job, tmp_path, capsys):
    target = tmp_path / "occupied"
    target.write_text("a file")
    assert run(["draw", str(job), "-o", str(target)]) == 3
    assert target.read_text() == "a file"
    assert {p.name for p in tmp_path.iterdir()} == {"bath.toml", "occupied"}
    assert "occupied" in capsys.readouterr().err


def test_a_finding_that_says_stop_ends_with_1_and_still_draws(job):
    # a profile too low for tile and bed
    job.write_text(job.read_text().replace('height = "7/16"', 'height = "1/4"'))
    assert run(["check", str(job)]) == 1
    assert run(["draw", str(job), "--quiet"]) == 1
    assert (job.with_suffix("") / "set.pdf").exists()


def test_without_cairo_all_but_the_pdf_is_written(job, monkeypatch, capsys, tmp_path):
    assert run(["draw", str(job), "--quiet"]) == 0
    (tmp_path / "path").mkdir()
    (tmp_path / "path" / "cairocffi.py").write_text("raise OSError('no library called cairo was found')")
    monkeypatch.syspath_prepend(tmp_path / "path")
    assert run(["draw", str(job)]) == 3
    assert "sudo apt-get install libcairo2" in capsys.readouterr().err
    folder = job.with_suffix("")
    assert (folder / "plan.json").exists()
    assert not (folder / "set.pdf").exists(), "a PDF of an older run beside newer sheets would be dangerous"


def test_a_printer_that_breaks_down_is_said(job, monkeypatch, capsys, tmp_path):
    (tmp_path / "path").mkdir()
    (tmp_path / "path" / "cairocffi.py").write_text("raise RuntimeError('jammed')")
    monkeypatch.syspath_prepend(tmp_path / "path")
    assert run(["draw", str(job)]) == 3
    assert "the process that makes the PDF failed: RuntimeError: jammed" in capsys.readouterr().err


def test_unknown_options_and_commands_end_with_2():
    assert run(["draw", "--nonsense"]) == 2
    assert run(["paint"]) == 2


def test_help_and_version(capsys):
    for args in (["--help"], ["draw", "--help"], ["--version"]):
        assert run(args) == 0
    assert "0.1" in capsys.readouterr().out


def test_help_shows_the_first_three_commands_line_by_line(capsys):
    assert run(["--help"]) == 0
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    assert "then          elevation check bath.toml" in lines
    assert not any("\\b" in line for line in lines)


@pytest.mark.parametrize(
    ("typed", "told"),
    [("running bond", ""), ("Running_Bond", ""), ("brick", "did you mean running-bond"), ("slivers", "mean sliver?"),
     ("sealant", "did you mean")],
)  # fmt: skip
def test_explain_takes_words_as_people_type_them(capsys, typed, told):
    code = run(["explain", typed])
    said = capsys.readouterr()
    assert code == (2 if told else 0)
    assert told in said.err
    assert told or said.out.startswith("running-bond")


def test_explain(capsys):
    assert run(["explain"]) == 0
    listed = capsys.readouterr().out
    assert "running-bond" in listed
    assert run(["explain", "running-bond"]) == 0
    assert "+---" in capsys.readouterr().out
    assert run(["explain", "wall.niche.pitch"]) == 0
    capsys.readouterr()
    assert run(["explain", "runing-bond"]) == 2
    assert "running-bond" in capsys.readouterr().err


def test_new_asks_and_writes_a_file_that_can_be_drawn(tmp_path):
    path = tmp_path / "new.toml"
    done = subprocess.run(
        [sys.executable, "-m", "elevation", "new", str(path)],
        input="in\n" + "\n" * 60,
        text=True,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "#" in path.read_text()
    assert run(["check", str(path)]) in (0, 1)


def test_an_interrupt_ends_with_130_and_leaves_nothing(job):
    script = (
        "import elevation.cli.draw as d, signal, sys, time\n"
        # started in the background, it would ignore the interrupt
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "from elevation.cli.group import run\n"
        "def slow(*a, **k):\n    print('ready', flush=True); time.sleep(30)\n"
        "d.draw_set = slow\n"
        f"sys.exit(run(['draw', {str(job)!r}]))\n"
    )
    child = subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert child.stdout.readline().strip() == b"ready"
    time.sleep(0.1)
    child.send_signal(signal.SIGINT)
    _, err = child.communicate(timeout=20)
    assert child.returncode == 130
    assert b"Traceback" not in err
    assert {p.name for p in job.parent.iterdir()} == {"bath.toml"}


def test_a_title_with_markup_is_only_text(job):
    job.write_text(
        job.read_text().replace('title = "Guest bath, tub alcove"', 'title = "<script>alert(1)</script> & Co"')
    )
    assert run(["draw", str(job), "--quiet"]) == 0
    for svg in (job.with_suffix("") / "sheets").iterdir():
        assert b"<script" not in svg.read_bytes()


def test_draw_only_some_kinds(job, capsys):
    assert run(["draw", str(job), "--only", "templates"]) == 0
    kinds = {p.name.split("-")[1] for p in (job.with_suffix("") / "sheets").iterdir()}
    assert kinds == {"templates"}
    assert "templates on letter" in capsys.readouterr().out
    # nobody but the installer gets templates: nothing is written, and it is said why
    before = tree(job.with_suffix(""))
    assert run(["draw", str(job), "--only", "templates", "--for", "permit"]) == 2
    assert "nothing to draw on templates" in capsys.readouterr().err
    assert tree(job.with_suffix("")) == before
