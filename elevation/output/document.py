"""A PDF made whole: drawn by cairo, then given its date, language and what it asks of the printer.

Imported by ``pdf`` only, and late: cairo and the library that finishes the file take time to load, and cairo may be
missing.
"""

from __future__ import annotations

import io
from collections.abc import Sequence

import pikepdf

from elevation.drawing.marks import Page
from elevation.output.surface import draw_pdf, has_bundled_font
from elevation.output.svg import sayable


def prepare() -> None:
    """Do beforehand what the first text of a process costs."""
    has_bundled_font()


def document(pages: Sequence[Page], title: str, date: str | None) -> bytes:
    """Return the pages as a PDF with bookmarks and page labels; see ``pdf.pages_pdf``.

    Args:
        pages: The pages as ``plain`` makes them.
        title: Title of the document.
        date: Date of the job, or none.
    """
    labels = [f"{n} {page.kind} {page.id}".strip() for n, page in enumerate(pages, 1)]
    outline = [f"{n}  {sayable(page.title)}" for n, page in enumerate(pages, 1)]
    drawn = draw_pdf(pages, sayable(title), labels, outline)
    return _finished(drawn, date=date, full_size=any(page.full_size for page in pages))


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
