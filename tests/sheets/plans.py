"""Whole plans for tests of sheets, and what can be read back from their pages."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from elevation.cutting import cut_job
from elevation.cutting.trims import cut_trims
from elevation.drawing.marks import Group, Mark, Page, Text, walk
from elevation.errors import Finding
from elevation.fonts import text_width
from elevation.job.models import Job
from elevation.layout import lay_out
from elevation.pieces import edge_runs, make_pieces
from elevation.plan import Plan
from elevation.sheets import frame
from elevation.sheets.base import Sheet
from elevation.sheets.cover import Cover
from elevation.sheets.cuts import Cuts
from elevation.sheets.niche import NicheSheet
from elevation.sheets.notes import Notes
from elevation.sheets.take_off import TakeOff
from elevation.sheets.templates import Templates
from elevation.takeoff import take_off
from elevation.wall import build_faces

SHEETS: tuple[Sheet, ...] = (Cover(), NicheSheet(), Cuts(), Templates(), TakeOff(), Notes())


def plan_of(data: dict[str, Any], findings: Sequence[Finding] = ()) -> Plan:
    """Return the plan of a job's data, with cutting, trims and take-off."""
    job = Job.model_validate(data, context={"units": data["units"]})
    laid = lay_out(job, build_faces(job))
    zones, runs = make_pieces(job, laid), edge_runs(laid)
    cutting = cut_job(job, laid, zones)
    trims = cut_trims(job, laid, zones)
    quantities = take_off(job, laid, zones, runs, cutting, trims)
    return Plan(job, "job.toml", "1a2b3c4d", laid, zones, runs, cutting, trims, quantities, tuple(findings))


def pages_of(plan: Plan, paper: str, edition: str = "installer", kinds: Sequence[str] = ()) -> tuple[Page, ...]:
    """Return framed pages of the sheets under test."""
    return frame.compose_set(plan, edition, paper, [s for s in SHEETS if not kinds or s.kind in kinds])


@dataclass(frozen=True)
class TextBox:
    """What a text covers on the paper, capitals only, mm."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float


def texts(page: Page) -> Iterator[Text]:
    """Yield every text of a page."""
    return (m for m in walk(page.marks) if isinstance(m, Text))


def boxes(page: Page) -> list[TextBox]:
    """Return the boxes of the texts of a page."""
    found = []
    for t in texts(page):
        wide = text_width(t.text, t.height, t.weight)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[t.anchor]
        corners = [(left, 0.0), (left + wide, 0.0), (left + wide, t.height), (left, t.height)]
        a = math.radians(t.angle)
        turned = [(x * math.cos(a) - y * math.sin(a), x * math.sin(a) + y * math.cos(a)) for x, y in corners]
        xs, ys = [t.at[0] + x for x, _ in turned], [t.at[1] + y for _, y in turned]
        found.append(TextBox(t.text, min(xs), min(ys), max(xs), max(ys)))
    return found


def overlaps(page: Page, by: float = 0.15) -> list[tuple[str, str]]:
    """Return pairs of texts that cover one another by more than ``by`` mm both ways."""
    found = sorted(boxes(page), key=lambda b: b.x0)
    pairs = []
    for i, a in enumerate(found):
        for b in found[i + 1 :]:
            if b.x0 > a.x1 - by:
                break
            if min(a.x1, b.x1) - b.x0 > by and min(a.y1, b.y1) - max(a.y0, b.y0) > by:
                pairs.append((a.text, b.text))
    return pairs


def said(page: Page) -> str:
    """Return all words of a page, line after line, single spaced."""
    return " ".join(" ".join(t.text for t in texts(page)).split())


def groups(marks: tuple[Mark, ...], name: str) -> Iterator[Group]:
    """Yield groups of a class."""
    return (m for m in walk(marks) if isinstance(m, Group) and m.classes == name)
