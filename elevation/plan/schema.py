"""JSON Schema (draft 2020-12) of plan.json, for those who read it: keys may be added, those named here stay."""

from __future__ import annotations

from typing import Any, get_args

from elevation.cutting.trims import EndKind
from elevation.errors import Level
from elevation.pieces import Kind
from elevation.plan.as_json import FORMAT
from elevation.wall.face import EdgeKind, FaceKind

Schema = dict[str, Any]

_TEXT: Schema = {"type": "string"}
_COUNT: Schema = {"type": "integer", "minimum": 0}
_WHOLE: Schema = {"type": "integer"}
_YES_NO: Schema = {"type": "boolean"}
_LENGTH: Schema = {"type": "number", "minimum": 0, "description": "mm"}
_AREA: Schema = {"type": "number", "minimum": 0, "description": "mm²"}


def _object(properties: dict[str, Schema], *optional: str, **more: Any) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": [name for name in properties if name not in optional],
        **more,
    }


def _list(items: Schema, **more: Any) -> Schema:
    return {"type": "array", "items": items, **more}


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _definitions() -> dict[str, Schema]:
    return {
        "point": _list({"type": "number"}, minItems=2, maxItems=2, description="x to the right, y up, mm"),
        "ring": _list(_ref("point"), minItems=4, description="closed: the last point is the first again"),
        "area": _object({"outer": _ref("ring"), "holes": _list(_ref("ring"))}),
        "piece": _object(
            {
                "id": _TEXT | {"description": "address: face, zone, course, place, part"},
                "number": _or_null(_TEXT) | {"description": "null for a whole tile"},
                "course": _WHOLE,
                "place": {"type": "integer", "minimum": 1},
                "part": {"type": "integer", "minimum": 1},
                "kind": {"enum": list(get_args(Kind))},
                "outer": _ref("ring"),
                "holes": _list(_ref("ring")),
                "slot": _ref("ring"),
                "width": _LENGTH | {"description": "extent along x before rounding, mm"},
                "height": _LENGTH | {"description": "extent along y before rounding, mm"},
                "area": _AREA,
                "shown": _list(_LENGTH, minItems=2, maxItems=2, description="width and height of what shows, mm"),
                "factory_edges": _list(_TEXT, description="sides of the slot that are still there"),
                "order": {"type": "integer", "minimum": 1, "description": "place in the order of setting"},
                "mitred": _list(_TEXT, description="sides bevelled to meet another tile at a corner; left out: none"),
            },
            "part",
            "mitred",
        ),
        "zone": _object(
            {
                "id": _TEXT | {"description": "field; field.ID, its part beyond zone ID; or a zone's own id"},
                "tile": _TEXT,
                "pattern": _TEXT,
                "joint": _LENGTH,
                "origin": _ref("point") | {"description": "lower left corner of the slot that the start refers to"},
                "region": _list(_ref("area"), description="what tile may cover, after every edge is decided"),
                "pieces": _list(_ref("piece")),
            }
        ),
        "face": _object(
            {
                "id": _TEXT,
                "kind": {"enum": list(get_args(FaceKind))},
                "title": _TEXT,
                "outline": _ref("ring"),
                "at": _ref("point") | {"description": "its origin in the frame of the wall"},
                "zones": _list(_ref("zone")),
            },
            "kind", "title", "outline", "at",
        ),
        "edge": _object(
            {
                "face": _TEXT,
                "of": _or_null(_TEXT) | {"description": "id of the feature; null for a side of the face"},
                "side": _TEXT,
                "kind": {"enum": list(get_args(EdgeKind))},
                "meets": _or_null(_TEXT),
                "trim": _or_null(_TEXT),
                "length": _LENGTH,
                "gap": _list(_LENGTH, minItems=2, maxItems=2, description="least and most, as drawn, mm"),
            },
            "of", "meets",
        ),
        "wall": _object(
            {
                "id": _TEXT,
                "title": _TEXT,
                "outline": _ref("ring"),
                "datum": _object({"x": {"type": "number"}, "y": {"type": "number"}}),
                "wall_area": _AREA | {"description": "inside the outline, openings not taken off, mm²"},
                "tiled_area": _AREA | {"description": "regions of the zones of all its faces, joints included, mm²"},
                "faces": _list(_ref("face"), minItems=1),
                "edges": _list(_ref("edge")),
                "holes": _list(_ref("hole")),
            },
            "holes",
        ),
        "hole": _object(
            {
                "id": _TEXT,
                "centre": _list({"type": "number"}, minItems=2, maxItems=2),
                "size": _list(_LENGTH, minItems=1, maxItems=2, description="diameter, or width and height, as cut"),
                "from_left": {"type": "number", "description": "from the wall's left side at that height, mm"},
                "above_datum": {"type": "number", "description": "above the level line, or the lower left corner, mm"},
                "pieces": _list(
                    _object(
                        {
                            "piece": _TEXT,
                            "number": _or_null(_TEXT),
                            "from": _list(
                                _object({"side": _TEXT, "distance": {"type": "number"}, "factory": _YES_NO}),
                                minItems=2, maxItems=2, description="an upright side, then a level one",
                            ),
                        }
                    )
                ),
            }
        ),
        "layout": _object(
            {
                "wall": _TEXT,
                "face": _TEXT,
                "zone": _TEXT,
                "chosen": {"type": "object"},
                "candidates": _list({"type": "object"}),
                "examined": _COUNT,
                "proved": _YES_NO,
                "bound": {"type": ["number", "string", "null"]},
            },
            "face",
            "bound",
        ),
        "cutting": _object(
            {
                "tile": _TEXT,
                "pieces": _COUNT,
                "whole": _COUNT,
                "cut": _COUNT,
                "tiles": _COUNT | {"description": "whole + tiles that are cut"},
                "lower_bound": _COUNT,
                "proved": _YES_NO,
                "boxes": _COUNT,
                "without_reuse": _COUNT,
                "plan": _list(
                    _object(
                        {
                            "tile_no": {"type": "integer", "minimum": 1},
                            "pieces": _list(_TEXT, minItems=1),
                            "placements": _list(
                                _object(
                                    {
                                        "piece": _TEXT,
                                        "x": _LENGTH,
                                        "y": _LENGTH,
                                        "w": _LENGTH,
                                        "h": _LENGTH,
                                        "turn": {"enum": [0, 90, 180, 270]},
                                    }
                                )
                            ),
                        },
                        "placements",
                    )
                ),
            },
            "without_reuse",
        ),
        "trim": _object(
            {
                "trim": _TEXT,
                "kind": {"enum": ["profile", "bullnose", "liner", "mitre"]},
                "corner": {"enum": ["mitre", "butt", "piece"]},
                "length": _LENGTH,
                "runs": _list(_ref("trim_run")),
                "corners": _list(_ref("trim_corner")),
                "corner_pieces": _COUNT,
                "pieces": _list(_ref("trim_piece")),
                "sticks": _or_null(_COUNT),
                "lower_bound": _or_null(_COUNT),
                "proved": _or_null(_YES_NO),
                "joints": _list(_object({"run": _TEXT, "joints": _COUNT})),
                "plan": _list(_object({"stick_no": _COUNT, "lengths": _list({"type": "object"})})),
            },
            "kind", "corner", "corners", "corner_pieces", "pieces",
        ),
        "trim_run": _object(
            {
                "id": _TEXT,
                "tag": _TEXT | {"description": "what the sheets call it: B-T2"},
                "face": _TEXT,
                "length": _LENGTH | {"description": "over all, long point to long point, mm"},
                "outer": _list(_ref("point"), description="its outer edge, from the left or from below"),
                "ring": _or_null(_ref("ring")) | {"description": "what it covers; null where two tiles are mitred"},
                "ends": _list(_ref("trim_end"), minItems=2, maxItems=2),
                "joints": _list(_LENGTH, description="of a run longer than a stick, mm from its start"),
                "on_tile_joints": _or_null(_YES_NO),
            },
            "tag", "outer", "ring", "ends", "joints", "on_tile_joints",
        ),
        "trim_end": _object(
            {
                "at": {"enum": ["left", "right", "bottom", "top"]},
                "cut": {"enum": list(get_args(EndKind))},
                "angle": {"type": "number", "description": "between the cut and the run, degrees; 90 is square"},
                "long": {"enum": ["outer", "inner", None], "description": "the edge that ends in the long point"},
                "beside": _or_null(_TEXT) | {"description": "tag of the run that it meets"},
                "through": _YES_NO | {"description": "of two that are butted, this one goes through"},
            }
        ),
        "trim_corner": _object(
            {
                "face": _TEXT,
                "kind": {"enum": ["mitre", "butt", "piece"]},
                "runs": _list(_TEXT, minItems=2, maxItems=2, description="their tags"),
                "turn": {"enum": ["outside", "inside"], "description": "outside: round a corner of the tile"},
                "ring": _ref("ring"),
                "said": _TEXT | {"description": "why it is not as the trim's corner key says"},
            }
        ),
        "trim_piece": _object(
            {
                "run": _TEXT | {"description": "tag of its run"},
                "place": {"type": "integer", "minimum": 1},
                "number": _or_null(_TEXT) | {"description": "null for a whole piece"},
                "start": {"type": "number", "description": "from the start of its run, mm"},
                "length": _LENGTH | {"description": "long point to long point, mm"},
                "cut_ends": _list(_YES_NO, minItems=2, maxItems=2, description="whether start and end are cut"),
                "outer": _ref("ring"),
            }
        ),
        "sensitivity": _object(
            {
                "wall": _TEXT,
                "zone": _TEXT,
                "edge": _TEXT,
                "side": {"enum": ["bottom", "top", "left", "right"]},
                "drawn": _or_null(_LENGTH),
                "worst": _or_null(_LENGTH),
                "strip": _LENGTH,
                "reach": _LENGTH,
                "sliver": _YES_NO,
                "take_again": _list(_TEXT),
            }
        ),
        "quantity": _object(
            {
                "group": _TEXT,
                "item": _TEXT,
                "description": _TEXT,
                "amount": {"type": "number", "minimum": 0},
                "unit": _TEXT,
                "by_wall": {"type": "object", "additionalProperties": {"type": "number", "minimum": 0}},
                "assumptions": _list(_TEXT),
            }
        ),
        "finding": _object(
            {
                "rule": _TEXT,
                "level": {"enum": list(get_args(Level))},
                "where": _TEXT,
                "text": _TEXT,
                "source": _TEXT,
            }
        ),
    }  # fmt: skip


def plan_schema() -> Schema:
    """Return the schema of plan.json."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Plan of a tiling job: lengths in mm, each face in its own frame",
        **_object(
            {
                "format": {"const": FORMAT},
                "job": _object(
                    {
                        "title": _TEXT,
                        "number": _or_null(_TEXT),
                        "units": {"enum": ["in", "mm"]},
                        "step": _LENGTH,
                        "fingerprint": _TEXT,
                    }
                ),
                "walls": _list(_ref("wall"), minItems=1),
                "layout": _list(_ref("layout")),
                "sensitivity": _list(_ref("sensitivity")),
                "cutting": _list(_ref("cutting")),
                "trims": _list(_ref("trim")),
                "takeoff": _list(_ref("quantity")),
                "findings": _list(_ref("finding")),
            }
        ),
        "$defs": _definitions(),
    }
