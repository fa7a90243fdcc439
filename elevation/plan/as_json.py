"""The plan as plan.json: mm with four decimals, rings closed, outer rings counter-clockwise."""

from __future__ import annotations

from typing import Any

from elevation.cutting import CuttingPlan
from elevation.errors import Finding
from elevation.geom import Region, clean_ring, parts, polygon, rings_of
from elevation.layout import LaidFace
from elevation.layout.sensitivity import EdgeSensitivity
from elevation.pieces import EdgeRun, Piece
from elevation.pieces.hole_centres import HoleCentre
from elevation.plan.layout_data import layout_data
from elevation.plan.model import Plan
from elevation.plan.rounded import mm as _mm
from elevation.plan.rounded import point as _point
from elevation.plan.rounded import ring as _ring
from elevation.plan.trim_data import trim_data
from elevation.takeoff import Quantity

FORMAT = "elevation-plan/1"

Json = dict[str, Any]


def plan_data(plan: Plan) -> Json:
    """Return the plan as plan.json holds it, keys in a fixed order.

    Lengths are in mm and areas in mm², each face in its own frame. ``wall_area`` is the area inside the outline of the
    wall as found, openings not taken off; ``tiled_area`` is the sum of the regions of the zones of all its faces,
    those of its niches too, joints between tiles included, as in the take-off.
    """
    job = plan.job
    return {
        "format": FORMAT,
        "job": {
            "title": job.title,
            "number": job.number,
            "units": job.units,
            "step": _mm(job.step),
            "fingerprint": plan.fingerprint,
        },
        "walls": [_wall(plan, wall) for wall in plan.walls],
        "layout": layout_data(plan.choice, plan.zones, plan.cutting)
        if plan.choice is not None
        else [_layout(face, zone.place.id) for face in plan.faces for zone in face.zones],
        "sensitivity": [_sensitivity(e) for e in plan.sensitivity],
        "cutting": [_cutting(c) for c in plan.cutting],
        "trims": [trim_data(plan.job.trim[t.trim], t, plan.trim_tags) for t in plan.trims],
        "takeoff": [quantity_data(q) for q in plan.takeoff],
        "findings": [finding_data(f) for f in plan.findings],
    }


def quantity_data(quantity: Quantity) -> Json:
    """Return a line of the take-off; its units are those of the job file, not mm."""
    return {
        "group": quantity.group,
        "item": quantity.item,
        "description": quantity.description,
        "amount": quantity.amount,
        "unit": quantity.unit,
        "by_wall": dict(quantity.by_wall),
        "assumptions": list(quantity.assumptions),
    }


def finding_data(finding: Finding) -> Json:
    """Return a finding."""
    return {
        "rule": finding.rule,
        "level": finding.level,
        "where": finding.where,
        "text": finding.text,
        "source": finding.source,
    }


def _region(region: Region) -> list[Json]:
    out = []
    for part in parts(region):
        outer, holes = rings_of(part)
        out.append({"outer": _ring(outer), "holes": [_ring(h) for h in holes]})
    return out


def _wall(plan: Plan, wall: LaidFace) -> Json:
    face = wall.face
    faces = plan.faces_of(face.id)
    return {
        "id": face.id,
        "title": face.title,
        "outline": _ring(clean_ring(face.outline.ring)),
        "datum": {"x": _mm(face.datum[0]), "y": _mm(face.datum[1])},
        "wall_area": _mm(polygon(face.outline.ring).area),
        "tiled_area": _mm(sum(z.region.area for f in faces for z in f.zones)),
        "faces": [_face(plan, f) for f in faces],
        "edges": [_edge(r) for f in faces for r in plan.runs if r.face == f.face.id],
        "holes": [_hole(h) for h in plan.hole_centres if h.face == face.id],
    }


def _hole(hole: HoleCentre) -> Json:
    """Return the centre of a hole: on the face, from the wall, and from two sides of every piece it is cut in."""
    return {
        "id": hole.id,
        "centre": _point(hole.centre),
        "size": [_mm(v) for v in (hole.size if isinstance(hole.size, tuple) else (hole.size,))],
        "from_left": _mm(hole.from_left),
        "above_datum": _mm(hole.above),
        "pieces": [
            {
                "piece": p.piece.id,
                "number": p.piece.number,
                "from": [{"side": e.side, "distance": _mm(e.mm), "factory": e.from_factory} for e in (p.across, p.up)],
            }
            for p in hole.pieces
        ],
    }


def _face(plan: Plan, laid: LaidFace) -> Json:
    face = laid.face
    zones = []
    for zone in laid.zones:
        found = next(z for z in plan.zones if (z.face, z.zone) == (face.id, zone.place.id))
        zones.append(
            {
                "id": zone.place.id,
                "tile": zone.place.tile,
                "pattern": zone.place.pattern.pattern,
                "joint": _mm(zone.joint),
                "origin": _point(zone.origin),
                "region": _region(zone.region),
                "pieces": [_piece(p, plan.mitred.get(p.id, ())) for p in found.pieces],
            }
        )
    return {
        "id": face.id,
        "kind": face.kind,
        "title": face.title,
        "outline": _ring(clean_ring(face.outline.ring)),
        "at": _point(face.at),
        "zones": zones,
    }


def _piece(piece: Piece, mitred: tuple[str, ...]) -> Json:
    outer = _ring(piece.outer)
    found: Json = {
        "id": piece.id,
        "number": piece.number,
        "course": piece.course,
        "place": piece.place,
        "part": piece.part,
        "kind": piece.kind,
        "outer": outer,
        "holes": [_ring(h) for h in piece.holes],
        "slot": outer if piece.slot == piece.outer else _ring(piece.slot),
        "width": _mm(piece.width),
        "height": _mm(piece.height),
        "area": _mm(piece.area),
        "shown": [_mm(piece.shown[0]), _mm(piece.shown[1])],
        "factory_edges": list(piece.factory_edges),
        "order": piece.order,
    }
    if mitred:
        found["mitred"] = list(mitred)
    return found


def _edge(run: EdgeRun) -> Json:
    return {
        "face": run.face,
        "of": run.of or None,
        "side": run.side,
        "kind": run.kind,
        "meets": run.meets,
        "trim": run.trim,
        "length": _mm(run.length),
        "gap": [_mm(run.gap[0]), _mm(run.gap[1])],
    }


def _layout(laid: LaidFace, zone: str) -> Json:
    """Return what was chosen for a zone: the one start that its layout table, or the usual rule, comes to."""
    origin = laid.zone(zone).origin
    return {
        "wall": laid.face.wall,
        "face": laid.face.id,
        "zone": zone,
        "chosen": {"x": _mm(origin[0]), "y": _mm(origin[1])},
        "candidates": [],
        "examined": 1,
        "proved": False,
    }


def _sensitivity(edge: EdgeSensitivity) -> Json:
    """Return what the tape does to an edge: its smallest cut as drawn and at worst, null where nothing is cut."""
    return {
        "wall": edge.wall,
        "zone": edge.zone,
        "edge": edge.edge,
        "side": edge.side,
        "drawn": None if edge.drawn is None else _mm(edge.drawn),
        "worst": None if edge.worst is None else _mm(edge.worst),
        "strip": _mm(edge.strip),
        "reach": _mm(edge.reach),
        "sliver": edge.is_sliver,
        "take_again": [r.key for r in edge.again],
    }


def _cutting(plan: CuttingPlan) -> Json:
    return {
        "tile": plan.tile,
        "pieces": plan.pieces,
        "whole": plan.whole,
        "cut": plan.cut,
        "tiles": plan.tiles,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "boxes": plan.boxes,
        "without_reuse": plan.without_reuse,
        "plan": [
            {
                "tile_no": cut.tile_no,
                "pieces": list(cut.pieces),
                "placements": [
                    {
                        "piece": p.piece,
                        "x": _mm(p.x),
                        "y": _mm(p.y),
                        "w": _mm(p.w),
                        "h": _mm(p.h),
                        "turn": p.turn,
                    }
                    for p in cut.placements
                ],
            }
            for cut in plan.plan
        ],
    }
