"""A page as SVG 1.1: millimetres, live text, one element a line.

The only place that turns y round. Only features that browsers, editors and the PDF writer draw alike are used:
plain ``path``, ``circle`` and ``text``, classes in one style sheet, rectangles to clip by; no pattern, use or mask.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

import svgwrite
import svgwrite.base

from elevation import fonts
from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Page, Point, Ring, Segments, Text, walk
from elevation.drawing.pens import COLOURS, PENS

_ID = re.compile(r"[A-Za-z][A-Za-z0-9_.-]*")
_DATA_NAME = re.compile(r"[a-z][a-z0-9-]*")
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
# what XML 1.0 has no way to say
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


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
    """Turns the marks of one page into elements; keeps the ids given so far and the clips."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.ids = {"sheet-title", "sheet-description"}
        self.clips = 0
        size = (f"{number(page.width)}mm", f"{number(page.height)}mm")
        self.drawing = svgwrite.Drawing(
            size=size, viewBox=f"0 0 {number(page.width)} {number(page.height)}", profile="full", debug=False
        )

    def document(self) -> bytes:
        page, drawing = self.page, self.drawing
        drawing.update(
            {"role": "graphics-document", "aria-labelledby": "sheet-title", "xml:lang": "en", "fill": "none"}
        )
        drawing.add(_Words("title", sayable(page.title), id="sheet-title"))
        if page.description:
            drawing.update({"aria-describedby": "sheet-description"})
            drawing.add(_Words("desc", sayable(page.description), id="sheet-description"))
        drawing.defs.add(_Words("style", style_sheet(page), type="text/css"))
        elements = [self.element(mark) for mark in page.marks]
        root = drawing.get_xml()
        root.extend(elements)
        # readers look for the title first, and the library puts its definitions there
        definitions = root[0]
        root.remove(definitions)
        root.insert(2 if page.description else 1, definitions)
        # nothing is linked and nothing happens, so these two name spaces would only be noise
        for name in ("xmlns:ev", "xmlns:xlink"):
            root.attrib.pop(name, None)
        _one_a_line(root)
        head = b'<?xml version="1.0" encoding="utf-8"?>\n'
        return head + ElementTree.tostring(root, encoding="unicode").encode("utf-8")

    # A wall has tens of thousands of marks: they are made as plain elements, without the library's checks of each.

    def element(self, mark: Mark) -> ElementTree.Element:
        match mark:
            case Group():
                return self.group(mark)
            case Text():
                return self.text(mark)
            case Line(points, pen):
                return self.path(self.run(points), pen, None)
            case Segments(segments, pen):
                data = "".join(self.run(((x1, y1), (x2, y2))) for x1, y1, x2, y2 in segments)
                return self.path(data, pen, None)
            case Area(rings, pen, fill):
                path = self.path("".join(self.run(ring) + "Z" for ring in rings), pen, fill)
                if len(rings) > 1 and fill is not None:
                    path.set("fill-rule", "evenodd")
                return path
            case Circle(centre, radius, pen, fill):
                x, y = self.place(centre)
                return _element("circle", cx=number(x), cy=number(y), r=number(radius), **_look(pen, fill))

    def path(self, data: str, pen: str | None, fill: str | None) -> ElementTree.Element:
        return _element("path", d=data or "M0 0", **_look(pen, fill))

    def place(self, point: Point) -> Point:
        return point[0], self.page.height - point[1]

    def run(self, points: Ring) -> str:
        height = self.page.height
        return "M" + "L".join([f"{number(x)} {number(height - y)}" for x, y in points])

    def text(self, mark: Text) -> ElementTree.Element:
        words = fonts.printable(mark.text)
        x, y = self.place(mark.at)
        look = _look(None, mark.colour)
        if mark.weight == "semibold":
            look["class"] = f"{look.get('class', '')} semibold".strip()
        look["font-size"] = number(fonts.font_size(mark.height))
        if mark.anchor != "start":
            look["text-anchor"] = mark.anchor
        if mark.angle:
            look["transform"] = f"rotate({number(-mark.angle)} {number(x)} {number(y)})"
        if "  " in words or words != words.strip():
            look["xml:space"] = "preserve"
        element = _element("text", x=number(x), y=number(y), **look)
        element.text = words
        return element

    def group(self, mark: Group) -> ElementTree.Element:
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
        group = _element("g", **extra)
        if mark.title:
            title = ElementTree.SubElement(group, "title")
            title.text = sayable(mark.title)
        group.extend([self.element(inside) for inside in mark.marks])
        return group

    def clip(self, box: tuple[float, float, float, float]) -> str:
        self.clips += 1
        name = self.new_id(f"clip-{self.clips}")
        x, y, width, height = box
        left, top = self.place((x, y + height))
        clip = self.drawing.clipPath(id=name)
        size = (number(width), number(height))
        clip.add(self.drawing.rect(insert=(number(left), number(top)), size=size))
        self.drawing.defs.add(clip)
        return name

    def new_id(self, name: str) -> str:
        if not _ID.fullmatch(name):
            raise ValueError(f"{name!r} cannot be an id")
        if name in self.ids:
            raise ValueError(f"the id {name!r} stands twice on the page {self.page.title!r}")
        self.ids.add(name)
        return name


class _Words(svgwrite.base.BaseElement):  # type: ignore[misc]
    """An element that holds only words: ``title``, ``desc``, ``style``."""

    def __init__(self, elementname: str, words: str, **extra: str) -> None:
        self.elementname = elementname
        super().__init__(debug=False, profile="full", **extra)
        self.words = words

    def get_xml(self) -> ElementTree.Element:
        element: ElementTree.Element = super().get_xml()
        element.text = self.words
        return element


def _element(name: str, **attributes: str) -> ElementTree.Element:
    """Return an element with its attributes in the order of the alphabet, so that files compare line by line."""
    return ElementTree.Element(name, dict(sorted(attributes.items())))


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
    return re.sub(r"\s", " ", _NOT_XML.sub("", text))


def _one_a_line(element: ElementTree.Element) -> None:
    """Put every element on a line of its own; what a text says is left as it is."""
    if len(element):
        element.text = "\n"
    for child in element:
        child.tail = "\n"
        _one_a_line(child)
