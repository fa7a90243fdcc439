"""What a key of the job file means, in words: from the docstrings of the models, for people and for editors."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from typing import Annotated, Any, get_args, get_origin

from pydantic import WithJsonSchema
from pydantic_core import PydanticUndefined

from elevation.job.models import Job
from elevation.job.paths import read_key
from elevation.job.shape import Key, arms_of, keys_of, words_of
from elevation.job.words import either, near
from elevation.spec import ByUnits, Spec
from elevation.units import ACCEPTED

_ENTRY = re.compile(r"^ {4}(?P<name>\w+): (?P<text>.+(?:\n {8,}.+)*)", re.MULTILINE)
_CODE = re.compile(r"``(.+?)``")
_MM = re.compile(r",? (?:in )?mm(?=[.,:;)]| from| on| a foot)")


def doc_entries(model: type) -> dict[str, str]:
    """Return what the docstrings of a model and its bases say of each field, lengths without the inner unit."""
    entries: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if not (isinstance(base, type) and issubclass(base, Spec)) or base is Spec:
            continue
        doc = inspect.getdoc(base) or ""
        if "Attributes:" in doc:
            for match in _ENTRY.finditer(doc[doc.index("Attributes:") :]):
                text = _CODE.sub(_as_written, " ".join(match["text"].split()))
                entries[match["name"]] = _MM.sub("", text.replace(", mm a foot", ", so much a foot"))
    return entries


def _as_written(code: re.Match[str]) -> str:
    """Return a word of a docstring in quotes, as in the file; tables and lists stand as they are."""
    return code[1] if code[1][0] in "{[" else f'"{code[1]}"'


def doc_of(key: Key) -> str:
    """Return the sentence on a key."""
    for name, info in key.owner.model_fields.items():
        if info is key.field:
            return doc_entries(key.owner).get(name, "")
    return ""


def describe(text: str) -> str | None:
    """Return what a key means and what it takes; ``None`` when there is no such key.

    Args:
        text: A key path, with or without places and ids: ``wall.niche.width``, ``wall[1].niche[1].width``,
            ``tile.field.length``, ``tile.length``; or its last part alone, ``sliver``.
    """
    paths = every_key()
    steps = _steps(text)
    found = list(dict.fromkeys(_matches(steps, [Job]))) if steps else []
    found = found or [name for name in paths if steps and name.endswith(f".{'.'.join(steps)}")]
    return "\n\n".join(f"{name}\n{_indented(paths[name])}" for name in found) or None


def near_key(text: str) -> str:
    """Return ``; did you mean "wall.niche.width"?`` when a key is close to ``text``, else nothing."""
    steps = _steps(text) or [text.strip()]
    paths = keys()
    return near(".".join(steps), paths) or near(steps[-1], [path.rpartition(".")[2] for path in paths])


def keys() -> list[str]:
    """Return every key path of the job file, without places and ids, in the order of the models."""
    return list(every_key())


def _steps(text: str) -> list[str]:
    return [step for step in read_key(text.strip()) or () if isinstance(step, str)]


def every_key() -> dict[str, Key]:
    """Return every key of the job file by its path."""
    return dict(_walk("", Job, ()))


def _walk(prefix: str, model: type[Spec], above: tuple[type[Spec], ...]) -> Iterator[tuple[str, Key]]:
    for name, key in keys_of(model).items():
        path = f"{prefix}{name}"
        yield path, key
        for arm in arms_of(key.field.annotation):
            for inner in _tables(arm):
                if inner not in above:
                    yield from _walk(f"{path}.", inner, (*above, model))


def _tables(arm: Any) -> Iterator[type[Spec]]:
    if get_origin(arm) in (list, dict):
        for inner in arms_of(get_args(arm)[-1]):
            yield from _tables(inner)
    elif isinstance(arm, type) and issubclass(arm, Spec):
        yield arm


def _matches(steps: list[str], tables: list[type[Spec]], prefix: str = "") -> Iterator[str]:
    """Yield the plain paths that some steps may mean, ids left out."""
    for table in tables:
        key = keys_of(table).get(steps[0])
        if key is None:
            continue
        path, rest = f"{prefix}{key.name}", steps[1:]
        if not rest:
            yield path
            continue
        arms = list(arms_of(key.field.annotation))
        inner = [found for arm in arms for found in _tables(arm)]
        yield from _matches(rest, inner, f"{path}.")
        if any(get_origin(arm) is dict for arm in arms):
            yield from _matches(rest[1:], inner, f"{path}.") if rest[1:] else [path]


def _indented(key: Key) -> str:
    lines = [line for line in (doc_of(key), _takes(key), _default(key)) if line]
    return "\n".join(f"  {line}" for line in lines)


def _takes(key: Key) -> str:
    arms = list(arms_of(key.field.annotation))
    some = [either(words)] if (words := list(dict.fromkeys(words_of(key.field.annotation)))) else []
    if _is_length(key.field.metadata) or any(_is_length(get_args(arm)[1:]) for arm in _annotated(key)):
        some.append(ACCEPTED)
    some += ["true or false"] if bool in arms else []
    some += ["a whole number"] if int in arms else []
    tables = [table for arm in arms for table in _tables(arm)]
    if names := list(dict.fromkeys(name for table in tables for name in keys_of(table))):
        origins = [get_origin(arm) for arm in arms]
        kind = "tables, by id," if dict in origins else "tables" if list in origins else "a table"
        some.append(f"{kind} with the keys {', '.join(names)}")
    first = [(table.__doc__ or "").strip().partition("\n")[0] for table in tables]
    about = first[0] if len(set(first)) == 1 and list in [get_origin(arm) for arm in arms] else ""
    if about:
        return f"{about}\n  Takes {'; or '.join(some)}."
    return f"Takes {'; or '.join(some)}." if some else ""


def _annotated(key: Key) -> list[Any]:
    """Return the annotated arms of a key's type, whose readers say that they take a length."""
    arms = get_args(key.field.annotation)
    return [arm for arm in arms if get_origin(arm) is Annotated]


def _is_length(metadata: Any) -> bool:
    schemas = [m.json_schema for m in metadata if isinstance(m, WithJsonSchema)]
    return any(schema is not None and schema.get("description") == ACCEPTED for schema in schemas)


def _default(key: Key) -> str:
    value = key.field.default
    if isinstance(value, ByUnits):
        inches = value.inches if value.inches.endswith("mm") else f"{value.inches} in"
        millimetres = value.millimetres if value.millimetres.endswith("mm") else f"{value.millimetres} mm"
        return f"Left out: {inches}, or {millimetres} in a metric file."
    if key.field.is_required():
        return "Must be there."
    if value is PydanticUndefined or value is None or isinstance(value, Spec | dict) or value == []:
        return ""
    if isinstance(value, bool):
        return f"Left out: {str(value).lower()}."
    if isinstance(value, str):
        return f'Left out: "{value}".'
    if isinstance(value, list):
        return f"Left out: {', '.join(map(str, value))}."
    return f"Left out: {value:g}." if isinstance(value, int | float) else ""
