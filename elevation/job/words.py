"""Small pieces of wording that every message about a job file shares."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from fractions import Fraction

from elevation.job.paths import shown
from elevation.units import INCH, Unit, format_length

_SHOWN_NAMES = 24
_TRADE = {
    "brick": "running-bond", "subway": "running-bond", "offset": "running-bond", "staggered": "running-bond",
    "straight": "stacked", "grid": "stacked", "square": "stacked", "soldier": "vertical-stack",
    "vertical": "vertical-stack", "center": "joint", "centre": "joint", "centered": "joint", "middle": "joint",
    "bathtub": "tub", "bath": "tub", "shower": "pan", "curb": "pan", "backsplash": "counter", "drywall": "wall",
    "paint": "wall", "inside": "corner", "end": "outside", "trim": "casing", "jolly": "profile", "pencil": "liner",
    "miter": "mitre", "mitred": "mitre", "color": "colour",
}  # fmt: skip
"""What people in the trade write for a word of the job file that is spelt otherwise."""


def quoted(word: str) -> str:
    """Return a word in quotes, as it would stand in the file, short enough for a message."""
    return f'"{shown(word)}"'


def either(words: Iterable[str], last: str = "or") -> str:
    """Return ``"a", "b" or "c"``."""
    names = [quoted(w) for w in words]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"


def near(word: str, words: Iterable[str]) -> str:
    """Return ``; did you mean "height"?`` when one of ``words`` is close to ``word``, else nothing."""
    meant = nearest(word, words)
    return f"; did you mean {quoted(meant)}?" if meant else ""


def nearest(word: str, words: Iterable[str]) -> str:
    """Return which of ``words`` is close to ``word``; empty when none is."""
    known = list(words)
    folded = {w.casefold().replace("_", "-"): w for w in reversed(known)}
    asked = word[:60].casefold().replace("_", "-")
    found = difflib.get_close_matches(asked, folded, n=1, cutoff=0.6)
    if not found and _TRADE.get(asked) in folded:
        return _TRADE[asked]
    if not found and len(asked) >= 3:
        found = [w for w in folded if w.startswith(asked) or (len(w) >= 3 and asked.startswith(w))][:1]
    return folded[found[0]] if found else ""


def keys_list(words: Iterable[str]) -> str:
    """Return keys in a row, without quotes, cut when there are too many."""
    names = list(words)
    more = f" and {len(names) - _SHOWN_NAMES} more" if len(names) > _SHOWN_NAMES else ""
    return ", ".join(names[:_SHOWN_NAMES]) + more


def unknown(kind: str, word: str, known: Iterable[str]) -> str:
    """Return the text for an id that names nothing: the near match, and what there is."""
    names = list(known)
    if not names:
        header = f"[[{kind}]]" if kind == "wall" else f"[{kind}.{shown(word)}]"
        return f"names no {kind} of this file; it has none: describe one in a table {header}"
    hint = near(word, names)
    return f"names no {kind} of this file{hint or '; there is ' + either(names[:_SHOWN_NAMES], 'and')}"


def say(mm: float, unit: Unit) -> str:
    """Return a length for a message, in the file's unit, rounded to 1/64 in or 0.1 mm."""
    step = INCH / 64 if unit == "in" else Fraction(1, 10)
    return f"{format_length(mm, step, unit)} {unit}"
