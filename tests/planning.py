"""Every stage but the search, run in order: a job becomes a plan."""

from dataclasses import replace
from pathlib import Path

from elevation.checks import all_findings
from elevation.cutting import cut_job
from elevation.cutting.trims import cut_trims
from elevation.layout import lay_out
from elevation.pieces import edge_runs, make_pieces
from elevation.plan import Plan
from elevation.takeoff import take_off
from elevation.wall import build_faces
from tests.strategies import job_of

EXAMPLES = sorted((Path(__file__).parent.parent / "examples").glob("*.toml"))


def plan_of(job, *, findings=True):
    """Return the plan of a job, or of a dict that makes one."""
    job = job_of(job) if isinstance(job, dict) else job
    laid = lay_out(job, build_faces(job))
    zones = make_pieces(job, laid)
    runs = edge_runs(laid)
    cutting = cut_job(job, laid, zones)
    sticks = cut_trims(job, laid, zones)
    quantities = take_off(job, laid, zones, runs, cutting, sticks)
    plan = Plan(job, "job.toml", "0123abcd", laid, zones, runs, cutting, sticks, quantities)
    return replace(plan, findings=all_findings(plan)) if findings else plan
