"""The pages of a set as one PDF: bookmarks, page labels, fonts embedded, no clock in it."""

from __future__ import annotations

import io
from collections.abc import Sequence
from types import ModuleType

import pikepdf

from elevation.drawing.marks import Page
from elevation.errors import OutputError
from elevation.output.plain import plain
from elevation.output.svg import sayable


def pages_pdf(pages: Sequence[Page], title: str, date: str | None = None) -> bytes:
    """Return the set as a PDF; the same pages give the same bytes, today and tomorrow.

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
    labels = [f"{n} {page.kind} {page.id}".strip() for n, page in enumerate(pages, 1)]
    outline = [f"{n}  {sayable(page.title)}" for n, page in enumerate(pages, 1)]
    drawn = _surface().draw_pdf([plain(page) for page in pages], sayable(title), labels, outline)
    return _finished(drawn, date=date, full_size=any(page.full_size for page in pages))


def _surface() -> ModuleType:
    """Return the module that knows cairo, loaded when first needed: it is slow to load and may fail to."""
    try:
        from elevation.output import surface  # noqa: PLC0415
    except OSError as error:
        raise OutputError(
            "the PDF needs the cairo library, which is not on this machine; "
            "install it with: sudo apt-get install libcairo2 (Debian and its like), "
            "sudo dnf install cairo (Fedora and its like), brew install cairo (macOS)"
        ) from error
    return surface


def _finished(drawn: bytes, *, date: str | None, full_size: bool) -> bytes:
    """Return the PDF with its date, language and viewer settings; 1:1 pages ask the printer not to scale."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(drawn)) as pdf:
        del pdf.docinfo["/CreationDate"]
        if date is not None:
            pdf.docinfo["/CreationDate"] = pikepdf.String(f"D:{date.replace('-', '')}000000Z")
        pdf.Root.Lang = pikepdf.String("en")
        preferences = pikepdf.Dictionary(DisplayDocTitle=True)
        if full_size:
            preferences.PrintScaling = pikepdf.Name("/None")
            preferences.PickTrayByPDFSize = True
        pdf.Root.ViewerPreferences = preferences
        pdf.save(out, deterministic_id=True)
    return out.getvalue()
