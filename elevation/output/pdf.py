"""The pages of a set as one PDF, in this process or in one of its own.

Loading cairo takes a third of a second and drawing about as long: ``Printer`` has both done beside the rest of the
work, on the machine's other core.
"""

from __future__ import annotations

import contextlib
import pickle
import subprocess
import sys
from collections.abc import Sequence
from types import ModuleType, TracebackType
from typing import Self

from elevation.drawing.marks import Page
from elevation.errors import OutputError
from elevation.output.plain import plain

_START = "import sys; sys.path[:] = {path!r}; from elevation.output.pdf import serve; serve()"


def pages_pdf(pages: Sequence[Page], title: str, date: str | None = None) -> bytes:
    """Return the set as a PDF: bookmarks, page labels, fonts embedded; the same pages give the same bytes.

    Args:
        pages: The pages.
        title: Title of the document.
        date: Date of the job, ``YYYY-MM-DD``; without one the file carries no date at all.

    Raises:
        OutputError: The cairo library is not on this machine.
        ValueError: There is no page.
    """
    if not pages:
        raise ValueError("a set needs at least one page")
    made: bytes = _document().document([plain(page) for page in pages], title, date)
    return made


def _document() -> ModuleType:
    """Return the module that makes the file, loaded when first needed: it is slow to load and may fail to."""
    try:
        from elevation.output import document  # noqa: PLC0415
    except OSError as error:
        raise OutputError(
            "the PDF needs the cairo library, which is not on this machine; "
            "install it with: sudo apt-get install libcairo2 (Debian and its like), "
            "sudo dnf install cairo (Fedora and its like), brew install cairo (macOS)"
        ) from error
    return document


class Printer:
    """Makes one PDF in a process of its own, which loads its libraries while the pages are still being worked out."""

    def __init__(self) -> None:
        command = [sys.executable, "-c", _START.format(path=sys.path)]
        pipe = subprocess.PIPE
        self._process = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.communicate()

    def start(self, pages: Sequence[Page], title: str, date: str | None) -> None:
        """Hand the pages over; they are drawn from now on."""
        assert self._process.stdin is not None
        # a process that is gone says why when it is asked for its answer
        with contextlib.suppress(BrokenPipeError):
            pickle.dump(([plain(page) for page in pages], title, date), self._process.stdin, pickle.HIGHEST_PROTOCOL)
            self._process.stdin.flush()

    def finish(self) -> bytes:
        """Wait for the file and return it.

        Raises:
            OutputError: As ``pages_pdf`` does, or the process came to an end without an answer.
        """
        answer, complaint = self._process.communicate()
        if self._process.returncode != 0:
            said = complaint.decode("utf-8", "replace").strip().splitlines()
            raise OutputError(f"the process that makes the PDF failed: {said[-1] if said else 'it says nothing'}")
        made, problem = pickle.loads(answer)
        if problem:
            raise OutputError(problem)
        return bytes(made)


def serve() -> None:
    """Make the one PDF that is asked for on stdin and answer on stdout: the other end of ``Printer``."""
    with contextlib.suppress(OutputError):
        # while nothing is asked yet; where it fails, it fails again below and is told
        _document().prepare()
    pages, title, date = pickle.load(sys.stdin.buffer)
    try:
        answer = (_document().document(pages, title, date), "")
    except OutputError as error:
        answer = (b"", str(error))
    pickle.dump(answer, sys.stdout.buffer)
