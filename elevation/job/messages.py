"""Turns what pydantic says of a job file into sentences for the person who typed it."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from typing import Any, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from elevation.job.paths import Path, at_path, key_text
from elevation.job.shape import arms_of, key_at, keys_of, tables_at, words_of
from elevation.job.words import either, keys_list, near, nearest

EXAMPLES = {
    "title": '"Guest bath"', "units": '"in"', "joint": '"1/8"', "sliver": '"1"', "name": '"Gloss white"',
    "length": '"11 13/16"', "width": '"2 15/16"', "thickness": '"5/16"', "sampled": "10", "variation": '"1/32"',
    "edge": '"pressed"', "box": "44", "id": '"B"', "pattern": '"stacked"', "kind": '"profile"', "x": '"20"',
    "y": '"40"', "height": '"12"', "depth": '"3 1/2"', "on": '"n1"', "at": '"joint"', "wall": '"B"', "datum": '"36"',
    "tile": '"field"', "down": '[["0", "36"], ["60", "36"]]', "up": '[["0", "48"], ["60", "48"]]',
    "left": '[["-36", "0"], ["48", "0"]]', "right": '[["-36", "60"], ["48", "60"]]',
    "arc": '"30"', "diameter": '"4 1/2"', "mark": '"A"', "date": '"2030-01-31"',
    "note": '"first issue"',
}  # fmt: skip
"""A value for each key that some table cannot do without, shown when it is missing."""

_QUOTED = re.compile(r"'([^']*)'")
_LIMITS = {
    "greater_than": ("gt", "must be more than"), "greater_than_equal": ("ge", "must be at least"),
    "less_than": ("lt", "must be less than"), "less_than_equal": ("le", "must be at most"),
}  # fmt: skip
_NOT_THIS = {
    "string_type": "write text in quotes",
    "int_type": "write a whole number without quotes, such as 44",
    "int_from_float": "write a whole number, such as 44",
    "float_type": "write a number without quotes, such as 2.5",
    "bool_type": "write true or false, without quotes",
    "date_type": "write a date such as 2030-01-31, or text in quotes",
    "model_type": "write a table, { key = value }",
    "model_attributes_type": "write a table, { key = value }",
    "dict_type": "write a table, { key = value }",
    "list_type": "write a list in brackets",
    "tuple_type": "write a list in brackets",
}


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at a key, before its line and value are looked up.

    Attributes:
        path: The key.
        text: What is wrong and what would do.
        kind: What kind of error the models made of it; empty for a check of our own.
        meant: For a key that is none: the one that was meant, by its spelling.
    """

    path: Path
    text: str
    kind: str = ""
    meant: str = ""


def faults_of(error: ValidationError, data: dict[str, Any]) -> list[Fault]:
    """Return everything that a validation refused, one fault for each key.

    Args:
        error: What pydantic raised; lengths were read with the file's unit.
        data: What it was given.
    """
    found: dict[Path, Fault] = {}
    for one in error.errors(include_url=False):
        path, kind = _path(one, data), one["type"]
        text = _text(one, path, data)
        if kind in ("union_tag_not_found", "union_tag_invalid") and isinstance(at_path(data, path), dict):
            path = (*path, "pattern")
            if kind == "union_tag_not_found":
                text = _missing(path)
        meant = nearest(str(path[-1]), _keys_at(path[:-1], data)) if kind == "extra_forbidden" else ""
        # two arms of a union each complain of the same key: the first says enough
        found.setdefault(path, Fault(path, text, kind, meant))
    misspelt = {fault.path[:-1]: fault.meant for fault in found.values() if fault.meant}
    return [f for f in found.values() if not _follows(f, misspelt)]


def _follows(fault: Fault, misspelt: dict[Path, str]) -> bool:
    """Tell whether a fault only says that a key is missing which stands there, misspelt."""
    if fault.kind == "missing":
        return fault.path[:-1] in misspelt and misspelt[fault.path[:-1]] == fault.path[-1]
    return fault.kind == "value_error" and fault.path in misspelt and " needs " in f" {fault.text}"


def _keys_at(path: Path, data: dict[str, Any] | None) -> list[str]:
    return list(dict.fromkeys(name for table in tables_at(path, data) for name in keys_of(table)))


def _path(one: ErrorDetails, data: Any) -> Path:
    """Return the steps that are keys or places of the file, without the names of a union's arms."""
    path: list[str | int] = []
    for i, step in enumerate(one["loc"]):
        last = i == len(one["loc"]) - 1
        if (isinstance(data, dict) and step in data) or (isinstance(data, list) and isinstance(step, int)):
            path.append(step)
            data = data[step]  # type: ignore[index]  # data is what the test above says
        elif last and one["type"] == "missing":
            path.append(step)
    return tuple(path)


def _text(one: ErrorDetails, path: Path, data: dict[str, Any]) -> str:
    kind, context, value = one["type"], one.get("ctx", {}), one["input"]
    if kind == "value_error":
        return _own(str(context["error"]), path, value)
    if kind == "missing":
        return _missing(path)
    if kind == "extra_forbidden":
        return _not_a_key(path, data)
    if kind in ("literal_error", "union_tag_invalid"):
        words = _QUOTED.findall(str(context.get("expected", context.get("expected_tags", ""))))
        written = value.get("pattern") if kind == "union_tag_invalid" else value
        hint = near(written, words) if isinstance(written, str) else ""
        return f"is not {either(words)}{hint}"
    if kind in _LIMITS:
        name, text = _LIMITS[kind]
        return f"{text} {context[name]:g}"
    if kind in ("too_short", "too_long"):
        return _count(path, value, context, least=kind == "too_short")
    if kind == "string_pattern_mismatch":
        return 'is not a colour; write # and six of 0-9 and a-f, such as "#f2efe6"'
    if kind == "finite_number":
        return "is not a number that can be measured"
    if kind in _NOT_THIS or kind in ("union_tag_not_found", "dataclass_type"):
        return f"is {_what(value)}; {_wanted(kind, path)}"
    return f"is {_what(value)}, which does not do here; {_accepted(path)}"


def _own(text: str, path: Path, value: Any) -> str:
    """Return a reader's own text; where a wrong type came in, its name goes before what would do."""
    if text.startswith("is not a") and not isinstance(value, str | int | float | list | tuple | dict):
        return f"is {_what(value)}, not {text.removeprefix('is not ')}"
    if isinstance(value, bool):
        return f"is {_what(value)}, not {text.removeprefix('is not ')}" if text.startswith("is not ") else text
    if isinstance(value, list | dict) and text.startswith("is not a length"):
        return f"is {_what(value)}, not {text.removeprefix('is not ')}"
    return text


def _missing(path: Path) -> str:
    name = str(path[-1])
    words = [w for key in key_at(path) for w in words_of(key.field.annotation)]
    if words:
        return f"is missing; write {name} = {either(dict.fromkeys(words))}"
    if name == "tile" and len(path) == 1:
        return "is missing; describe a tile in a table [tile.field]"
    if name == "wall" and len(path) == 1:
        return "is missing; describe a wall in a table [[wall]]"
    if name == "layout":
        return 'is missing; write for instance layout = { tile = "field", pattern = "stacked" }'
    example = EXAMPLES.get(name)
    return f"is missing; write for instance {name} = {example}" if example else f"is missing; {_accepted(path)}"


def _not_a_key(path: Path, data: dict[str, Any]) -> str:
    name, names = str(path[-1]), _keys_at(path[:-1], data)
    if hint := near(name, names):
        return f"is not a key here{hint}"
    others = [table for table in tables_at(path[:-1]) if name in keys_of(table) and "pattern" in keys_of(table)]
    if words := [w for table in others for w in words_of(table.model_fields["pattern"].annotation)]:
        return f"goes only with pattern = {either(words)}"
    if elsewhere := _home(name, path):
        return f"is not a key here; it belongs in {elsewhere}"
    return f"is not a key here; the keys are {keys_list(names)}"


def _home(name: str, path: Path) -> str:
    """Return the table above that has such a key: a common slip is a key behind the wrong header."""
    for end in range(len(path) - 2, -1, -1):
        if any(name in keys_of(table) for table in tables_at(path[:end])):
            return key_text(path[:end]) or "the top of the file, before the first [table]"
    return ""


def _count(path: Path, value: Any, context: dict[str, Any], *, least: bool) -> str:
    want = context["min_length" if least else "max_length"]
    have = len(value) if isinstance(value, list | dict) else 0
    if path == ("tile",):
        return "is empty; describe a tile in a table [tile.field]"
    if path == ("wall",):
        return "is empty; describe a wall in a table [[wall]]"
    name = {"outline": "corner", "diagonals": "length"}.get(str(path[-1]), "reading")
    return f"has {have} {name}{'s' * (have != 1)}; it needs {'at least' if least else 'at most'} {want}"


def _what(value: Any) -> str:
    """Return what kind of thing was written, in words."""
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str):
        return "text in quotes"
    if isinstance(value, int):
        return "a number"
    if isinstance(value, float):
        return "a number with decimals"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, datetime.date | datetime.time):
        return "a date or a time"
    return "something else"


def _wanted(kind: str, path: Path) -> str:
    name = str(path[-1]) if path else ""
    keys = key_at(path)
    arms = [arm for key in keys for arm in arms_of(key.field.annotation)]
    if kind == "list_type" and tables_at((*path, 0)):
        header = ".".join(s for s in path if isinstance(s, str))
        return f"there may be several, so the header has two brackets, [[{header}]]"
    if kind == "dict_type" and path in (("tile",), ("trim",)):
        return f"write a table for each, by its id: [{name}.{'field' if name == 'tile' else 'end'}]"
    if kind == "dict_type" and any(get_origin(arm) is dict for arm in arms) and name == "edges":
        return 'write sides with their tables, such as edges = { left = { joint = "1/8" } }'
    if kind in ("model_type", "model_attributes_type", "union_tag_not_found"):
        tables = tables_at(path)
        needed = [k for t in tables[:1] for k, key in keys_of(t).items() if key.field.is_required()] if tables else []
        if "pattern" in needed:
            return 'write a table, such as { tile = "field", pattern = "stacked" }'
        if needed and all(k in EXAMPLES for k in needed):
            return f"write a table, such as {{ {', '.join(f'{k} = {EXAMPLES[k]}' for k in needed)} }}"
    return _NOT_THIS.get(kind, "write a table, { key = value }")


def _accepted(path: Path) -> str:
    words = [w for key in key_at(path) for w in words_of(key.field.annotation)]
    return f"write {either(dict.fromkeys(words))}" if words else "`elevation explain` tells what the key takes"
