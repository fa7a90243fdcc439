"""Tiles on an elevation: a whole tile looks like its neighbours."""

from dataclasses import replace

from elevation.drawing.marks import Area, Segments, walk
from elevation.drawing.view import View
from elevation.sheets.wall_tiles import tile_marks
from tests.builders import job_data, pieces_of, wall_data


def test_a_whole_tile_that_lacks_a_hair_at_a_corner_is_drawn_with_the_lines_of_its_row():
    pieces = list(pieces_of(job_data(wall_data(width=1000, height=500)))[0].pieces)
    n = next(i for i, p in enumerate(pieces) if p.is_whole and p.course == 2)
    (x0, y0), (x1, _), (_, y1), _ = pieces[n].outer
    view = View(16, (0.0, 0.0), (0.0, 0.0), "in")

    def drawn():
        marks = list(walk(tile_marks(pieces, 2.0, view, "mm", lambda p: ("", ""))))
        outlined = [m for m in marks if isinstance(m, Area) and m.pen == "whole"]
        lines = [m.segments for m in marks if isinstance(m, Segments) and m.pen == "whole"]
        return outlined, lines

    outlined, lines = drawn()
    assert not outlined
    # a corner of a niche stands 0.02 mm in: less than the tolerance, so the tile is whole, but no rectangle
    hair = 0.02
    pieces[n] = replace(
        pieces[n], outer=((x0, y0), (x1, y0), (x1, y1 - hair), (x1 - hair, y1 - hair), (x1 - hair, y1), (x0, y1))
    )
    assert pieces[n].is_whole
    assert drawn() == ([], lines)
