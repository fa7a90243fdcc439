"""Puts a set in its folder: all of it or nothing, and the old set stays until the new one is whole.

A cut sheet of last week beside an elevation of today is dangerous, so nothing is ever overwritten piece by piece:
files are written beside, old ones are moved away, new ones are moved in, and any failure moves everything back.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import signal
import tempfile
import threading
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path, PurePosixPath
from types import FrameType

from elevation.errors import OutputError

_AT_ONCE = 16
_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EFBIG: "a file would be larger than this machine allows",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EROFS: "the disk can only be read",
    errno.ENAMETOOLONG: "the name is too long",
}


def write_set(
    folder: Path, files: Mapping[str, bytes], replace_dirs: Sequence[str] = ("sheets",), remove: Sequence[str] = ()
) -> None:
    """Write the files of a set; what else stands in the folder stays.

    Args:
        folder: Where to; made if it is not there, with the folders above it.
        files: Contents by name: ``set.pdf``, or ``sheets/01-elevation-B.svg`` for one in a folder that is replaced.
        replace_dirs: Folders that are replaced as a whole, so that no stale sheet stays in them.
        remove: Files of an older set that this one does not have, and that would be stale beside it.

    Raises:
        OutputError: It cannot be written; what stood there before still stands, and nothing new does.
        ValueError: A name leads out of the folder, or into a folder that is not replaced.
    """
    _check_names(files, replace_dirs)
    made: list[Path] = []
    try:
        _make_folder(folder, made)
        _fill(folder, files, replace_dirs, remove)
    except BaseException as error:
        for path in reversed(made):
            # not empty any more: someone else put something there, so it is theirs now
            with contextlib.suppress(OSError):
                path.rmdir()
        if isinstance(error, OSError):
            raise OutputError(_message(folder, error)) from error
        raise


def _check_names(files: Mapping[str, bytes], replace_dirs: Sequence[str]) -> None:
    for name in files:
        parts = PurePosixPath(name).parts
        known = len(parts) == 1 or (len(parts) == 2 and parts[0] in replace_dirs)
        if not known or any(p in ("..", ".", "/") or "\\" in p for p in parts) or name in replace_dirs:
            raise ValueError(f"{name!r} is no name for a file of a set")


def _make_folder(folder: Path, made: list[Path]) -> None:
    """Make the folder and those above it that are missing; ``made`` keeps those that were, outermost first."""
    missing: list[Path] = []
    at = folder
    while not os.path.lexists(at):
        missing.append(at)
        at = at.parent
    if not at.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, "is not a folder", str(at))
    for path in reversed(missing):
        path.mkdir()
        made.append(path)


class _StrandedError(OutputError):
    """Moving the old set back failed too; it is whole, but stands in a folder beside its place."""


def _fill(folder: Path, files: Mapping[str, bytes], replace_dirs: Sequence[str], remove: Sequence[str]) -> None:
    stage = Path(tempfile.mkdtemp(prefix=".elevation-", dir=folder))
    try:
        new, old = stage / "new", stage / "old"
        new.mkdir()
        old.mkdir()
        for name in sorted({name.split("/")[0] for name in files if "/" in name}):
            (new / name).mkdir()
        # each waits for the disk, and a disk takes many in the time of one
        with ThreadPoolExecutor(_AT_ONCE) as pool:
            for written in [pool.submit(_write, new / name, data) for name, data in files.items()]:
                written.result()
        singles = [name for name in files if "/" not in name]
        _refuse_clashes(folder, [*singles, *remove], replace_dirs)
        _swap(folder, new, old, [*replace_dirs, *singles, *remove])
    except _StrandedError:
        raise
    except BaseException:
        shutil.rmtree(stage, ignore_errors=True)  # what went wrong first is what the user must hear
        raise
    try:
        _remove(stage)
    except OSError as error:
        raise OutputError(f"the set is written, but what it replaced could not be removed from {stage}") from error


def _remove(folder: Path) -> None:
    """Remove a folder and what is in it, the files side by side."""
    files = [Path(parent) / name for parent, _, names in os.walk(folder) for name in names]
    with ThreadPoolExecutor(_AT_ONCE) as pool:
        for gone in [pool.submit(file.unlink) for file in files]:
            gone.result()
    shutil.rmtree(folder)


def _write(path: Path, data: bytes) -> None:
    """Write a file through to the disk, since only then is it sure that there was room for it."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _refuse_clashes(folder: Path, singles: Sequence[str], replace_dirs: Sequence[str]) -> None:
    """Refuse to put a file where a folder stands, or the other way round: that is no old set."""
    for name in singles:
        if (folder / name).is_dir():
            raise IsADirectoryError(errno.EISDIR, "is a folder, and a file of that name is to be written", name)
    for name in replace_dirs:
        if os.path.lexists(folder / name) and not (folder / name).is_dir():
            raise NotADirectoryError(errno.ENOTDIR, "is not a folder", str(folder / name))


def _swap(folder: Path, new: Path, old: Path, names: Sequence[str]) -> None:
    """Move the old entries away and the new ones in; on any failure move everything back."""
    moves: list[tuple[Path, Path]] = []
    with _uninterrupted():
        try:
            for name in names:
                for source, target in ((folder / name, old / name), (new / name, folder / name)):
                    if os.path.lexists(source):
                        moves.append((source, target))
                        source.rename(target)
        except BaseException as error:
            _move_back(folder, old, moves, error)
            raise


def _move_back(folder: Path, old: Path, moves: Sequence[tuple[Path, Path]], cause: BaseException) -> None:
    stuck = False
    for source, target in reversed(moves):
        # the move that failed is in the list too, and was not made
        if not os.path.lexists(source):
            try:
                target.rename(source)
            except OSError:
                stuck = True
    if stuck:
        raise _StrandedError(
            f"the set in {folder} could not be replaced, nor put back ({cause}); what is missing there stands in {old}"
        ) from cause


@contextlib.contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold back Ctrl-C until the block is done; only the main thread may, and only there does it arrive."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []

    def hold(number: int, frame: FrameType | None) -> None:
        held.append(number)

    before = signal.signal(signal.SIGINT, hold)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, signal.SIG_DFL if before is None else before)
        if held:
            signal.raise_signal(signal.SIGINT)


def _message(folder: Path, error: OSError) -> str:
    if isinstance(error, NotADirectoryError | FileExistsError):
        reason = f"{error.filename} is not a folder"
    elif isinstance(error, IsADirectoryError):
        reason = f"{error.filename} {error.strerror}"
    else:
        reason = _REASONS.get(error.errno or 0, error.strerror or str(error))
    return f"cannot write the set to {folder}: {reason}; nothing was changed"
