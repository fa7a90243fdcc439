"""Many SVG pages on one cairo PDF surface, with live text in the bundled font.

Imported by ``pdf`` only, and late: it loads the cairo library, which takes time and may be missing.

One surface for all pages embeds each font once and gives bookmarks and page labels. Text is set run by run in place
of the library's letter by letter, so that spaces survive, anchors follow advances, and search finds what is printed.
"""

from __future__ import annotations

import contextlib
import functools
import io
import os
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import cairocffi
from cairosvg.helpers import paint, size, transform
from cairosvg.parser import Tree
from cairosvg.surface import PDFSurface
from fontTools.pens.cairoPen import CairoPen
from fontTools.ttLib import TTFont

from elevation import fonts

# stands in for the clock; whoever finishes the file puts the date of the job in its place, or none
_UNDATED = "2000-01-01T00:00:00"
_PROBE = "4'-6 7/16\" WALL Ag"


def draw_pdf(svgs: Sequence[bytes], title: str, labels: Sequence[str], outline: Sequence[str]) -> bytes:
    """Return one PDF with a page for each SVG.

    Args:
        svgs: Pages as ``svg.page_svg`` makes them.
        title: Title of the document.
        labels: Page labels, one a page.
        outline: Bookmarks, one a page.
    """
    live = has_bundled_font()
    buffer = io.BytesIO()
    surface = cairocffi.PDFSurface(buffer, 1, 1)
    surface.set_metadata(cairocffi.PDF_METADATA_TITLE, title)
    surface.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, _UNDATED)
    for page, (svg, label, mark) in enumerate(zip(svgs, labels, outline, strict=True), 1):
        _Sheet(Tree(bytestring=svg), surface, live)
        surface.set_page_label(label)
        surface.add_outline(cairocffi.PDF_OUTLINE_ROOT, mark, f"page={page} pos=[0 0]", 0)
        surface.show_page()
    surface.finish()
    return buffer.getvalue()


class _Sheet(PDFSurface):  # type: ignore[misc]
    """Draws one page on a surface that outlives it."""

    def __init__(self, tree: Any, target: cairocffi.PDFSurface, live_text: bool) -> None:
        self.target = target
        self.live_text = live_text
        super().__init__(tree, None, 96)

    def _create_surface(self, width: float, height: float) -> tuple[cairocffi.PDFSurface, float, float]:
        self.target.set_size(width, height)
        return self.target, width, height

    def finish(self) -> None:
        """Leave the shared surface open."""

    def draw(self, node: Any) -> None:
        """Draw a node: text here, everything else as the library does."""
        if node.tag != "text":
            super().draw(node)
            return
        context = self.context
        font_size = size(self, node["font-size"])
        weight: fonts.Weight = "semibold" if node.get("font-weight", "normal") == "600" else "regular"
        x, y = size(self, node["x"], "x"), size(self, node["y"], "y")
        share = {"middle": 0.5, "end": 1.0}.get(node.get("text-anchor", "start"), 0.0)
        context.save()
        transform(self, node.get("transform"))
        context.set_source_rgba(*self.map_color(paint(node["fill"])[1]))
        context.move_to(x - share * fonts.text_width(node.text, font_size * fonts.CAPITAL, weight), y)
        if self.live_text:
            _select(context, weight, font_size)
            context.show_text(node.text)
        else:
            _trace(context, node.text, weight, font_size)
        context.new_path()
        context.restore()


def _select(context: cairocffi.Context, weight: fonts.Weight, font_size: float) -> None:
    bold = cairocffi.FONT_WEIGHT_BOLD if weight == "semibold" else cairocffi.FONT_WEIGHT_NORMAL
    context.select_font_face(fonts.FAMILY, cairocffi.FONT_SLANT_NORMAL, bold)
    context.set_font_size(font_size)


def _trace(context: cairocffi.Context, text: str, weight: fonts.Weight, font_size: float) -> None:
    """Fill the outlines of a run of text, for a cairo that cannot be given a font file."""
    font = _font(weight)
    glyphs, names, units = font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm
    context.translate(*context.get_current_point())
    context.scale(font_size / units, -font_size / units)
    context.new_path()
    for letter in text:
        glyph = glyphs[names[ord(letter)]]
        glyph.draw(CairoPen(glyphs, context))
        context.fill()
        context.translate(glyph.width, 0)


@functools.cache
def _font(weight: fonts.Weight) -> TTFont:
    return TTFont(fonts.font_file(weight))


@functools.cache
def has_bundled_font() -> bool:
    """Tell whether cairo sets text in the bundled font, after pointing it there.

    It does not where cairo uses the system's own text engine, or where the process drew text before; then the
    letters are drawn as outlines: they look the same but cannot be searched.
    """
    with _private_fontconfig():
        context = cairocffi.Context(cairocffi.RecordingSurface(cairocffi.CONTENT_COLOR_ALPHA, None))
        options = cairocffi.FontOptions()
        options.set_hint_metrics(cairocffi.HINT_METRICS_OFF)
        context.set_font_options(options)
        weights: tuple[fonts.Weight, ...] = ("regular", "semibold")
        for weight in weights:
            _select(context, weight, 1000.0)
            wanted = fonts.text_width(_PROBE, 1000.0 * fonts.CAPITAL, weight)
            if abs(context.text_extents(_PROBE)[4] - wanted) > 1.0:
                return False
    return True


@contextlib.contextmanager
def _private_fontconfig() -> Iterator[None]:
    """Let the first text of the process find the bundled font and no other.

    Font configuration is read once, at the first text; after that neither the file nor the variable is needed, so
    both are put back. The check for later changes is switched off, since the file will be gone.
    """
    before = os.environ.get("FONTCONFIG_FILE")
    with tempfile.TemporaryDirectory(prefix="elevation-fonts-", ignore_cleanup_errors=True) as folder:
        config = Path(folder) / "fonts.conf"
        config.write_text(
            '<?xml version="1.0"?><fontconfig>'
            f"<dir>{_escaped(fonts.font_folder())}</dir><cachedir>{_escaped(Path(folder) / 'cache')}</cachedir>"
            "<config><rescan><int>0</int></rescan></config></fontconfig>",
            encoding="utf-8",
        )
        os.environ["FONTCONFIG_FILE"] = str(config)
        try:
            yield
        finally:
            if before is None:
                del os.environ["FONTCONFIG_FILE"]
            else:
                os.environ["FONTCONFIG_FILE"] = before


def _escaped(path: Path) -> str:
    return str(path).replace("&", "&amp;").replace("<", "&lt;")
