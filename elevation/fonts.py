"""The bundled font: where it lies, how wide a text runs in it, what it cannot print.

Widths are sums of advances without kerning, which is exactly how the PDF sets them, so that a layout can rely on
them to the last digit.
"""

from __future__ import annotations

import functools
import unicodedata
from pathlib import Path
from typing import Literal

from fontTools.ttLib import TTFont

from elevation.errors import OutputError

Weight = Literal["regular", "semibold"]

FAMILY = "Source Sans 3"
CAPITAL = 0.656
"""Height of a capital as a share of the font size (the letter H is 656 of 1000 units tall, 654 in semibold)."""

_FILES: dict[Weight, str] = {"regular": "SourceSans3-Regular.ttf", "semibold": "SourceSans3-Semibold.ttf"}
_STAND_INS = {"\u2300": "\u00d8", "\u2205": "\u00d8", "\u2044": "/", "\u2215": "/", "\ufffd": "?"}


@functools.cache
def font_folder() -> Path:
    """Return the folder with the font files: inside the installed package, or at the top of a checkout.

    Raises:
        OutputError: Neither place has them; the installation is damaged.
    """
    package = Path(__file__).resolve().parent
    places = (package / "_fonts", package.parent / "fonts")
    for place in places:
        if all((place / name).is_file() for name in _FILES.values()):
            return place
    looked = " and ".join(str(place) for place in places)
    raise OutputError(f"the fonts that belong to this program are missing (looked in {looked}); install it again")


def font_file(weight: Weight) -> Path:
    """Return the path of the font file of a weight."""
    return font_folder() / _FILES[weight]


def font_size(height: float) -> float:
    """Return the font size, mm, at which capitals stand ``height`` mm high."""
    return height / CAPITAL


@functools.cache
def _advances(weight: Weight) -> dict[str, float]:
    """Return the advance of every character the font has, as a share of the font size."""
    with TTFont(font_file(weight), lazy=True) as font:
        units = float(font["head"].unitsPerEm)
        metrics = font["hmtx"].metrics
        return {chr(code): metrics[glyph][0] / units for code, glyph in font.getBestCmap().items()}


def text_width(text: str, height: float, weight: Weight = "regular") -> float:
    """Return how far a line of text runs, mm, when its capitals are ``height`` mm high.

    Measures what is printed: characters that ``printable`` replaces count as their replacement.
    """
    return _width_in_em(text, weight) * font_size(height)


@functools.lru_cache(maxsize=8192)
def _width_in_em(text: str, weight: Weight) -> float:
    advances = _advances(weight)
    return sum(advances[letter] for letter in printable(text))


def missing_glyphs(text: str) -> str:
    """Return the characters of ``text`` that can only be printed as ``?``, each once, in order of appearance."""
    found = dict.fromkeys(letter for letter in _composed(text) if _substitute(letter) is None)
    return "".join(found)


@functools.lru_cache(maxsize=8192)
def printable(text: str) -> str:
    """Return ``text`` on one line with only characters the font can print.

    Tabs and line ends become spaces, other control and format characters go, near equivalents stand in (``Ø`` for
    the diameter sign, plain letters for full-width ones), and ``?`` stands for what is left.
    """
    if text.isascii() and text.isprintable():
        return text
    found = (_substitute(letter) for letter in _composed(text))
    return "".join("?" if part is None else part for part in found)


def _composed(text: str) -> str:
    return unicodedata.normalize("NFC", text.replace("\r\n", "\n"))


@functools.cache
def _substitute(letter: str) -> str | None:
    """Return what is printed for one character, perhaps nothing; ``None`` when the font has nothing like it."""
    advances = _advances("regular").keys() & _advances("semibold").keys()
    kind = unicodedata.category(letter)
    if letter in "\t\n\r\v\f" or kind in ("Zs", "Zl", "Zp"):
        return " "
    if kind in ("Cc", "Cf", "Cs"):
        return ""
    stand_in = _STAND_INS.get(letter, letter)
    if stand_in in advances and not unicodedata.combining(stand_in):
        return stand_in
    plain = "".join(c for c in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(c))
    if unicodedata.combining(letter):
        return ""
    return plain if plain and all(c in advances for c in plain) else None
