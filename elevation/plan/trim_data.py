"""A trim as plan.json has it: its runs with their end cuts, its corners, its pieces, the sticks they are cut from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from elevation.cutting.trims import LongRun, TrimPlan, TrimRun
from elevation.geom import clean_ring
from elevation.job.models import Trim
from elevation.plan.rounded import mm, point, ring

Json = dict[str, Any]


def trim_data(trim: Trim, plan: TrimPlan, tags: Mapping[str, str]) -> Json:
    """Return a trim; ``sticks`` counts the pieces to buy where it is sold by the piece.

    Args:
        trim: The trim of the job file.
        plan: How it is cut.
        tags: The tag of every run of the job, by its id.
    """
    sticks = plan.sticks
    long = {r.run: r for r in plan.long}
    out: Json = {
        "trim": plan.trim,
        "kind": trim.kind,
        "corner": trim.corner,
        "length": mm(sum(r.length for r in plan.runs)),
        "runs": [_run(r, long.get(r.id), tags) for r in plan.runs],
        "corners": [
            {
                "face": c.face,
                "kind": c.kind,
                "runs": [tags[r] for r in c.runs],
                "turn": c.turn,
                "ring": ring(clean_ring(c.ring)),
                "said": c.said,
            }
            for c in plan.corners
        ],
        "corner_pieces": len(plan.corner_pieces),
        "pieces": [
            {
                "run": tags[p.run],
                "place": p.place,
                "number": p.number,
                "start": mm(p.start),
                "length": mm(p.length),
                "cut_ends": list(p.cut_ends),
                "outer": ring(clean_ring(p.ring)),
            }
            for p in plan.pieces
        ],
        "sticks": None,
        "lower_bound": None,
        "proved": None,
        "joints": [],
        "plan": [],
    }
    if sticks is not None:
        out |= {
            "sticks": sticks.sticks,
            "lower_bound": sticks.lower_bound,
            "proved": sticks.proved,
            "joints": [{"run": run, "joints": n} for run, n in sticks.joints],
            "plan": [
                {
                    "stick_no": stick.stick_no,
                    "lengths": [
                        {"run": n.run, "part": n.part, "start": mm(n.start), "length": mm(n.length)}
                        for n in stick.lengths
                    ],
                }
                for stick in sticks.plan
            ],
        }
    return out


def _run(run: TrimRun, long: LongRun | None, tags: Mapping[str, str]) -> Json:
    return {
        "id": run.id,
        "tag": run.tag,
        "face": run.face,
        "length": mm(run.length),
        "outer": [point(p) for p in run.outer_line],
        "ring": ring(run.ring) if len(set(run.ring)) > 2 and run.near != run.far else None,
        "ends": [
            {
                "at": at,
                "cut": end.kind,
                "angle": round(end.angle, 2),
                "long": end.long or None,
                "beside": tags[end.beside] if end.beside else None,
                "through": end.through,
            }
            for at, end in zip(run.end_names, run.ends, strict=True)
        ],
        "joints": [mm(j) for j in long.joints] if long is not None else [],
        "on_tile_joints": long.on_tile if long is not None else None,
    }
