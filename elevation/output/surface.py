"""The marks of many pages on one cairo PDF surface, with live text in the bundled font.

Imported by ``pdf`` only, and late: it loads the cairo library, which takes time and may be missing.

One surface for all pages embeds each font once and gives bookmarks and page labels. The marks are drawn as they are,
without a way round by SVG: that is several times faster, and the two files check each other. Text is shown run by
run, so that spaces survive, anchors follow advances, and search finds what is printed.
"""

from __future__ import annotations

import contextlib
import functools
import io
import math
import os
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import cairocffi
from fontTools.pens.cairoPen import CairoPen
from fontTools.ttLib import TTFont

from elevation import fonts
from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Page, Point, Ring, Segments, Text
from elevation.drawing.pens import COLOURS, PENS

# stands in for the clock; whoever finishes the file puts the date of the job in its place, or none
_UNDATED = "2000-01-01T00:00:00"
_PROBE = "4'-6 7/16\" WALL Ag"
_POINTS = 72 / 25.4
"""PDF points a millimetre."""


def draw_pdf(pages: Sequence[Page], title: str, labels: Sequence[str], outline: Sequence[str]) -> bytes:
    """Return one PDF of all pages.

    Args:
        pages: The pages, in order.
        title: Title of the document.
        labels: Page labels, one a page.
        outline: Bookmarks, one a page.
    """
    live = has_bundled_font()
    buffer = io.BytesIO()
    surface = cairocffi.PDFSurface(buffer, 1, 1)
    surface.set_metadata(cairocffi.PDF_METADATA_TITLE, title)
    surface.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, _UNDATED)
    for number, (page, label, mark) in enumerate(zip(pages, labels, outline, strict=True), 1):
        surface.set_size(page.width * _POINTS, page.height * _POINTS)
        _Painter(surface, page.height, live).paint(page.marks)
        surface.set_page_label(label)
        surface.add_outline(cairocffi.PDF_OUTLINE_ROOT, mark, f"page={number} pos=[0 0]", 0)
        surface.show_page()
    surface.finish()
    return buffer.getvalue()


class _Painter:
    """Draws the marks of one page; the only place besides ``svg`` that turns y round."""

    def __init__(self, surface: cairocffi.PDFSurface, height: float, live_text: bool) -> None:
        self.context = cairocffi.Context(surface)
        self.context.scale(_POINTS, _POINTS)
        self.context.set_miter_limit(4)  # what SVG takes where nothing is said
        self.context.set_fill_rule(cairocffi.FILL_RULE_EVEN_ODD)
        self.height = height
        self.live_text = live_text
        self.pen: str | None = None
        self.colour: str | None = None
        self.font: tuple[fonts.Weight, float] | None = None

    def paint(self, marks: Iterable[Mark]) -> None:
        """Draw the marks one over the other, in their order."""
        for mark in marks:
            match mark:
                case Group():
                    self.group(mark)
                case Text():
                    self.text(mark)
                case Line(points, pen):
                    self.run(points)
                    self.finish(pen, None)
                case Segments(segments, pen):
                    for x1, y1, x2, y2 in segments:
                        self.run(((x1, y1), (x2, y2)))
                    self.finish(pen, None)
                case Area(rings, pen, fill):
                    for ring in rings:
                        self.run(ring)
                        self.context.close_path()
                    self.finish(pen, fill)
                case Circle((x, y), radius, pen, fill):
                    self.context.new_sub_path()
                    self.context.arc(x, self.height - y, radius, 0, math.tau)
                    self.context.close_path()
                    self.finish(pen, fill)

    def run(self, points: Ring) -> None:
        """Add straight lines through the points to the path."""
        # cairo's own functions: the wrappers ask for an error after each, here the next that draws will
        context, height, line_to = self.context._pointer, self.height, cairocffi.cairo.cairo_line_to
        (x, y), *rest = points
        cairocffi.cairo.cairo_move_to(context, x, height - y)
        for x, y in rest:
            line_to(context, x, height - y)

    def finish(self, pen: str | None, fill: str | None) -> None:
        """Fill the path, then draw along it, as asked."""
        context = self.context
        if fill is not None:
            self.take_colour(COLOURS.get(fill, fill))
            if pen is None:
                context.fill()
            else:
                context.fill_preserve()
        if pen is None:
            context.new_path()
            return
        look = PENS[pen]
        self.take_colour(COLOURS[look.colour])
        if pen != self.pen:
            context.set_line_width(look.width)
            context.set_dash(look.dashes)
            self.pen = pen
        context.stroke()

    def take_colour(self, colour: str) -> None:
        """Draw in a colour from now on, ``#rrggbb``."""
        if colour != self.colour:
            self.context.set_source_rgb(*_rgb(colour))
            self.colour = colour

    def group(self, mark: Group) -> None:
        """Draw what is in a group, within its clip if it has one."""
        if mark.clip is None:
            self.paint(mark.marks)
            return
        x, y, width, height = mark.clip
        held = self.pen, self.colour, self.font
        self.context.save()
        self.context.rectangle(x, self.height - y - height, width, height)
        self.context.clip()
        self.paint(mark.marks)
        self.context.restore()
        self.pen, self.colour, self.font = held

    def text(self, mark: Text) -> None:
        """Set one run of text."""
        words = fonts.printable(mark.text)
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
        before = share * fonts.text_width(words, mark.height, mark.weight)
        x, y = mark.at[0], self.height - mark.at[1]
        self.take_colour(COLOURS[mark.colour])
        if not mark.angle:
            self.words(words, x - before, y, mark)
            return
        self.context.save()
        self.context.translate(x, y)
        self.context.rotate(math.radians(-mark.angle))
        self.font = None  # cairo forgets it with the turned axes
        self.words(words, -before, 0.0, mark)
        self.context.restore()
        self.font = None

    def words(self, words: str, x: float, y: float, look: Text) -> None:
        """Set words from a point to the right."""
        font = (look.weight, fonts.font_size(look.height))
        if not self.live_text:
            _trace(self.context, words, (x, y), *font)
            return
        if font != self.font:
            _select(self.context, *font)
            self.font = font
        self.context.move_to(x, y)
        self.context.show_text(words)
        self.context.new_path()


@functools.cache
def _rgb(colour: str) -> tuple[float, float, float]:
    """Return red, green and blue of ``#rrggbb``, each from 0 to 1."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red / 255, green / 255, blue / 255


def _select(context: cairocffi.Context, weight: fonts.Weight, font_size: float) -> None:
    bold = cairocffi.FONT_WEIGHT_BOLD if weight == "semibold" else cairocffi.FONT_WEIGHT_NORMAL
    context.select_font_face(fonts.FAMILY, cairocffi.FONT_SLANT_NORMAL, bold)
    context.set_font_size(font_size)


def _trace(context: cairocffi.Context, text: str, at: Point, weight: fonts.Weight, font_size: float) -> None:
    """Fill the outlines of a run of text, for a cairo that cannot be given a font file."""
    font = _font(weight)
    glyphs, names, units = font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm
    context.save()
    context.translate(*at)
    context.scale(font_size / units, -font_size / units)
    context.new_path()
    for letter in text:
        glyph = glyphs[names[ord(letter)]]
        glyph.draw(CairoPen(glyphs, context))
        context.fill()
        context.translate(glyph.width, 0)
    context.restore()


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
