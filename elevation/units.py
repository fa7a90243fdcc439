"""Lengths: parsed exactly, kept in millimetres, rounded once when they are printed.

The inner unit everywhere else is the millimetre as ``float`` (``Mm``). Text becomes a ``Fraction`` of a
millimetre first, so that ``60 3/8`` is exact until the last moment.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal

Mm = float
Unit = Literal["in", "mm"]

INCH = Fraction(254, 10)
_FACTORS: dict[str, Fraction] = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH}
LONGEST = Fraction(1_000_000)  # 1 km: past this a reading is a slip of the finger

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_TYPOGRAPHIC = str.maketrans("’‘′”“″⁄–−\u00a0", "'''\"\"\"/-- ")
_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
_AMOUNT = (
    rf"(?:(?P<whole>\d+)(?:\s+|\s*-\s*)(?P<num>\d+)\s*/\s*(?P<den>\d+)|(?P<n>\d+)\s*/\s*(?P<d>\d+)|(?P<dec>{_NUMBER}))"
)
_PLAIN = re.compile(rf"(?P<sign>[+-]?)\s*{_AMOUNT}\s*(?P<unit>mm|cm|m|in(?:ch(?:es)?)?\.?|\"|'|ft\.?|feet|foot)?")
_FEET = re.compile(
    rf"(?P<sign>[+-]?)\s*(?P<feet>{_NUMBER})\s*(?:'|ft\.?|feet|foot)\s*-?\s*{_AMOUNT}\s*(?:\"|in(?:ch(?:es)?)?\.?)?"
)

ACCEPTED = "a length such as 60 3/8, 5' 0 3/8\", 60.375, 1524 mm, 152.4 cm or 1.524 m"


def parse_length(text: str | int | float, unit: Unit) -> Fraction:
    """Return the length in mm, exactly as written.

    Args:
        text: A number, or text as design section 4 allows: feet, inches, fractions, mm, cm, m.
        unit: What a bare number means.

    Raises:
        ValueError: It is not a length, not finite, or longer than a kilometre; the message says what would do.
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise ValueError(f"is not {ACCEPTED}")
    if isinstance(text, int | float):
        if isinstance(text, float) and not math.isfinite(text):
            raise ValueError("is not a number that can be measured")
        # repr gives the decimal the user typed; the binary float would bring a tail of digits
        return _within(Fraction(repr(text)) * _FACTORS[unit])
    clean = _plain_marks(text)
    if (match := _FEET.fullmatch(clean)) is not None:
        value = Fraction(match["feet"]) * 12 + _amount(match)
        return _within(_signed(match, value * INCH))
    if (match := _PLAIN.fullmatch(clean)) is not None:
        name = (match["unit"] or unit).rstrip(".")
        if name in ("'", "ft", "feet", "foot"):
            return _within(_signed(match, _amount(match) * 12 * INCH))
        if name == '"' or name.startswith("in"):
            name = "in"
        return _within(_signed(match, _amount(match) * _FACTORS[name]))
    raise ValueError(f"is not {ACCEPTED}")


def _plain_marks(text: str) -> str:
    """Return ``text`` with typographic quotes, dashes and fractions in their plain form."""
    if len(text) > 60:
        raise ValueError(f"is too long for a length; write {ACCEPTED}")
    if "," in text:
        raise ValueError("has a comma; write the decimals behind a point, as in 60.375")
    clean = text.strip().lower()
    for mark, plain in _VULGAR.items():
        clean = clean.replace(mark, f" {plain}")
    clean = clean.replace("''", '"').replace("′′", '"')
    return clean.translate(_TYPOGRAPHIC).strip()


def _amount(match: re.Match[str]) -> Fraction:
    if match["whole"] is not None:
        part = _ratio(match["num"], match["den"])
        if part >= 1:
            raise ValueError(f"has {match['num']}/{match['den']} after a whole number; a fraction there is under 1")
        return int(match["whole"]) + part
    if match["n"] is not None:
        return _ratio(match["n"], match["d"])
    return Fraction(match["dec"])


def _ratio(num: str, den: str) -> Fraction:
    if int(den) == 0:
        raise ValueError("has a fraction over nothing; the lower number must be 1 or more")
    return Fraction(int(num), int(den))


def _signed(match: re.Match[str], value: Fraction) -> Fraction:
    return -value if match["sign"] == "-" else value


def _within(value: Fraction) -> Fraction:
    if abs(value) > LONGEST:
        raise ValueError("is more than a kilometre; is the unit right?")
    return value


def _exact(mm: Fraction | float) -> Fraction:
    """Return a length as a fraction; a float loses its binary tail, so that half a step is half a step.

    Every fraction of an inch down to 1/128 has at most seven decimals in mm.
    """
    return mm if isinstance(mm, Fraction) else Fraction(round(mm * 10_000_000), 10_000_000)


def round_half_up(value: Fraction | float) -> int:
    """Return the nearest whole number; a half goes away from nothing towards plus."""
    return math.floor(Fraction(value) + Fraction(1, 2))


def round_to(mm: Fraction | float, step: Fraction | float) -> Fraction:
    """Return ``mm`` rounded to the nearest multiple of ``step`` (both in mm), exactly."""
    exact = exact_step(step)
    return round_half_up(_exact(mm) / exact) * exact


@cache
def exact_step(step: Fraction | float) -> Fraction:
    """Return a step kept as a float back as the fraction it was written as (1/16 in, 1/64 in, 0.5 mm)."""
    return Fraction(step).limit_denominator(100_000)


@lru_cache(maxsize=16384)
def format_length(mm: Fraction | float, step: Fraction | float, unit: Unit, *, feet: bool = False) -> str:
    """Return a length as a sheet prints it: ``6 1/4``, ``54 7/16``, ``4'-6 7/16"`` or ``157``.

    Rounded once, to ``step``, then carried: 11.99 in is ``1'-0"``. Inches carry no mark unless ``feet`` is asked
    for; the sheet says its unit once. Fractions are reduced; a step that is no fraction of an inch prints decimals.

    Args:
        mm: Length in mm.
        step: Rounding step in mm.
        unit: ``in`` or ``mm``.
        feet: Write 12 in and more as feet and inches, with marks, and inches with their mark.
    """
    value = round_to(mm, step)
    if unit == "mm":
        return _decimal(value)
    inches = value / INCH
    sign, inches = ("-" if inches < 0 else ""), abs(inches)
    if not feet:
        return sign + _mixed(inches)
    ft, rest = divmod(inches, 12)
    return f"{sign}{ft}'-{_mixed(rest, zero=True)}\"" if ft else f'{sign}{_mixed(rest)}"'


def _mixed(inches: Fraction, *, zero: bool = False) -> str:
    """Return ``6 1/4``; with ``zero`` a bare fraction keeps its nought, as in ``5'-0 3/8"``."""
    whole, part = divmod(inches, 1)
    if not part:
        return str(whole)
    if part.denominator > 128 or part.denominator & (part.denominator - 1):
        return _decimal(inches)
    return f"{whole} {part}" if whole or zero else str(part)


def _decimal(value: Fraction) -> str:
    text = f"{float(value):.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def close_chain(
    lengths: Sequence[Fraction | float], step: Fraction | float, *, soft: int | None = None
) -> tuple[list[Fraction], Fraction]:
    """Round the parts of a chain so that they add up to the rounded total; all in mm.

    Args:
        lengths: The parts, in order.
        step: Rounding step.
        soft: Index of a soft joint in the chain, which takes the whole remainder; without one the parts with the
            largest remainders do, each moving by less than one step.

    Returns:
        The rounded parts and the rounded total; the parts add up to it exactly.
    """
    exact = exact_step(step)
    parts = [_exact(v) / exact for v in lengths]
    total = round_half_up(sum(parts, Fraction(0)))
    if soft is not None:
        whole = [round_half_up(p) for p in parts]
        whole[soft] += total - sum(whole)
    else:
        whole = [math.floor(p) for p in parts]
        order = sorted(range(len(parts)), key=lambda i: (whole[i] - parts[i], i))
        for i in order[: total - sum(whole)]:
            whole[i] += 1
    return [w * exact for w in whole], total * exact
