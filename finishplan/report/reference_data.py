"""The reference tables on the terminal and as JSON: every figure with its band, source and grade."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from finishplan import reference, units
from finishplan.reference import Source, Value
from finishplan.report.tabular import dump

SOURCES = "sources"


def as_json(table: str | None, name: str | None) -> str:
    """The names of the tables, the figures of one, or those of one entry."""
    if table is None:
        return dump({"tables": reference.tables()})
    if table == SOURCES:
        return dump({"sources": [vars(source) for source in _sources(name)]})
    return dump({"table": table, "figures": [_figure(value) for value in _values(table, name)]})


def _figure(value: Value) -> dict[str, object]:
    shown = {key: _in_own_unit(value, getattr(value, key)) for key in ("value", "low", "high")}
    cited = {"source": value.source, "citation": reference.source(value.source).citation}
    return {"path": value.path, **shown, "unit": value.unit, **cited, "locator": value.locator, "grade": value.grade}


def _in_own_unit(value: Value, figure: float | None) -> float | None:
    return None if figure is None else units.from_si(figure, value.unit)


def print_table(table: str | None, name: str | None, console: Console) -> None:
    """Print the list of tables, the entries of one, or one entry in full."""
    if table is None:
        _print_tables(console)
    elif table == SOURCES:
        _print_sources(name, console)
    elif name is None and table != "defaults":
        _print_entries(table, console)
    else:
        _print_values(_values(table, name), console)


def _values(table: str, name: str | None) -> list[Value]:
    if name is None:
        return list(reference.values(table))
    stem = f"{table}.{reference.row(table, name).name}"
    return [value for value in reference.values(table) if f"{value.path}.".startswith(f"{stem}.")]


def _print_tables(console: Console) -> None:
    for table in reference.tables():
        console.print(Text(f"{table:<12} {len(reference.names(table))} entries"))
    console.print(Text("next: finishplan data TABLE, then finishplan data TABLE NAME", style="dim"))


def _print_entries(table: str, console: Console) -> None:
    rows = _plain_table("name", "title")
    for row in reference.rows(table):
        rows.add_row(Text(row.name), Text(getattr(row, "title", "")))
    console.print(rows)


def _print_sources(name: str | None, console: Console) -> None:
    for source in _sources(name):
        console.print(Text(source.name, style="bold"))
        console.print(Text(f"  {source.citation} ({source.kind}; figures {source.reached})"))


def _sources(name: str | None) -> list[Source]:
    return [reference.source(key) for key in ([name] if name else reference.names(SOURCES))]


def _field(value: Value) -> str:
    """The field's name; the part of the path that names table and record is known to the reader."""
    return value.path.rsplit(".", 1)[-1] if ".windows." not in value.path else value.path.split(".windows.")[-1]


def _print_values(values: list[Value], console: Console) -> None:
    rows = _plain_table("figure", "value", "band", "unit", "source and place", "grade")
    for value in values:
        low, middle, high = (_in_own_unit(value, figure) for figure in (value.low, value.value, value.high))
        band = "" if low is None else f"{low:g} to {high:g}"
        label = Text(value.title or _field(value))
        rows.add_row(label, f"{middle:g}", band, value.unit, Text(f"{value.source}: {value.locator}"), value.grade)
    console.print(rows)
    cited = {value.source: reference.source(value.source) for value in values}
    console.print()
    for key, source in cited.items():
        console.print(Text(f"{key}: {source.citation} (figures {source.reached})", style="dim"))


def _plain_table(*headings: str) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for heading in headings:
        table.add_column(heading, header_style="dim", justify="right" if heading == "value" else "left")
    return table
