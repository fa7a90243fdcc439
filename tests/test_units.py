"""Lengths: what may be typed, what is printed, and chains that close."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevation.units import INCH, close_chain, format_length, parse_length, round_half_up, round_to

F = Fraction
SIXTEENTH = INCH / 16
STEPS_IN = [INCH / d for d in (2, 4, 8, 16, 32, 64)]
STEPS_MM = [F(1), F(1, 2), F(1, 10), F(5)]


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("60 3/8", F(483, 8)),
        ("60-3/8 in", F(483, 8)),
        ("5' 0 3/8\"", F(483, 8)),
        ("5'-0 3/8\"", F(483, 8)),
        (60.375, F(483, 8)),
        ("60.375", F(483, 8)),
        ('60 3/8"', F(483, 8)),
        ("60⅜", F(483, 8)),
        ("60 ⅜ in.", F(483, 8)),
        ("5′ 0⅜″", F(483, 8)),
        ("5’ 0 3/8”", F(483, 8)),
        ("5 ft 3/8 in", F(483, 8)),
        ("3/8", F(3, 8)),
        ("½", F(1, 2)),
        ("-36", -36),
        (" - 1/2 ", -F(1, 2)),
        ("-5' 6\"", -66),
        ("−2", -2),
        ("+2", 2),
        ("12'", 144),
        ("1 1/2'", 18),
        ("5.5 ft", 66),
        (".5", F(1, 2)),
        ("60.", 60),
        (7, 7),
        (0, 0),
        ("1 INCH", 1),
        ("3 3/8''", F(27, 8)),
    ],
)
def test_an_inch_file_reads(text, inches):
    assert parse_length(text, "in") == F(inches) * F("25.4")


@pytest.mark.parametrize(
    ("text", "mm"),
    [("1524 mm", 1524), ("152.4 cm", 1524), ("1.524 m", 1524), ("1524", 1524), (1524, 1524), (0.1, F(1, 10)),
     ("60 in", 1524), ("5'", 1524), ("5' 0\"", 1524), ("1/2", F(1, 2)), ("12.5MM", F(25, 2))],
)  # fmt: skip
def test_a_metric_file_reads(text, mm):
    assert parse_length(text, "mm") == mm


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is not a length"),
        ("abc", "is not a length"),
        ("60 3", "is not a length"),
        ("6 0 3/8", "is not a length"),
        ("60 3/8 furlong", "is not a length"),
        ("1e3", "is not a length"),
        ("--3", "is not a length"),
        ("3/8/2", "not a length"),
        ("60,5", "comma"),
        ("1/0", "over nothing"),
        ("60 8/8", "under 1"),
        (math.nan, "measured"),
        (math.inf, "measured"),
        (-math.inf, "measured"),
        (True, "is not a length"),
        (None, "is not a length"),
        ([1], "is not a length"),
        ("2 km", "is not a length"),
        ("1001 m", "kilometre"),
        (10**400, "kilometre"),
        (1e300, "kilometre"),
        ("9" * 61, "too long"),
        ("0x10", "is not a length"),
        ("nan", "is not a length"),
    ],
)
def test_what_is_no_length_is_refused_with_a_reason(text, says):
    with pytest.raises(ValueError, match=says):
        parse_length(text, "in")


@given(st.integers(-(10**6), 10**6), st.sampled_from(STEPS_IN), st.booleans())
def test_a_multiple_of_the_step_comes_back_exactly_in_inches(count, step, feet):
    value = count * step
    if abs(value) <= 1_000_000:
        assert parse_length(format_length(value, step, "in", feet=feet), "in") == value


@given(st.integers(-(10**5), 10**5), st.sampled_from(STEPS_MM))
def test_a_multiple_of_the_step_comes_back_exactly_in_millimetres(count, step):
    assert parse_length(format_length(count * step, step, "mm"), "mm") == count * step


@given(st.floats(-9e5, 9e5), st.sampled_from(STEPS_IN), st.booleans())
def test_what_is_printed_is_within_half_a_step(mm, step, feet):
    back = parse_length(format_length(mm, step, "in", feet=feet), "in")
    assert abs(back - F(mm)) <= step / 2 + F(1, 10**7)


@given(st.integers(0, 10**5), st.sampled_from((2, 4, 8, 16, 32, 64)))
def test_a_float_that_stands_for_half_a_step_rounds_up(count, parts):
    """127/160 mm has no exact float; half a sixteenth must round like the half that the user typed."""
    step = INCH / parts
    half = float((count + F(1, 2)) * step)
    assert round_to(half, float(step)) == (count + 1) * step


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        ("11.97", "1'-0\""),
        ("54.4375", "4'-6 7/16\""),
        ("0.0625", '1/16"'),
        ("144.5", "12'-0 1/2\""),
        ("12.0625", "1'-0 1/16\""),
        ("0.01", '0"'),
        ("2.999", '3"'),
        ("2", '2"'),
        ("-0.01", '0"'),
        ("-12.5", "-1'-0 1/2\""),
        ("6.25", '6 1/4"'),
        ("96", "8'-0\""),
    ],
)
def test_feet_and_inches_as_drafted(inches, text):
    assert format_length(F(inches) * INCH, SIXTEENTH, "in", feet=True) == text


@pytest.mark.parametrize(
    ("mm", "step", "text"),
    [(F("2.999") * INCH, SIXTEENTH, "3"), (2 * INCH, SIXTEENTH, "2"), (F("60.375") * INCH, SIXTEENTH, "60 3/8"),
     (INCH / 3, INCH / 3, "0.333"), (INCH, F(1), "0.984")],
)  # fmt: skip
def test_plain_inches(mm, step, text):
    assert format_length(mm, step, "in") == text


@pytest.mark.parametrize(
    ("mm", "step", "text"), [(156.5, 1, "157"), (156.49, 1, "156"), (10.26, 0.5, "10.5"), (-0.4, 1, "0")]
)
def test_millimetres(mm, step, text):
    assert format_length(mm, step, "mm") == text


@given(st.fractions(-100, 100))
def test_half_goes_up(value):
    assert round_half_up(value) - value <= F(1, 2)
    assert value - round_half_up(value) < F(1, 2)


CHAINS = st.lists(st.floats(0, 3000), min_size=1, max_size=20)


@given(CHAINS, st.sampled_from(STEPS_IN + STEPS_MM))
def test_a_chain_closes_and_no_part_moves_a_step(lengths, step):
    parts, total = close_chain(lengths, step)
    assert sum(parts) == total
    assert abs(total - sum(map(F, lengths))) <= step / 2 + F(len(lengths), 10**7)
    for part, length in zip(parts, lengths, strict=True):
        assert abs(part - F(length)) < step + F(1, 10**7)
        assert (part / step).denominator == 1


@given(CHAINS.filter(lambda c: len(c) > 1), st.sampled_from(STEPS_IN), st.data())
def test_the_soft_joint_takes_the_whole_remainder(lengths, step, data):
    soft = data.draw(st.integers(0, len(lengths) - 1))
    parts, total = close_chain(lengths, step, soft=soft)
    assert sum(parts) == total
    for i, (part, length) in enumerate(zip(parts, lengths, strict=True)):
        if i != soft:
            assert part == round_to(length, step)


def test_seven_equal_tiles_get_six_and_one():
    """7 x 12.073 in to 1/16: the sum is 84 1/2, one part is 12 1/8 and six are 12 1/16 (worked by hand)."""
    parts, total = close_chain([F("12.073") * INCH] * 7, SIXTEENTH)
    assert total == F(169, 2) * INCH
    assert sorted(p / INCH for p in parts) == [F(193, 16)] * 6 + [F(97, 8)]
