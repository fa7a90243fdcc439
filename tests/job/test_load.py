"""Reading a job file from disk: what stops it before TOML, and what a good file gives."""

import hashlib
import re
from pathlib import Path

import pytest

from elevation.errors import JobError, Problem
from elevation.job import read_job, read_text
from elevation.job.load import LARGEST, MOST_SHOWN

EXAMPLE = Path(__file__).parent / "example_in.toml"


def said(path):
    with pytest.raises(JobError) as caught:
        read_job(path)
    assert caught.value.exit_code == 2
    return str(caught.value)


def test_the_example_is_read_in_millimetres():
    source = read_job(EXAMPLE)
    assert source.file == str(EXAMPLE)
    assert source.fingerprint == hashlib.sha256(EXAMPLE.read_bytes()).hexdigest()[:8]
    wall = source.job.wall_by_id("B")
    assert wall.width == pytest.approx(60.25 * 25.4)
    assert wall.niche[0].shelf[0].y == pytest.approx(152.4)
    assert wall.edges["bottom"].joint == pytest.approx((3.175, 6.35))
    assert source.job.tile["field"].length == pytest.approx((11 + 13 / 16) * 25.4)
    assert source.job.wall_by_id("A").edges["2"].with_ == "B"


def test_a_byte_order_mark_and_windows_line_ends_change_nothing_but_the_fingerprint(tmp_path):
    other = tmp_path / "windows.toml"
    other.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.read_bytes().replace(b"\n", b"\r\n"))
    a, b = read_job(EXAMPLE), read_job(other)
    assert a.job == b.job
    assert a.notes == b.notes
    assert a.text == b.text
    assert a.fingerprint != b.fingerprint


def test_markup_in_a_title_is_text(tmp_path):
    text = EXAMPLE.read_text().replace('"Guest bath, tub alcove"', '"<script>alert(1)</script> & more"')
    assert read_text(text, "x.toml").job.title == "<script>alert(1)</script> & more"


def test_a_later_stage_gets_line_and_value():
    source = read_job(EXAMPLE)
    lines = source.text.split("\n")
    problem = source.locate(Problem("wall[2].niche[1].width", "does not fit"))
    assert lines[problem.line - 1] == 'width = "24 1/4"'
    assert problem.value == '"24 1/4"'
    side = source.locate(Problem("wall[2].edges.top.joint", "is odd"))
    assert lines[side.line - 1].startswith("top ")
    assert side.value == '["1/8", "1/4"]'
    assert source.locate(Problem("", "is odd")) == Problem("", "is odd")
    error = source.error([Problem("tile.field.box", "is odd")])
    assert str(error) == f"{EXAMPLE}:{lines.index('box = 44') + 1}: tile.field.box = 44: is odd"


def test_a_missing_file_and_a_near_one(tmp_path):
    assert said(tmp_path / "bath.toml") == f"{tmp_path / 'bath.toml'}: there is no such file"
    (tmp_path / "bath2.toml").write_text("")
    assert f'did you mean "{tmp_path / "bath2.toml"}"?' in said(tmp_path / "bath.toml")


def test_a_folder(tmp_path):
    assert said(tmp_path).endswith("is a folder; name the job file in it")


def test_a_file_without_rights(tmp_path, monkeypatch):
    path = tmp_path / "job.toml"
    path.write_text("")

    def refuse(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert said(path).endswith("may not be read; check the rights of the file and its folder")


def test_a_disk_that_fails(tmp_path, monkeypatch):
    def refuse(*_args, **_kwargs):
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "open", refuse)
    assert said(tmp_path / "job.toml").endswith("cannot be read: input/output error")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty; `elevation new` writes a file to start from"), (b" \n\n", "is empty"),
        (b'title = "x"\nclient = "Caf\xe9"\n', ":2: is not UTF-8: byte 0xe9; save it as UTF-8, plain text"),
        (b'\xff\xfet\x00i\x00', "is written in UTF-16; save it as UTF-8, plain text"),
        (b"a = 1\nb\0 = 2\n", ":2: holds a zero byte; a job file is plain text"),
        (b"\x89PNG\r\n\x1a\n\0\0", "holds a zero byte"), (b"%PDF-1.5\n%\xe2\xe3\xcf\xd3", ":2: is not UTF-8"),
        (b"a = " + b"9" * 5000, ":1: this line has a number of thousands of digits"),
        (b"a = " + b"[" * 20000 + b"]" * 20000, "has brackets in brackets too deep to read"),
    ],
)  # fmt: skip
def test_what_is_no_text_is_refused(tmp_path, data, says):
    path = tmp_path / "job.toml"
    path.write_bytes(data)
    assert says in said(path)


def test_a_large_file_is_refused_without_parsing(tmp_path, monkeypatch):
    path = tmp_path / "job.toml"
    path.write_bytes(b"#" * 10_000_000)
    monkeypatch.setattr("elevation.job.load.tomllib.loads", None)  # parsing would now raise TypeError
    assert said(path).endswith("is larger than 1 MB; that is no job file")


def test_a_name_that_no_file_can_have():
    assert said("job\0.toml").endswith("is not the name of a file")


def test_a_file_at_the_limit_is_read(tmp_path):
    data = EXAMPLE.read_bytes()
    path = tmp_path / "job.toml"
    path.write_bytes(data + b"#" * (LARGEST - len(data)))
    assert read_job(path).job == read_job(EXAMPLE).job


def test_thousands_of_faults_are_told_as_two_hundred(tmp_path):
    holes = [f'[[wall.hole]]\nid = "h{i}"\nx = "q"\ny = 1\ndiameter = 1\n' for i in range(900)]
    text = EXAMPLE.read_text() + "".join(holes)
    with pytest.raises(JobError) as caught:
        read_text(text, "x")
    assert len(caught.value.problems) == MOST_SHOWN + 1
    assert caught.value.problems[-1].text == "has 700 more problems of this kind"


def test_problems_come_in_the_order_of_the_file_each_key_once():
    text = (Path(__file__).parents[1] / "bad_jobs" / "several_at_once.toml").read_text()
    with pytest.raises(JobError) as caught:
        read_text(text, "x")
    lines = [p.line for p in caught.value.problems]
    assert lines == sorted(lines)
    assert len({p.key for p in caught.value.problems}) == len(lines) >= 6


def test_each_unused_key_gives_one_note():
    notes = read_job(EXAMPLE).notes
    assert {n.level for n in notes} <= {"note"}
    assert {n.rule for n in notes} <= {"unused-key"}
    assert len({n.where for n in notes}) == len(notes)
    text = re.sub(r"(?m)^diagonals = .*\n", "", EXAMPLE.read_text())
    assert "wall[2].survey.diagonals" not in {n.where for n in read_text(text, "x").notes}
