"""Models of the job file: lengths in the file's unit, strict, frozen, no key that is not theirs."""

from typing import Annotated

import pytest
from pydantic import Field, ValidationError

from elevation.spec import Gap, Length, Range, Reading, Share, Signed, Span, Spec, by_units


class Sample(Spec):
    """A table with one key of each kind."""

    length: Length = "1"
    gap: Gap = "1"
    signed: Signed = "1"
    range: Range = "1"
    span: Span = ("1", "1")
    reading: Reading = ("1", "1")
    share: Annotated[Share, Field(ge=0, lt=1)] = 0.5
    usual: Length = by_units("1/4", "6")


def read(units="in", **keys):
    return Sample.model_validate(keys, context={"units": units})


@pytest.mark.parametrize(
    ("key", "value", "mm"),
    [
        ("length", "1 1/2", 38.1),
        ("length", 2, 50.8),
        ("length", 0.5, 12.7),
        ("length", "10 mm", 10.0),
        ("gap", 0, 0.0),
        ("signed", "-1/2", -12.7),
        ("range", "1/8", (3.175, 3.175)),
        ("range", ["1/8", "1/4"], (3.175, 6.35)),
        ("range", [0, 1], (0.0, 25.4)),
        ("span", ["-2", "2"], (-50.8, 50.8)),
        ("reading", ["60 1/4", "36"], (1530.35, 914.4)),
        ("share", "1/4", 0.25),
        ("share", 0.25, 0.25),
        ("share", 0, 0.0),
    ],
)
def test_a_key_is_read_in_the_files_unit(key, value, mm):
    assert getattr(read(**{key: value}), key) == pytest.approx(mm, abs=1e-12)


def test_a_default_may_hang_on_the_unit():
    assert read("in").usual == 6.35
    assert read("mm").usual == 6.0
    assert read("mm").length == 1.0


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("length", 0, "more than 0"),
        ("length", "-1", "more than 0"),
        ("length", True, "is not a length"),
        ("length", float("nan"), "measured"),
        ("gap", "-1/8", "0 or more"),
        ("range", ["1/4", "1/8"], "backwards"),
        ("range", ["1", "2", "3"], "list of 3"),
        ("range", [], "list of 0"),
        ("range", "-1", "0 or more"),
        ("range", [["1"], "2"], "is not a length"),
        ("span", ["2", "-2"], "backwards"),
        ("span", "2", "two lengths"),
        ("reading", ["1"], "two lengths"),
        ("reading", {"x": 1}, "two lengths"),
        ("share", "third", "share"),
        ("share", "1/0", "share"),
        ("share", True, "share"),
        ("share", "1e99999999", "share"),
        ("share", [1], "share"),
        ("share", float("inf"), "share"),
        ("share", "3/2", "less than 1"),
        ("share", "-1/3", "greater than or equal to 0"),
    ],
)
def test_what_does_not_do_is_refused(key, value, says):
    with pytest.raises(ValidationError, match=says):
        read(**{key: value})


def test_models_are_strict_and_frozen():
    with pytest.raises(ValidationError, match="not permitted"):
        read(lenght="1")
    with pytest.raises(ValidationError, match="frozen"):
        read().length = 3.0
