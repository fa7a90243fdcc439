"""Which keys a table of the job file has: walks the models by key path."""

from __future__ import annotations

import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from elevation.job.models import Job
from elevation.job.paths import Path
from elevation.spec import Spec


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table: the model that has it, its name in the file, and its field."""

    owner: type[Spec]
    name: str
    field: FieldInfo


def keys_of(model: type[Spec]) -> dict[str, Key]:
    """Return the keys of a table, by their name in the file."""
    return {(info.alias or name): Key(model, info.alias or name, info) for name, info in model.model_fields.items()}


def tables_at(path: Path, data: Any = None) -> list[type[Spec]]:
    """Return the models that the table at a path may be; several for a layout, none where no table stands.

    Args:
        path: Steps from the top; places in lists do not matter.
        data: The parsed file, if there is one: a layout is then narrowed by its ``pattern``.
    """
    arms: list[Any] = [Job]
    for step in path:
        data = data[step] if _holds(data, step) else None
        arms = [arm for found in arms for arm in _inside(found, step)]
        arms = _narrowed(list(dict.fromkeys(arms)), data)
    return [arm for arm in arms if isinstance(arm, type) and issubclass(arm, Spec)]


def key_at(path: Path) -> list[Key]:
    """Return the keys of that name at a path: one, or one for each kind of layout that has it."""
    names = [step for step in path if isinstance(step, str)]
    if not names:
        return []
    return [keys_of(m)[names[-1]] for m in tables_at(tuple(names[:-1])) if names[-1] in keys_of(m)]


def arms_of(annotation: Any) -> Iterator[Any]:
    """Yield the types behind ``Annotated`` and unions."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from arms_of(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for arm in get_args(annotation):
            yield from arms_of(arm)
    else:
        yield annotation


def words_of(annotation: Any) -> list[str]:
    """Return the words that a key takes, where it takes words."""
    return [w for arm in arms_of(annotation) if get_origin(arm) is Literal for w in get_args(arm)]


def _inside(arm: Any, step: str | int) -> Iterator[Any]:
    origin = get_origin(arm)
    if origin is list:
        yield from arms_of(get_args(arm)[0]) if isinstance(step, int) else _within_items(arm, step)
    elif origin is dict and isinstance(step, str):
        yield from arms_of(get_args(arm)[1])
    elif isinstance(arm, type) and issubclass(arm, Spec) and step in keys_of(arm):
        yield from arms_of(keys_of(arm)[str(step)].field.annotation)


def _within_items(arm: Any, step: str) -> Iterator[Any]:
    """Go through a list without naming a place in it, as ``wall.niche.width`` does."""
    for item in arms_of(get_args(arm)[0]):
        yield from _inside(item, step)


def _holds(data: Any, step: str | int) -> bool:
    if isinstance(data, dict):
        return step in data
    return isinstance(data, list) and isinstance(step, int) and 0 <= step < len(data)


def _narrowed(arms: list[Any], data: Any) -> list[Any]:
    if not isinstance(data, dict) or len(arms) < 2:
        return arms
    fits = [
        arm
        for arm in arms
        if isinstance(arm, type)
        and issubclass(arm, Spec)
        and "pattern" in arm.model_fields
        and data.get("pattern") in words_of(arm.model_fields["pattern"].annotation)
    ]
    if fits:
        return fits
    holding = [
        arm for arm in arms if isinstance(arm, type) and issubclass(arm, Spec) and set(data) & set(keys_of(arm))
    ]
    return holding or arms
