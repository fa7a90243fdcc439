"""Frame and numbering: sheets are composed, counted, and each gets its border and title block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from elevation.beside import beside
from elevation.drawing.marks import Area, Mark, Page
from elevation.plan import Plan
from elevation.sheets.base import EDITIONS, Body, Content, Edition, IndexLine, Sheet
from elevation.sheets.paper import PAPERS, Paper
from elevation.sheets.slim import SLIM_PAPERS, slim_frame
from elevation.sheets.title_block import title_block
from elevation.sheets.transform import enlarged

INSET = 5.0
"""Free space between the frame and what stands in it, mm."""


def compose_set(plan: Plan, edition: str, paper: str, sheets: Sequence[Sheet]) -> tuple[Page, ...]:
    """Return every page of a set, framed and numbered.

    Args:
        plan: The job, worked out.
        edition: ``installer``, ``homeowner``, ``permit``, ``bid``, or ``all``.
        paper: A name in ``paper.PAPERS``.
        sheets: The sheet kinds to draw, in order.

    Raises:
        ValueError: There is no such edition or paper.
    """
    if paper not in PAPERS:
        raise ValueError(f"there is no paper {paper!r}; there are {', '.join(PAPERS)}")
    on = PAPERS[paper]
    reader = _reader(edition)
    kinds = [s for s in sheets if edition == "all" or reader in s.editions]
    body = _body(plan, on, reader)
    pages = _composed([s for s in kinds if not s.needs_index], plan, body)
    # the number of index pages moves every number that the index prints: again until nothing moves, from a first
    # guess of one page each
    titles = {kind: [c.title for c in found] for kind, found in pages.items()}
    index = _index([(s.kind, t) for s in kinds for t in titles.get(s.kind, [s.kind.capitalize()])])
    for _ in range(5):
        for s in kinds:
            if s.needs_index:
                pages[s.kind] = tuple(s.compose(plan, _body(plan, on, reader, index)))
        found = _index([(s.kind, content.title) for s in kinds for content in pages[s.kind]])
        if found == index:
            break
        index = found
    ordered = [(s.kind, content) for s in kinds for content in pages[s.kind]]
    names = _unique([(kind, content.id) for kind, content in ordered])
    total = len(ordered)
    return tuple(
        _page(plan, on, reader, kind, name, content, (n, total))
        for n, ((kind, content), name) in enumerate(zip(ordered, names, strict=True), 1)
    )


def _composed(kinds: Sequence[Sheet], plan: Plan, body: Body) -> dict[str, tuple[Content, ...]]:
    """Return the pages of each kind; some are composed beside the others."""

    def compose(some: Sequence[Sheet]) -> dict[str, tuple[Content, ...]]:
        return {s.kind: tuple(s.compose(plan, body)) for s in some}

    here, aside = [s for s in kinds if not s.aside], [s for s in kinds if s.aside]
    if not here or not aside:
        return compose(kinds)
    plan.measures  # noqa: B018 - worked out once and kept, for both
    others = beside(lambda: compose(aside))
    return compose(here) | others()


def _reader(edition: str) -> Edition:
    if edition == "all":
        return "installer"
    for known in EDITIONS:
        if edition == known:
            return known
    raise ValueError(f"there is no edition {edition!r}; there are {', '.join(EDITIONS)} and all")


def _body(plan: Plan, paper: Paper, edition: Edition, index: tuple[IndexLine, ...] = ()) -> Body:
    width = paper.width - paper.left - paper.margin - paper.strip - 2 * INSET
    height = paper.height - 2 * paper.margin - 2 * INSET
    return Body(
        paper.left + INSET,
        paper.margin + INSET,
        width,
        height,
        plan.job.units,
        edition,
        plan.job.step,
        paper.words,
        index,
    )


def _index(sheets: Sequence[tuple[str, str]]) -> tuple[IndexLine, ...]:
    return tuple(IndexLine(n, kind, title) for n, (kind, title) in enumerate(sheets, 1))


def _unique(names: Sequence[tuple[str, str]]) -> list[str]:
    """Return ids made different within their kind by a running number."""
    seen: dict[tuple[str, str], int] = {}
    out = []
    for kind, name in names:
        count = seen[kind, name] = seen.get((kind, name), 0) + 1
        out.append(name if count == 1 else f"{name}-{count}")
    return out


def _page(
    plan: Plan, paper: Paper, edition: Edition, kind: str, name: str, content: Content, number: tuple[int, int]
) -> Page:
    if content.paper:
        size = SLIM_PAPERS[content.paper]
        slim = (*content.marks, *slim_frame(plan, content, number))
        return Page(kind, name, content.title, *size, slim, content.description, content.full_size)
    x0, y0 = paper.left, paper.margin
    x1, y1 = paper.width - paper.margin, paper.height - paper.margin
    border = Area((((x0, y0), (x1, y0), (x1, y1), (x0, y1)),), "frame")
    k = paper.words
    # composed on a smaller paper and enlarged; the scale bar must come out true
    ratio = None if content.scale_ratio is None else content.scale_ratio * k
    block = enlarged(title_block(plan, paper.reduced(), edition, replace(content, scale_ratio=ratio), number), k)
    marks: tuple[Mark, ...] = (*content.marks, border, *block)
    return Page(kind, name, content.title, paper.width, paper.height, marks, content.description, content.full_size)
