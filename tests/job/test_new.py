"""A new job file: whatever is answered, it is read as answered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevation.job import read_text
from elevation.job.new import UNITS, WALLS, answer_fault, questions, wall_questions, write_job


@pytest.mark.parametrize(("units", "mm"), [("in", 60 * 25.4), ("mm", 1500.0)])
@pytest.mark.parametrize("walls", [1, 3, 30])
def test_the_defaults_make_a_job(units, mm, walls):
    text = write_job({"units": units, "walls": str(walls)})
    job = read_text(text, "new.toml").job
    assert job.units == units
    assert len(job.wall) == walls
    assert {wall.width for wall in job.wall} == {mm}
    assert len({wall.id for wall in job.wall}) == walls
    assert all(len(line) <= 119 for line in text.split("\n"))


@given(st.text(max_size=60), st.sampled_from(["in", "mm"]))
def test_any_text_is_taken_as_it_is_or_refused_with_a_reason(title, units):
    question = questions(units)[0]
    fault = answer_fault(question, title, units)
    if fault:
        with pytest.raises(ValueError, match=r"^title "):
            write_job({"units": units, "title": title})
    else:
        job = read_text(write_job({"units": units, "title": title}), "new.toml").job
        assert job.title == (title.strip() or question.default)


@given(st.integers(1, 500), st.sampled_from(["in", "mm"]))
def test_lengths_are_read_as_answered(sixteenths, units):
    text = f"{sixteenths // 16 + 10} {sixteenths % 16}/16"
    job = read_text(write_job({"units": units, "wall.1.width": text}), "new.toml").job
    assert job.wall[0].width == pytest.approx((sixteenths / 16 + 10) * (25.4 if units == "in" else 1))


@pytest.mark.parametrize(
    ("key", "answer", "says"),
    [
        ("tile.edge", "presed", 'did you mean "pressed"?'),
        ("tile.box", "0", "1 or more"),
        ("tile.sampled", "-1", "0 or more"),
        ("sliver", "0", "more than 0"),
        ("joint", "-1", "0 or more"),
        ("sliver", "wide", "is not a length"),
        ("title", "a\tb", "control character"),
        ("units", "cm", 'is not "in" or "mm"'),
    ],
)
def test_a_wrong_answer_is_told_in_words(key, answer, says):
    question = next(q for q in (UNITS, *questions("in")) if q.key == key)
    assert says in answer_fault(question, answer, "in")
    assert answer_fault(question, "", "in") == ""


def test_every_default_is_a_good_answer():
    for units in ("in", "mm"):
        for question in (UNITS, WALLS, *questions(units, 27)):
            assert answer_fault(question, question.default, units) == "", question.key
    assert wall_questions("in", 27)[0].default == "AA"
    assert answer_fault(wall_questions("in", 1)[0], "B2", "in")
