"""Lines of text that fit a width, measured in the font they are printed in."""

from __future__ import annotations

from functools import lru_cache

from elevation.drawing.marks import Anchor, Text, Weight
from elevation.fonts import printable, text_width

PITCH = 1.6
"""Baseline to baseline, as a share of the height of capitals."""
DESCENT = 0.32
"""How far letters reach below the baseline, as a share of the height of capitals."""
ELLIPSIS = "\u2026"


@lru_cache(maxsize=4096)
def wrap(text: str, width: float, height: float, weight: Weight = "regular") -> tuple[str, ...]:
    """Return the text as lines no wider than ``width`` mm; line ends in the text stay, long words are broken.

    A line holds at least one character, however narrow the width.
    """
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        # two spaces before a fraction are meant: only break at them, never squeeze them
        for word in _words(paragraph):
            if text_width((line + word).rstrip(), height, weight) <= width:
                line += word
                continue
            if line.strip():
                lines.append(line.rstrip())
            line = word.lstrip()
            while text_width(line.rstrip(), height, weight) > width and len(line.rstrip()) > 1:
                head = _head(line, width, height, weight)
                lines.append(head)
                line = line[len(head) :]
        lines.append(line.rstrip())
    return tuple(lines)


def _words(paragraph: str) -> list[str]:
    """Return words with the spaces that follow each; a fraction stays with its whole number."""
    words: list[str] = []
    for piece in printable(paragraph).split(" "):
        previous = words[-1].rstrip(" ") if words else ""
        joins = bool(words) and piece[:1].isdigit() and "/" in piece and previous[-1:].isdigit()
        if words and (piece == "" or joins):
            words[-1] += piece + " "
        else:
            words.append(piece + " ")
    return words


def _head(word: str, width: float, height: float, weight: Weight) -> str:
    """Return the longest start of a word that fits, at least one character."""
    count = len(word)
    while count > 1 and text_width(word[:count], height, weight) > width:
        count -= 1
    return word[:count]


def fit(text: str, width: float, height: float, weight: Weight = "regular") -> str:
    """Return the text, shortened with an ellipsis if it is wider than ``width`` mm; empty if not even that fits."""
    clean = printable(text)
    if text_width(clean, height, weight) <= width:
        return clean
    for count in range(len(clean) - 1, -1, -1):
        short = clean[:count].rstrip() + ELLIPSIS
        if text_width(short, height, weight) <= width:
            return short
    return ""


def paragraph(
    text: str,
    x: float,
    top: float,
    width: float,
    height: float,
    *,
    weight: Weight = "regular",
    anchor: Anchor = "start",
    colour: str = "ink",
) -> tuple[tuple[Text, ...], float]:
    """Return wrapped text whose capitals start at ``top``, and how much height it took, mm.

    Args:
        text: What it says.
        x: Left side; the middle or right side with another ``anchor``.
        top: Upper side of the first line's capitals.
        width: Widest line.
        height: Height of capitals.
        weight: Regular or semibold.
        anchor: How the lines are lined up.
        colour: A name in ``pens.COLOURS``.
    """
    lines = wrap(text, width, height, weight)
    marks = tuple(
        Text((x, top - height - row * PITCH * height), line, height, anchor, weight, 0.0, colour)
        for row, line in enumerate(lines)
        if line
    )
    return marks, height * (1 + (len(lines) - 1) * PITCH + DESCENT)
