"""The SVG against the DTD of SVG 1.1, and read back with another parser."""

import re

import pytest
from lxml import etree

from elevation.drawing.marks import Group, Line, Page, Text
from elevation.output.svg import number, page_svg

from .conftest import NASTY, sample_page, svg_dtd

NS = {"s": "http://www.w3.org/2000/svg"}


def tree(page: Page) -> etree._Element:
    return etree.fromstring(page_svg(page))


@pytest.mark.parametrize("title", ["Wall B", NASTY])
def test_valid_against_the_dtd(title: str) -> None:
    root = tree(sample_page(title=title))
    for element in root.iter(etree.Element):
        for name in [a for a in element.attrib if a.startswith(("data-", "aria-")) or a == "role"]:
            del element.attrib[name]
    dtd = etree.DTD(str(svg_dtd()))
    assert dtd.validate(root), dtd.error_log.filter_from_errors()
    root[-1].set("fill-ruel", "evenodd")
    assert not dtd.validate(root), "the DTD must be able to say no"


def test_size_and_turned_y() -> None:
    root = tree(sample_page())
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("431.8mm", "279.4mm", "0 0 431.8 279.4")
    assert root.xpath("string(//s:path[@class='p-wall']/@d)", namespaces=NS) == "M20 259.4L120 259.4"


def test_user_text_stays_text() -> None:
    page = Page("cover", "1", NASTY, 100, 100, (Text((1, 1), NASTY, 2.5), Group((), "g", title=NASTY)), NASTY)
    root = tree(page)
    assert not root.xpath("//s:script", namespaces=NS)
    assert "<script>alert(1)</script> &" in root.xpath("string(//s:text)", namespaces=NS)
    assert "漢" in root.xpath("string(/s:svg/s:title)", namespaces=NS)
    assert "漢" not in root.xpath("string(//s:text)", namespaces=NS)


def test_title_comes_first_and_is_pointed_at() -> None:
    root = tree(sample_page())
    assert [etree.QName(child).localname for child in root][:3] == ["title", "desc", "defs"]
    assert root.get("aria-labelledby") == root[0].get("id")
    assert root.get("aria-describedby") == root[1].get("id")


def test_group_carries_what_it_was_given() -> None:
    tile = tree(sample_page()).xpath("//s:g[@id='t-60-40']", namespaces=NS)[0]
    assert (tile.get("class"), tile.get("data-id"), tile.get("data-width")) == ("tile cut", "60", "18.1234")
    assert tile[0].text == "Tile 60"
    clip = re.fullmatch(r"url\(#(.+)\)", tile.getparent().get("clip-path"))
    assert clip is not None
    rect = tree(sample_page()).xpath(f"//s:clipPath[@id='{clip[1]}']/s:rect", namespaces=NS)[0]
    assert [float(rect.get(k)) for k in ("x", "y", "width", "height")] == pytest.approx([59, 279.4 - 99, 90, 60])


def test_two_spaces_are_kept_and_the_family_is_quoted() -> None:
    text = page_svg(sample_page()).decode()
    assert 'xml:space="preserve"' in text
    assert "4'-6  7/16\"</text>" in text
    assert "font-family:'Source Sans 3'" in text


def test_one_element_a_line_and_only_the_safe_ones() -> None:
    text = page_svg(sample_page()).decode()
    assert all(len(re.findall(r"<[a-z]", line, re.IGNORECASE)) <= 1 for line in text.splitlines()[1:])
    names = {etree.QName(e).localname for e in etree.fromstring(text.encode()).iter(etree.Element)}
    assert names <= {"svg", "title", "desc", "defs", "style", "clipPath", "rect", "g", "path", "circle", "text"}


def test_same_page_same_bytes() -> None:
    assert page_svg(sample_page()) == page_svg(sample_page())


def test_numbers() -> None:
    assert [number(v) for v in (0.1 + 0.2, -0.00001, 10.0, 1 / 3, 100)] == ["0.3", "0", "10", "0.3333", "100"]


@pytest.mark.parametrize(
    "mark",
    [
        Line(((0, 0), (1, 1)), "no such pen"),
        Text((0, 0), "x", 2.5, colour="blue-ish"),
        Group((), "1 bad id"),
        Group((), data=(("Bad Name", "x"),)),
        Group((Group((), "a"), Group((), "a"))),
    ],
)
def test_slips_of_the_caller_are_loud(mark: Line | Text | Group) -> None:
    with pytest.raises(ValueError, match=r"no pen|no colour|cannot be|no name|stands twice"):
        page_svg(Page("elevation", "B", "t", 10, 10, (mark,)))
