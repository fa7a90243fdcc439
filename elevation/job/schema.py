"""The JSON Schema of the job file, for editors that complete and check as one types."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from elevation.job.keys import doc_of
from elevation.job.models import Job
from elevation.job.shape import keys_of
from elevation.spec import ByUnits, Spec

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class _Schema(GenerateJsonSchema):
    """Writes defaults as the file would, and no titles made up from names."""

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Return the inner schema; a default read by unit, or by a reader of its own, is left to the description."""
        value = schema.get("default")
        if isinstance(value, str | bool):
            return super().default_schema(schema)
        inner = self.generate_inner(schema["schema"])
        if isinstance(value, ByUnits):
            return {"default": value.inches, **inner} if value.inches == value.millimetres else inner
        return inner

    def field_title_should_be_set(self, schema: Any) -> bool:
        """Never: a key's name says as much."""
        return False


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of a job file, keys described as in the models' docstrings."""
    schema = Job.model_json_schema(by_alias=True, schema_generator=_Schema)
    models = {model.__name__: model for model in _models(Spec)}
    _describe(schema, Job)
    for name, part in schema.get("$defs", {}).items():
        if name in models:
            _describe(part, models[name])
    schema = _without_null(schema)
    return {
        "$schema": DIALECT,
        "title": "Job file of elevation",
        "description": "One job: tiles, trims and walls, in TOML. Lengths are numbers in the file's units, or text.",
        **{key: value for key, value in schema.items() if key not in ("title", "description")},
    }


def _without_null(part: Any) -> Any:
    """Return a schema without what TOML cannot hold, a null, and without a keyword that JSON Schema does not know."""
    if isinstance(part, list):
        return [_without_null(item) for item in part]
    if not isinstance(part, dict):
        return part
    clean = {key: _without_null(value) for key, value in part.items() if key != "discriminator"}
    if "patternProperties" in clean:
        clean["additionalProperties"] = False
    arms = clean.get("anyOf")
    if isinstance(arms, list) and {"type": "null"} in arms:
        left = [arm for arm in arms if arm != {"type": "null"}]
        clean.pop("anyOf")
        clean = {**left[0], **clean} if len(left) == 1 else {"anyOf": left, **clean}
    return clean


def _models(base: type[Spec]) -> list[type[Spec]]:
    return [base, *(inner for model in base.__subclasses__() for inner in _models(model))]


def _describe(schema: dict[str, Any], model: type[Spec]) -> None:
    """Put the first sentence of a model, and its sentence on each key, in place of what pydantic took."""
    schema["description"] = (model.__doc__ or "").strip().partition("\n")[0]
    schema.pop("title", None)
    for name, key in keys_of(model).items():
        part = schema.get("properties", {}).get(name)
        if part is None:
            continue
        part.pop("title", None)
        if text := doc_of(key):
            default = key.field.default
            if isinstance(default, ByUnits):
                text += f" Left out: {default.inches} (inches), {default.millimetres} (metric)."
            part["description"] = text
