"""Widths against the font's tables read another way, and titles nobody expected."""

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from elevation import fonts


@pytest.mark.parametrize("weight", ["regular", "semibold"])
def test_capitals_stand_as_high_as_asked(weight: fonts.Weight) -> None:
    with TTFont(fonts.font_file(weight)) as font:
        glyph = font["glyf"]["H"]
        assert (glyph.yMax - glyph.yMin) / font["head"].unitsPerEm * fonts.font_size(2.5) == pytest.approx(
            2.5, abs=0.01
        )


def test_published_widths() -> None:
    # measured in print at capital heights 1.8, 2.5, 3.5 and 5 mm when the font was chosen, to 0.1 mm
    for height, width in ((1.8, 11.6), (2.5, 16.1), (3.5, 22.5), (5, 32.2)):
        assert fonts.text_width("4'-6  7/16\"", height) == pytest.approx(width, abs=0.06)


def test_digits_are_all_as_wide() -> None:
    assert len({round(fonts.text_width(d, 2.5), 9) for d in "0123456789"}) == 1


@pytest.mark.parametrize(
    ("text", "shown", "missing"),
    [
        ('6  7/16"', '6  7/16"', ""),
        ("one\r\ntwo\tthree\x00\x1b[0m", "one two three[0m", ""),
        ("\u2300 4 1\u20442", "\u00d8 4 1/2", ""),
        ("漢字 B", "?? B", "漢字"),
        ("\u202ereversed\u200b", "reversed", ""),
        ("e\u0301\u0308\u0332", None, ""),
        ("\ud800lone", "lone", ""),
    ],
)
def test_titles_nobody_expected(text: str, shown: str | None, missing: str) -> None:
    if shown is not None:
        assert fonts.printable(text) == shown
    assert fonts.missing_glyphs(text) == missing


@given(st.text())
def test_every_text_can_be_printed_and_measured(text: str) -> None:
    shown = fonts.printable(text)
    with TTFont(fonts.font_file("semibold"), lazy=True) as font:
        known = font.getBestCmap()
    assert all(ord(c) in known for c in shown)
    assert fonts.printable(shown) == shown
    assert fonts.text_width(text, 2.5) == fonts.text_width(shown, 2.5) >= 0
