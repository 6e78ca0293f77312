"""Reference tables on the terminal and as JSON."""

from __future__ import annotations

import io
import json

import pytest
from rich.console import Console

from finishplan import reference
from finishplan.errors import ReferenceDataError
from finishplan.report.reference_data import as_json, print_table


def printed(table: str | None, name: str | None = None, width: int = 200) -> str:
    out = io.StringIO()
    print_table(table, name, Console(file=out, width=width, highlight=False))
    return out.getvalue()


def test_every_table_is_listed_with_its_size() -> None:
    text = printed(None)
    for table in reference.tables():
        assert f"{table:<12} {len(reference.names(table))} entries" in text
    assert json.loads(as_json(None, None))["tables"] == reference.tables()


@pytest.mark.parametrize("table", [name for name in reference.tables() if name not in {"sources", "defaults"}])
def test_every_entry_of_a_table_is_named(table: str) -> None:
    text = printed(table)
    for name in reference.names(table):
        assert name in text


@pytest.mark.parametrize("table", [name for name in reference.tables() if name != "sources"])
def test_every_figure_comes_with_unit_source_and_grade(table: str) -> None:
    for figure in json.loads(as_json(table, None))["figures"]:
        assert figure["path"].startswith(table)
        assert {"value", "unit", "source", "citation", "locator", "grade"} <= figure.keys()
        assert figure["citation"]
        low, high = figure["low"], figure["high"]
        assert low is None or high is None or low <= figure["value"] <= high


def test_a_figure_is_shown_in_the_unit_it_was_written_in() -> None:
    figures = json.loads(as_json("grits", "P120"))["figures"]
    (size,) = (figure for figure in figures if figure["path"].endswith("size"))
    assert size["unit"] == "um"
    assert size["value"] == pytest.approx(reference.grit("P120").size.value * 1e6, rel=1e-9)
    assert f"{size['value']:g}" in printed("grits", "P120")


def test_an_entry_holds_its_own_figures_and_no_others() -> None:
    paths = [figure["path"] for figure in json.loads(as_json("grits", "P12"))["figures"]]
    assert paths
    assert all(path.startswith("grits.P12.") for path in paths)


def test_sources_are_cited_in_full() -> None:
    name = reference.names("sources")[0]
    text = " ".join(printed("sources", name, 400).split())
    assert " ".join(reference.source(name).citation.split()) in text
    (data,) = json.loads(as_json("sources", name))["sources"]
    assert data["citation"] == reference.source(name).citation


@pytest.mark.parametrize(("table", "name"), [("grit", None), ("grits", "P121"), ("sources", "nobody")])
def test_a_miss_is_refused(table: str, name: str | None) -> None:
    with pytest.raises(ReferenceDataError):
        as_json(table, name)
    with pytest.raises(ReferenceDataError):
        printed(table, name)
