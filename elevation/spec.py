"""The base of everything a job file may say: strict, frozen models, and lengths that know the file's unit.

A model is validated with ``context={"units": "in" | "mm"}``. Defaults that differ by unit are written
``by_units("1/4", "6")`` and parsed like what a user would have typed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, ValidationInfo, WithJsonSchema

from elevation.units import ACCEPTED, Unit, parse_length


class Spec(BaseModel):
    """A table of the job file; its fields are the keys, and no other key is taken."""

    model_config = ConfigDict(defer_build=True, strict=True, frozen=True, extra="forbid", validate_default=True)


@dataclass(frozen=True, slots=True)
class ByUnits:
    """A default that reads ``inches`` in an inch file and ``millimetres`` in a metric one."""

    inches: str
    millimetres: str

    def pick(self, unit: Unit) -> str:
        """Return the text for ``unit``."""
        return self.inches if unit == "in" else self.millimetres


def by_units(inches: str, millimetres: str) -> Any:
    """Return a default for a length field: inches for an inch file, millimetres for a metric one."""
    return ByUnits(inches, millimetres)


def unit_of(info: ValidationInfo) -> Unit:
    """Return the file's unit, as the loader put it in the validation context."""
    unit: Unit = (info.context or {}).get("units", "mm")
    return unit


def _to_mm(value: Any, info: ValidationInfo) -> float:
    unit = unit_of(info)
    if isinstance(value, ByUnits):
        value = value.pick(unit)
    return float(parse_length(value, unit))


def _positive(value: float) -> float:
    if value <= 0:
        raise ValueError("must be more than 0")
    return value


def _not_negative(value: float) -> float:
    if value < 0:
        raise ValueError("must be 0 or more")
    return value


def _to_range(value: Any, info: ValidationInfo) -> tuple[float, float]:
    unit = unit_of(info)
    if isinstance(value, ByUnits):
        value = value.pick(unit)
    if isinstance(value, list | tuple):
        if len(value) != 2:
            raise ValueError(f'is a list of {len(value)}; write a length, or a range, least and most: ["1/8", "1/4"]')
        least, most = (float(parse_length(v, unit)) for v in value)
    else:
        least = most = float(parse_length(value, unit))
    if least < 0:
        raise ValueError("must be 0 or more")
    if least > most:
        raise ValueError("runs backwards; write the lesser length first")
    return least, most


def _to_span(value: Any, info: ValidationInfo) -> tuple[float, float]:
    unit = unit_of(info)
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise ValueError('is not two lengths in brackets, the lesser first, such as ["-2", "2"]')
    least, most = (float(parse_length(v, unit)) for v in value)
    if least > most:
        raise ValueError("runs backwards; write the lesser length first")
    return least, most


def _to_point(value: Any, info: ValidationInfo) -> tuple[float, float]:
    unit = unit_of(info)
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise ValueError('is not two lengths in brackets, such as ["0", "36"]')
    x, y = (float(parse_length(v, unit)) for v in value)
    return x, y


def _to_size(value: Any, info: ValidationInfo) -> tuple[float, float]:
    if isinstance(value, list | tuple):
        return _to_point(value, info)
    side = _to_mm(value, info)
    return side, side


_SHARE = re.compile(r"\s*(?P<num>[+-]?[0-9]+(?:\.[0-9]+)?)\s*(?:/\s*(?P<den>[0-9]+))?\s*")


def _to_share(value: Any) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= 1e6:
        return float(value)
    # no exponent is taken: 1e999999999 as an exact fraction would fill the memory
    match = _SHARE.fullmatch(value) if isinstance(value, str) and len(value) <= 30 else None
    if match is None or int(match["den"] or "1") == 0:
        raise ValueError("is not a share such as 1/3, 1/2 or 0.5")
    return float(Fraction(match["num"]) / int(match["den"] or "1"))


_LENGTH_SCHEMA = WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}], "description": ACCEPTED})
_PAIR = {"type": "array", "items": _LENGTH_SCHEMA.json_schema, "minItems": 2, "maxItems": 2}

Point = Annotated[tuple[float, float], WithJsonSchema(_PAIR)]
"""Two lengths already in mm; like ``Measured``, its reader parses."""
Measured = Annotated[float, _LENGTH_SCHEMA]
"""A length already in mm, one arm of a union whose reader parses; it only says what the file may hold."""
Signed = Annotated[float, BeforeValidator(_to_mm), _LENGTH_SCHEMA]
"""A length in mm that may be negative: a position, a reading."""
Length = Annotated[float, BeforeValidator(_to_mm), AfterValidator(_positive), _LENGTH_SCHEMA]
"""A length in mm, more than 0."""
Gap = Annotated[float, BeforeValidator(_to_mm), AfterValidator(_not_negative), _LENGTH_SCHEMA]
"""A length in mm, 0 or more."""
Range = Annotated[
    tuple[float, float],
    BeforeValidator(_to_range),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}, _PAIR]}),
]
"""A least and a most, mm, both 0 or more; one length alone is both."""
Span = Annotated[tuple[float, float], BeforeValidator(_to_span), WithJsonSchema(_PAIR)]
"""Two lengths in mm, lesser first, either sign."""
Reading = Annotated[tuple[float, float], BeforeValidator(_to_point), WithJsonSchema(_PAIR)]
"""A station and its reading, or a point; mm, either sign."""
Share = Annotated[
    float, BeforeValidator(_to_share), WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}]})
]
"""A share without unit: ``"1/3"`` or a number."""
