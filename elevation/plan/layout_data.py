"""How every start came about, as plan.json has it under ``layout``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from elevation.cutting import CuttingPlan, cut_job
from elevation.job.models import Job
from elevation.layout import RoomChoice, lay_out
from elevation.layout.terms import Terms
from elevation.pieces import ZonePieces, make_pieces
from elevation.wall import build_faces

Place = tuple[str, str]


def layout_data(
    choice: RoomChoice, zones: Sequence[ZonePieces], cutting: Sequence[CuttingPlan]
) -> list[dict[str, Any]]:
    """Return one entry for every zone of every face.

    ``chosen`` has every term by its name; ``cuts`` and ``tiles`` are counted on the pieces and the cutting plan. A
    tile that serves several zones is counted for the zone of its first piece, so that the zones add up to the whole.
    ``wall`` is the face's id: ``B``, or ``B.n1.back``.

    Args:
        choice: What the layout stage decided.
        zones: The pieces of the layout taken.
        cutting: How they are cut from tiles.
    """
    counts = counts_by_zone(zones, cutting)
    first = choice.candidates[0].number if choice.candidates else 0
    out = []
    for zone in choice.zones:
        cuts, tiles = counts.get((zone.wall, zone.zone), (None, None))
        chosen = {**_terms(zone.chosen), "cuts": cuts, "tiles": tiles}
        out.append(
            {
                "wall": zone.wall, "zone": zone.zone, "chosen": chosen,
                "candidates": [
                    {"number": n, "words": words, "taken": n == first, "terms": _terms(terms)}
                    for n, words, terms in zone.candidates
                ],
                "examined": zone.examined, "proved": zone.proved, "bound": zone.bound,
            }
        )  # fmt: skip
    return out


def count_tiles(job: Job) -> Mapping[Place, tuple[int, int]]:
    """Return pieces to cut and tiles used, by face and zone, of a job with nothing left to choose: for finalists."""
    laid = lay_out(job, build_faces(job))
    zones = make_pieces(job, laid)
    return counts_by_zone(zones, cut_job(job, laid, zones))


def counts_by_zone(zones: Sequence[ZonePieces], cutting: Sequence[CuttingPlan]) -> Mapping[Place, tuple[int, int]]:
    """Return pieces to cut and tiles used, by face and zone."""
    of = {p.id: (z.face, z.zone) for z in zones for p in z.pieces}
    cuts = {(z.face, z.zone): sum(not p.is_whole for p in z.pieces) for z in zones}
    tiles = {(z.face, z.zone): sum(p.is_whole for p in z.pieces) for z in zones}
    for plan in cutting:
        for tile in plan.plan:
            tiles[of[tile.pieces[0]]] += 1
    return {place: (cuts[place], tiles[place]) for place in cuts}


def _terms(terms: Terms) -> dict[str, float | int | None]:
    """Return terms by name, lengths and shares rounded as all of plan.json is."""
    return {k: round(v, 4) + 0.0 if isinstance(v, float) else v for k, v in terms.by_name().items()}
