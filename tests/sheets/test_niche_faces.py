"""The faces of a recess laid open: each on its side of the back, level with it, to scale; and what is said of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from elevation.drawing.marks import Line, Text, walk
from elevation.pipeline import read, work_out
from elevation.sheets import compose_set
from elevation.sheets.base import Body
from elevation.sheets.niche_faces import unfolded
from elevation.wall import recess_of
from tests.planning import plan_of
from tests.strategies import job_data, wall

# the sill rises 24 * 127 / 304.8 = 10
NICHE = {"id": "n", "x": 400, "y": 900, "width": 600, "height": 300, "depth": 127, "pitch": 24}
WINDOW = {"id": "w", "kind": "window", "x": 400, "y": 900, "width": 600, "height": 300, "depth": 127, "pitch": 24}
BODY = Body(0.0, 0.0, 350.0, 250.0, "mm", "installer", 1.0)


def laid_open(**features):
    plan = plan_of(job_data(wall(**features)))
    found = plan.job.wall[0]
    recess = recess_of((found.niche or found.opening)[0], plan.faces[0].face)
    faces = [f for f in plan.faces if f.face.of]
    return [f.face.kind for f in faces], unfolded(plan, recess, faces, BODY, 10, numbered=False)


@pytest.mark.parametrize("features", [{"niche": [NICHE]}, {"opening": [WINDOW]}])
def test_faces_stand_round_the_back_on_their_own_sides(features):
    _, drawn = laid_open(**features)
    by_size = {}
    for d in drawn[1:]:
        xs, ys = [p[0] for p in d.ring], [p[1] for p in d.ring]
        by_size.setdefault(
            (round((max(xs) - min(xs)) * 10), round((max(ys) - min(ys)) * 10)), []
        ).append((min(xs), min(ys), max(xs), max(ys)))  # fmt: skip
    # back 600 x 290, sill 600 x 127.393 true, head 600 x 127, jambs 127 x 300
    (back,), (sill, head), (left, right) = by_size[600, 290], by_size[600, 127], by_size[127, 300]
    assert (back[0], back[2]) == (sill[0], sill[2]) == (head[0], head[2])
    assert sill[3] < back[1] < back[3] < head[1]
    assert left[2] < back[0] < back[2] < right[0]
    # a jamb is lowest at the front, 10 under the back's lower edge, and ends level with its upper one
    for jamb in (left, right):
        assert jamb[1] == pytest.approx(back[1] - 1.0)
        assert jamb[3] == pytest.approx(back[3])


def test_lines_lead_from_the_backs_corners_to_the_same_corners():
    kinds, (folds, *drawn) = laid_open(niche=[NICHE])
    assert kinds == ["back", "sill", "head", "left", "right"]
    lines = [m.points for m in folds.marks if isinstance(m, Line)]
    assert len(lines) == 2 * 4
    corners = set(drawn[0].ring)
    assert all(a in corners for a, _ in lines)
    # square to the back: corners of the same height, or under each other
    assert all(a[0] == pytest.approx(b[0]) or a[1] == pytest.approx(b[1]) for a, b in lines)


def words(what="niche", trim=None, **feature):
    data = job_data(wall(**{what: [feature]}), **({"trim": {"e": trim}} if trim else {}))
    pages = compose_set(plan_of(data), "installer", "a3", ["niche"])
    return " ".join(m.text for page in pages for m in walk(page.marks) if isinstance(m, Text))


def test_each_face_says_how_it_ends_at_the_front():
    assert "Front: behind the wall's tile, joint 2." in words(**NICHE)
    assert "Front: runs out over the wall's tile; its edge shows." in words(**{**NICHE, "lap": "return"})
    edges = {"edges": {"sill": {"trim": "e"}}}
    assert "Front: mitre e, joint 2 to the corner." in words(trim={"kind": "mitre", "joint": 2}, **NICHE, **edges)
    cap = {"kind": "bullnose", "face": 50, "joint": 2}
    assert "Front: bullnose e, joint 2 behind it and the wall's tile." in words(trim=cap, **NICHE, **edges)


def test_returns_say_the_joint_at_the_frame_and_show_it():
    said = words("opening", **WINDOW, edges={"bottom": {"meets": "frame", "joint": 5}})
    assert "Soft joint 5: at the frame." in said
    assert "window frame" in said
    assert "Looking into the window" in said


def test_a_small_paper_gives_the_drawing_a_page_of_its_own():
    plan = plan_of(job_data(wall(niche=[NICHE])))
    first, *others = compose_set(plan, "installer", "a4", ["niche"])
    drawn = [m.text for m in walk(first.marks) if isinstance(m, Text)]
    assert {"Back", "Sill", "Head", "Left jamb", "Right jamb"} <= set(drawn)
    assert "Framing card" not in drawn
    assert "Framing card" in [m.text for page in others for m in walk(page.marks) if isinstance(m, Text)]


def test_where_the_words_of_several_pages_stand_together_the_legend_stands_once():
    plan = work_out(read(Path(__file__).parents[2] / "examples" / "shower-niche.toml"))
    pages = compose_set(plan, "installer", "letter", ["niche"])
    words = [m.text for page in pages for m in walk(page.marks) if isinstance(m, Text)]
    assert len(pages) > 2  # back, sill and head on one, the jambs on another
    assert words.count("Legend") == 1
