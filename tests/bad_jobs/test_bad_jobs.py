"""One wrong job file and its exact message per case; the message must teach the person who reads it."""

import re
from pathlib import Path

import pytest

from elevation.errors import JobError
from elevation.job import read_text
from elevation.pipeline import work_out

HERE = Path(__file__).parent
CASES = sorted(HERE.glob("*.toml"))
JARGON = re.compile(
    r"pydantic|validat|[Uu]nion\b|literal|discriminator|\bdict|tuple|\bNone\b|instance of|\bstr\b|\bint\b|\bfloat\b|"
    r"Input|Extra|permitted|Field|Traceback|running-bond\.|stacked\.|Value error|does not do here"
)


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.stem)
def test_the_message_is_the_one_agreed_on(case, refresh):
    with pytest.raises(JobError) as caught:
        # what only the later stages can tell is told with its line too
        work_out(read_text(case.read_text(encoding="utf-8"), case.name))
    said = f"{caught.value}\n"
    expected = case.with_suffix(".txt")
    if refresh:
        expected.write_text(said, encoding="utf-8")
    assert said == expected.read_text(encoding="utf-8")
    assert caught.value.exit_code == 2


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.stem)
def test_every_line_names_file_and_line_in_plain_words(case):
    for line in case.with_suffix(".txt").read_text(encoding="utf-8").splitlines():
        assert line.startswith(f"{case.name}:"), line
        assert len(line) < 300, line
        written = re.sub(r'"[^"]*"', "", line)
        assert not JARGON.search(written), line


def test_no_message_stands_without_its_file():
    assert {c.stem for c in CASES} == {t.stem for t in HERE.glob("*.txt")}
    assert len(CASES) >= 45
