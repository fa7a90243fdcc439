"""All or nothing: the folder after every way to fail."""

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from elevation.errors import OutputError
from elevation.output.write import write_set

OLD = {"set.pdf": b"old", "plan.json": b"old plan", "sheets/01-cuts-A.svg": b"old A", "sheets/02-cuts-B.svg": b"old B"}
NEW = {"set.pdf": b"new", "cuts.csv": b"new cuts", "plan.json": b"new plan", "sheets/01-cuts-A.svg": b"new A"}


def contents(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    target = tmp_path / "job"
    write_set(target, OLD)
    (target / "notes.txt").write_bytes(b"the user's own")
    return target


BEFORE = {**OLD, "notes.txt": b"the user's own"}


def test_new_folder_and_those_above_it(tmp_path: Path) -> None:
    write_set(tmp_path / "a" / "b", NEW)
    assert contents(tmp_path / "a" / "b") == NEW


def test_sheets_are_replaced_as_a_whole_and_the_rest_stays(folder: Path) -> None:
    write_set(folder, NEW)
    assert contents(folder) == {**NEW, "notes.txt": b"the user's own"}
    assert sorted(p.name for p in folder.iterdir()) == ["cuts.csv", "notes.txt", "plan.json", "set.pdf", "sheets"]


def test_no_sheets_means_no_stale_sheets(folder: Path) -> None:
    write_set(folder, {"set.pdf": b"new"})
    assert not (folder / "sheets").exists()


@pytest.mark.parametrize("fails_at", range(1, 8))
@pytest.mark.parametrize("error", [OSError(errno.EIO, "input/output error"), KeyboardInterrupt()])
def test_a_move_that_fails_midway(
    folder: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int, error: BaseException
) -> None:
    real, calls = os.rename, []

    def rename(source: Path, target: Path) -> None:
        calls.append(source)
        if len(calls) == fails_at:
            raise error
        real(source, target)

    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises(OutputError if isinstance(error, OSError) else KeyboardInterrupt):
        write_set(folder, NEW)
    assert contents(folder) == BEFORE
    assert len(list(folder.iterdir())) == 4, "nothing of the new set may be left"


def test_old_set_survives_when_it_cannot_even_be_put_back(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = os.rename, []

    def rename(source: Path, target: Path) -> None:
        calls.append(source)
        if len(calls) > 3:
            raise OSError(errno.EIO, "input/output error")
        real(source, target)

    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises(OutputError, match="stands in"):
        write_set(folder, NEW)
    assert sorted(v for v in contents(folder).values() if b"old" in v) == sorted(OLD.values())


@pytest.fixture
def interruptible() -> Iterator[None]:
    """Let Ctrl-C interrupt, also where the tests were started in the background and ignore it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("interruptible")
def test_interrupt_waits_for_the_moves(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.rename

    def rename(source: Path, target: Path) -> None:
        signal.raise_signal(signal.SIGINT)
        real(source, target)

    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises(KeyboardInterrupt):
        write_set(folder, NEW)
    assert contents(folder) == {**NEW, "notes.txt": b"the user's own"}


def test_the_folder_is_a_file(tmp_path: Path) -> None:
    target = tmp_path / "job"
    target.write_bytes(b"mine")
    for place in (target, target / "below"):
        with pytest.raises(OutputError, match="is not a folder"):
            write_set(place, NEW)
    assert contents(tmp_path) == {"job": b"mine"}


def test_a_folder_stands_where_a_file_should(folder: Path) -> None:
    (folder / "cuts.csv").mkdir()
    with pytest.raises(OutputError, match=r"cuts\.csv is a folder"):
        write_set(folder, NEW)
    assert contents(folder) == BEFORE


def test_a_file_stands_where_the_sheets_should(tmp_path: Path) -> None:
    (tmp_path / "sheets").write_bytes(b"mine")
    with pytest.raises(OutputError, match="sheets is not a folder"):
        write_set(tmp_path, NEW)
    assert contents(tmp_path) == {"sheets": b"mine"}


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="needs a place where nobody may write")
def test_no_rights() -> None:
    with pytest.raises(OutputError, match="nothing was changed"):
        write_set(Path("/proc/self/job"), NEW)


def test_made_folders_go_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "no space")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="the disk is full"):
        write_set(tmp_path / "a" / "b", NEW)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no such limit there")
def test_limit_of_file_size(folder: Path) -> None:
    code = (
        "import resource, sys\nfrom pathlib import Path\nfrom elevation.errors import OutputError\n"
        "from elevation.output.write import write_set\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try:\n    write_set(Path(sys.argv[1]), {'set.pdf': b'x' * 5000, 'sheets/1.svg': b'y'})\n"
        "except OutputError as error:\n    sys.exit(f'{error.exit_code}: {error}')\n"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", code, folder], capture_output=True, text=True, cwd=root, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("3: cannot write the set"), done.stderr
    assert "larger than this machine allows" in done.stderr
    assert contents(folder) == BEFORE
    assert len(list(folder.iterdir())) == 4


@pytest.mark.parametrize("name", ["../out.pdf", "/out.pdf", "other/x.svg", "sheets/a/b.svg", "sheets", "sheets/../x"])
def test_names_that_lead_elsewhere(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="is no name"):
        write_set(tmp_path, {name: b""})


def test_a_file_that_the_new_set_lacks_is_removed_with_it(tmp_path):
    write_set(tmp_path, {"set.pdf": b"old", "plan.json": b"old"})
    write_set(tmp_path, {"plan.json": b"new"}, remove=("set.pdf",))
    assert {p.name for p in tmp_path.iterdir()} == {"plan.json"}
