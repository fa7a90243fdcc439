"""Sheets: one kind a file; a new kind is one class and one line in ``SHEETS``."""

from __future__ import annotations

from collections.abc import Collection

from elevation.drawing.marks import Page
from elevation.plan import Plan
from elevation.sheets import frame
from elevation.sheets.base import EDITIONS, Body, Content, Edition, Sheet
from elevation.sheets.choice import ChoiceSheet
from elevation.sheets.cover import Cover
from elevation.sheets.cuts import Cuts
from elevation.sheets.elevation_sheet import ElevationSheet
from elevation.sheets.niche import NicheSheet
from elevation.sheets.notes import Notes
from elevation.sheets.paper import PAPERS
from elevation.sheets.set_out import SetOut
from elevation.sheets.take_off import TakeOff
from elevation.sheets.templates import Templates

SHEETS: tuple[Sheet, ...] = (
    Cover(),
    ChoiceSheet(),
    ElevationSheet(),
    SetOut(),
    NicheSheet(),
    Cuts(),
    Templates(),
    TakeOff(),
    Notes(),
)


def compose_set(plan: Plan, edition: str, paper: str, only: Collection[str] = ()) -> tuple[Page, ...]:
    """Return every page of the set for an edition on a paper, framed and numbered.

    Args:
        plan: The job, worked out.
        edition: Reader of the set, or ``all``.
        paper: Paper of the set.
        only: Kinds to draw; all of the edition when empty.

    Raises:
        ValueError: There is no such edition or paper.
    """
    return frame.compose_set(plan, edition, paper, [s for s in SHEETS if not only or s.kind in only])


__all__ = ["EDITIONS", "PAPERS", "SHEETS", "Body", "Content", "Edition", "Sheet", "compose_set"]
