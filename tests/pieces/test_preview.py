"""The outlines of a preview are those of the pieces that are counted and numbered."""

from collections import Counter

import pytest

from elevation.geom import clean_ring
from elevation.job.load import read_job
from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.pieces.preview import preview
from elevation.wall import build_faces
from tests.planning import EXAMPLES


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda p: p.stem)
def test_the_same_outlines_as_the_pieces(file):
    job = read_job(file).job
    laid = lay_out(job, build_faces(job))
    pieces = [p for zone in make_pieces(job, laid) for p in zone.pieces]
    for face in laid:
        found = preview(face)
        own = [p for p in pieces if p.face == face.face.id]
        assert Counter(map(clean_ring, found.whole)) == Counter(p.outer for p in own if p.is_whole)
        cuts = Counter((clean_ring(r[0]), *sorted(clean_ring(h, hole=True) for h in r[1:])) for r in found.cut)
        assert cuts == Counter((p.outer, *p.holes) for p in own if not p.is_whole)
