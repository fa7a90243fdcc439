"""Tables as another program reads them back: RFC 4180, UTF-8, nothing that a spreadsheet would run."""

import csv
import io
import json

import pytest

from elevation.output.tables import cuts_csv, findings_csv, plan_json, safe_cell, takeoff_csv
from tests.planning import plan_of
from tests.strategies import job_data, tile, wall

NASTY = '=HYPERLINK("http://example.invalid","x"), "quoted" 漢'


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


@pytest.fixture(scope="module")
def plan():
    hole = {"id": "valve", "x": 400, "y": 800, "diameter": 60, "cover": 100}
    return plan_of(job_data(wall(hole=[hole]), tile={"field": tile(name=NASTY, sampled=0)}))


@pytest.fixture(scope="module")
def inches():
    return plan_of(job_data(wall(width="60 9/32", height="30"), units="in", joint="1/8", tile={
        "field": tile(11.8125, 2.9375) | {"thickness": "5/16", "variation": "1/32"}
    }, sliver="1"))  # fmt: skip


def test_one_row_for_each_cut_with_exact_and_rounded_sizes(plan):
    table = {r["number"]: r for r in rows(cuts_csv(plan))}
    assert len(table) == len(plan.cuts) > 0
    for piece in plan.cuts:
        row = table[piece.number]
        assert float(row["width_mm"]) == pytest.approx(piece.width, abs=5e-5)
        assert float(row["height_mm"]) == pytest.approx(piece.height, abs=5e-5)
        assert abs(float(row["width"]) - piece.width) <= 0.5001
        assert row["id"] == piece.id
        assert row["factory_edges"].split() == list(piece.factory_edges)
        tile_no = int(row["tile_no"])
        assert piece.id in plan.cutting[0].plan[tile_no - 1].pieces


def test_fractions_of_an_inch_cannot_be_read_as_dates(inches):
    table = rows(cuts_csv(inches))
    assert {r["width"] for r in table} & {"11 13/16 in", "11 7/8 in"}
    assert all(r["width"].endswith(" in") and r["height"].endswith(" in") for r in table)


def test_lines_end_as_rfc_4180_says_and_there_is_a_header(plan):
    for data in (cuts_csv(plan), takeoff_csv(plan), findings_csv(plan)):
        assert data.endswith(b"\r\n")
        assert data.count(b"\n") == data.count(b"\r\n")
    assert cuts_csv(plan).startswith(b"number,wall,face,")


def test_no_cell_starts_a_formula(plan):
    for data in (cuts_csv(plan), takeoff_csv(plan), findings_csv(plan)):
        for row in csv.reader(io.StringIO(data.decode(), newline="")):
            assert not [c for c in row if c[:1] in ("=", "+", "-", "@", "\t", "\r")]
    assert any(r["description"] == f"'{NASTY}: whole" for r in rows(takeoff_csv(plan)))


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\rx"])
def test_formulas_are_told_to_be_text(text):
    assert safe_cell(text) == "'" + text
    assert safe_cell("a" + text) == "a" + text


def test_shares_of_the_walls_add_up_as_printed():
    walls = [wall(), wall(id="B", width=1111.3), wall(id="C", width=777.7, height=1333.3)]
    for row in rows(takeoff_csv(plan_of(job_data(*walls)))):
        shares = [round(100 * float(row[f"wall {w}"])) for w in "ABC" if row[f"wall {w}"]]
        assert not shares or sum(shares) == round(100 * float(row["amount"])), row


def test_plan_json_is_one_document_the_same_each_time(plan):
    data = plan_json(plan)
    assert data == plan_json(plan)
    assert data.endswith(b"}\n")
    read = json.loads(data)
    assert list(read)[:3] == ["format", "job", "walls"]
    assert "NaN" not in data.decode()
    longest = max(len(str(v).partition(".")[2]) for v in numbers(read["walls"]) if "e" not in str(v))
    assert longest <= 4


def numbers(value):
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict | list):
        for v in value.values() if isinstance(value, dict) else value:
            yield from numbers(v)
