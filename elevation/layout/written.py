"""A start as a setter would write it: a joint midway, a whole tile at the front, a course on the sill."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from elevation.job.models import Job
from elevation.layout.edges import tightest
from elevation.layout.groups import lattice_of
from elevation.layout.regions import zone_regions
from elevation.layout.start import Site, resolve
from elevation.patterns import At, ByDatum, ByWall, Start
from elevation.wall import Face

_SAME = 1e-4
_ACROSS: tuple[Literal["joint", "tile", "left", "right"], ...] = ("joint", "tile", "left", "right")
_UP: tuple[Literal["bottom", "top"], ...] = ("bottom", "top")
Across = Literal["joint", "tile", "left", "right"] | float | At
Up = Literal["bottom", "top"] | float | ByDatum | ByWall | At


def in_words(job: Job, faces: tuple[Face, ...], walls: frozenset[str]) -> Job:
    """Return the job with the starts of some walls in words, wherever a word says the same to 0.0001 mm.

    Args:
        job: The job; the starts of ``walls`` are lengths, courses from the datum, the lower side or another wall.
        faces: Its faces.
        walls: Ids of the walls whose starts were found by the search.
    """
    changed = []
    for wall in job.wall:
        start = wall.layout.start
        if wall.id in walls and isinstance(start, Start):
            site = _site(job, next(f for f in faces if f.id == wall.id))
            said = Start(x=_word_across(start, site), y=_word_up(start, site))
            changed.append(wall.model_copy(update={"layout": wall.layout.model_copy(update={"start": said})}))
        else:
            changed.append(wall)
    return job.model_copy(update={"wall": changed})


def _site(job: Job, face: Face) -> Site:
    joints = [z.joint[0] for z in face.zones]
    edges = tightest(face)
    region = zone_regions(face, edges, joints)[0]
    return Site(face, face.zones[0], edges, lattice_of(job, face.zones[0]), joints[0], region)


def _carried(site: Site) -> list[tuple[str, bool]]:
    """Return niches and openings by id, and whether it is a niche."""
    return [(c.id, c.kind == "niche") for c in site.face.cutouts if c.kind in ("niche", "opening")]


def _words_up(site: Site) -> Iterator[Literal["bottom", "top"] | At]:
    yield from _UP
    for name, is_niche in _carried(site):
        yield At(on=name, at="sill" if is_niche else "bottom")
        yield At(on=name, at="head" if is_niche else "top")


def _word_up(start: Start, site: Site) -> Up:
    """Return the word for the courses; where joints are shifted it must mean the very same course."""
    if isinstance(start.y, ByWall):
        return start.y
    own = resolve(start.model_copy(update={"x": 0.0}), site, {})[1]
    rise, lean = site.lattice.b[1], site.lattice.b[0] / site.lattice.a[0]
    for word in _words_up(site):
        k = (resolve(Start(x=0.0, y=word), site, {})[1] - own) / rise
        if abs(k - round(k)) * rise <= _SAME and abs(round(k) * lean - round(round(k) * lean)) < 1e-9:
            return word
    return start.y


def _words_across(site: Site) -> Iterator[Literal["joint", "tile", "left", "right"] | At]:
    yield from _ACROSS
    for name, _ in _carried(site):
        for word in _ACROSS:
            yield At(on=name, at=word)


def _word_across(start: Start, site: Site) -> Across:
    """Return the word for the place across, whole modules aside."""
    x, _ = resolve(start.model_copy(update={"y": 0.0}), site, {})
    pitch = site.lattice.a[0]
    for word in _words_across(site):
        k = (resolve(Start(x=word, y=0.0), site, {})[0] - x) / pitch
        if abs(k - round(k)) * pitch <= _SAME:
            return word
    return start.x
