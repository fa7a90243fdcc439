"""A page as SVG 1.1: millimetres, live text, one element a line.

One of two places that turn y round; the other is ``surface``. Only features that browsers and editors draw alike are
used: plain ``path``, ``circle`` and ``text``, classes in one style sheet, rectangles to clip by; no pattern, use or
mask. A wall of 20,000 tiles has 60,000 elements, so they are written as text straight away, attributes in the order
of the alphabet: files compare line by line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.sax.saxutils import escape

from elevation import fonts
from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Page, Point, Ring, Segments, Text, walk
from elevation.drawing.pens import COLOURS, PENS

_ID = re.compile(r"[A-Za-z][A-Za-z0-9_.-]*")
_DATA_NAME = re.compile(r"[a-z][a-z0-9-]*")
_MARKUP = re.compile('[&<>"]')
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")


def page_svg(page: Page) -> bytes:
    """Return the page as an SVG file in UTF-8; the same page gives the same bytes.

    Raises:
        ValueError: A mark names a pen, colour, id or data attribute that cannot be, or an id stands twice.
    """
    return _Writer(page).document()


def number(value: float) -> str:
    """Return a coordinate with up to four decimals and no needless digits."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def style_sheet(page: Page) -> str:
    """Return the CSS rules for the pens, colours and weights that the page uses, one a line."""
    used_pens: set[str] = set()
    used_fills: set[str] = set()
    texts = False
    for mark in walk(page.marks):
        if isinstance(mark, Text):
            texts = True
            used_fills.add(mark.colour)
        elif isinstance(mark, Line | Segments):
            used_pens.add(mark.pen)
        elif isinstance(mark, Area | Circle):
            used_pens.update({mark.pen} if mark.pen else ())
            used_fills.update({mark.fill} if mark.fill else ())
    rules: list[str] = []
    for name, pen in PENS.items():
        if name in used_pens:
            dashes = f";stroke-dasharray:{' '.join(number(d) for d in pen.dashes)}" if pen.dashes else ""
            rules.append(f".p-{name}{{stroke:{COLOURS[pen.colour]};stroke-width:{number(pen.width)}{dashes}}}")
    rules += [f".f-{name}{{fill:{value}}}" for name, value in COLOURS.items() if name in used_fills]
    if texts:
        rules.append(f"text{{font-family:'{fonts.FAMILY}',sans-serif;font-kerning:none;font-variant-ligatures:none}}")
        rules.append(".semibold{font-weight:600}")
    return "\n".join(["", *rules, ""])


class _Writer:
    """Writes the marks of one page; keeps the ids given so far and the clips."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.ids = {"sheet-title", "sheet-description"}
        self.clips: list[str] = []
        self.lines: list[str] = []

    def document(self) -> bytes:
        page = self.page
        self.write(page.marks)
        width, height = number(page.width), number(page.height)
        root = {
            "aria-labelledby": "sheet-title", "baseProfile": "full", "fill": "none", "height": f"{height}mm",
            "role": "graphics-document", "version": "1.1", "viewBox": f"0 0 {width} {height}", "width": f"{width}mm",
            "xml:lang": "en", "xmlns": "http://www.w3.org/2000/svg",
        }  # fmt: skip
        told = []
        if page.description:
            root["aria-describedby"] = "sheet-description"
            told.append(f'<desc id="sheet-description">{escape(sayable(page.description))}</desc>')
        lines = (
            '<?xml version="1.0" encoding="utf-8"?>',
            _tag("svg", root),
            f'<title id="sheet-title">{escape(sayable(page.title))}</title>',
            *told,
            "<defs>",
            f'<style type="text/css">{escape(style_sheet(page))}</style>',
            *self.clips,
            "</defs>",
            *self.lines,
            "</svg>",
        )
        return "\n".join(lines).encode("utf-8")

    def write(self, marks: Iterable[Mark]) -> None:
        """Write the elements of the marks, in their order."""
        for mark in marks:
            match mark:
                case Group():
                    self.group(mark)
                case Text():
                    self.text(mark)
                case Line(points, pen):
                    self.path(self.run(points), pen, None)
                case Segments(segments, pen):
                    self.path("".join(self.run(((x1, y1), (x2, y2))) for x1, y1, x2, y2 in segments), pen, None)
                case Area(rings, pen, fill):
                    rule = {"fill-rule": "evenodd"} if len(rings) > 1 and fill is not None else {}
                    self.path("".join(self.run(ring) + "Z" for ring in rings), pen, fill, rule)
                case Circle(centre, radius, pen, fill):
                    x, y = self.place(centre)
                    place = {"cx": number(x), "cy": number(y), "r": number(radius)}
                    self.lines.append(_tag("circle", place | _look(pen, fill), empty=True))

    def path(self, data: str, pen: str | None, fill: str | None, more: dict[str, str] | None = None) -> None:
        self.lines.append(_tag("path", {"d": data or "M0 0"} | _look(pen, fill) | (more or {}), empty=True))

    def place(self, point: Point) -> Point:
        return point[0], self.page.height - point[1]

    def run(self, points: Ring) -> str:
        height = self.page.height
        return "M" + "L".join([f"{number(x)} {number(height - y)}" for x, y in points])

    def text(self, mark: Text) -> None:
        words = fonts.printable(mark.text)
        x, y = self.place(mark.at)
        look = {"x": number(x), "y": number(y), "font-size": number(fonts.font_size(mark.height))}
        look |= _look(None, mark.colour)
        if mark.weight == "semibold":
            look["class"] = f"{look.get('class', '')} semibold".strip()
        if mark.anchor != "start":
            look["text-anchor"] = mark.anchor
        if mark.angle:
            look["transform"] = f"rotate({number(-mark.angle)} {number(x)} {number(y)})"
        if "  " in words or words != words.strip():
            look["xml:space"] = "preserve"
        self.lines.append(f"{_tag('text', look)}{escape(words)}</text>")

    def group(self, mark: Group) -> None:
        extra: dict[str, str] = {}
        if mark.id:
            extra["id"] = self.new_id(mark.id)
        if mark.classes:
            extra["class"] = mark.classes
        for name, value in mark.data:
            if not _DATA_NAME.fullmatch(name):
                raise ValueError(f"{name!r} is no name for a data attribute")
            extra[f"data-{name}"] = sayable(value)
        if mark.title:
            inner = any(isinstance(m, Group) and m.title for m in walk(mark.marks))
            extra["role"] = "group" if inner else "graphics-symbol"
        if mark.clip is not None:
            extra["clip-path"] = f"url(#{self.clip(mark.clip)})"
        empty = not mark.title and not mark.marks
        self.lines.append(_tag("g", extra, empty=empty))
        if mark.title:
            self.lines.append(f"<title>{escape(sayable(mark.title))}</title>")
        self.write(mark.marks)
        if not empty:
            self.lines.append("</g>")

    def clip(self, box: tuple[float, float, float, float]) -> str:
        name = self.new_id(f"clip-{len(self.clips) // 3 + 1}")
        x, y, width, height = box
        left, top = self.place((x, y + height))
        size = {"x": number(left), "y": number(top), "width": number(width), "height": number(height)}
        self.clips += [_tag("clipPath", {"id": name}), _tag("rect", size, empty=True), "</clipPath>"]
        return name

    def new_id(self, name: str) -> str:
        if not _ID.fullmatch(name):
            raise ValueError(f"{name!r} cannot be an id")
        if name in self.ids:
            raise ValueError(f"the id {name!r} stands twice on the page {self.page.title!r}")
        self.ids.add(name)
        return name


def _tag(name: str, attributes: dict[str, str], *, empty: bool = False) -> str:
    """Return an opening tag, or an element without content, its attributes in the order of the alphabet."""
    said = "".join([f' {key}="{_attribute(attributes[key])}"' for key in sorted(attributes)])
    return f"<{name}{said} />" if empty else f"<{name}{said}>"


def _attribute(value: str) -> str:
    # most are numbers and names that need nothing done
    return escape(value, {'"': "&quot;"}) if _MARKUP.search(value) else value


def _look(pen: str | None, fill: str | None) -> dict[str, str]:
    """Return the attributes that make a mark look as asked; a fill is a colour's name or ``#rrggbb``."""
    classes: list[str] = []
    extra: dict[str, str] = {}
    if pen is not None:
        if pen not in PENS:
            raise ValueError(f"there is no pen {pen!r}")
        classes.append(f"p-{pen}")
    if fill is not None:
        if fill in COLOURS:
            classes.append(f"f-{fill}")
        elif _HEX.fullmatch(fill):
            extra["fill"] = fill
        else:
            raise ValueError(f"there is no colour {fill!r}")
    if classes:
        extra["class"] = " ".join(classes)
    return extra


def sayable(text: str) -> str:
    """Return the text on one line, without the control characters that XML and PDF titles cannot hold."""
    if text.isascii() and text.isprintable():
        return text
    return re.sub(r"\s", " ", "".join(letter for letter in text if _is_xml(letter)))


def _is_xml(letter: str) -> bool:
    """Tell whether XML 1.0 has a way to say a character."""
    return letter in "\t\n\r" or " " <= letter <= "\ud7ff" or "\ue000" <= letter <= "\ufffd" or letter > "\uffff"
