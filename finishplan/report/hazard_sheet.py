"""Hazard notes as a sheet for review: on the terminal and as Markdown. Names from a job are never markup."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator

from rich.console import Console
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from finishplan.hazards import Question
from finishplan.report.hazard_rows import HazardRows, NoteRow, beside_text
from finishplan.units import System

SIGN_OFF = "reviewed by __________________ date __________ accepted [ ] conditions [ ]"
LABEL_WIDTH = 9

_STYLE = {"stop": "bold red", "fix before running": "red", "check": "yellow", "note": "green"}
_COUNTED = {
    "stop": "to stop for",
    "fix before running": "to fix before running",
    "check": "to check",
    "note": "met with margin",
}


def print_sheet(rows: HazardRows, console: Console) -> None:
    """Print the notes by group, what is not stated, and who decides."""
    console.print(Text.assemble((rows.title, "bold"), "  hazard notes for review"))
    console.print(Text(" | ".join(f"{figure.label} {figure.text(rows.system)}" for figure in rows.header), style="dim"))
    console.print(Text(_summary(rows)))
    console.print(Rule("What is planned", align="left", style="dim"))
    for text in _works(rows):
        console.print(Padding(Text(f"- {text}"), (0, 0, 0, 2)))
    for group, notes in rows.groups:
        console.print(Rule(group.capitalize(), align="left", style="dim"))
        for note in notes:
            _print_note(note, rows.system, console)
        console.print(Text(SIGN_OFF))
    if rows.questions:
        console.print(Rule("Not stated in job or cell", align="left", style="dim"))
        console.print(_question_table(rows))
    console.print(Rule("Who decides", align="left", style="dim"))
    console.print(Text(rows.deferral))
    console.print(Text(SIGN_OFF))


def _works(rows: HazardRows) -> Iterator[str]:
    for feature, *figures in rows.works:
        told = (f"{figure.label} {figure.text(rows.system)}" for figure in figures)
        yield f"{feature.text(rows.system)}: {', '.join(told)}"


def _summary(rows: HazardRows) -> str:
    return ", ".join(f"{count} {_COUNTED[level]}" for level, count in rows.counts)


def _print_note(note: NoteRow, system: System, console: Console) -> None:
    console.print(Text.assemble((note.level, _STYLE[note.level]), "  ", (note.title, "bold"), (f"  {note.id}", "dim")))
    table = Table(box=None, show_header=False, pad_edge=False, padding=(0, 1, 0, 0))
    table.add_column(width=LABEL_WIDTH, style="dim")
    table.add_column(overflow="fold")
    for label, text in _lines(note, system):
        table.add_row(label, Text(text))
    console.print(Padding(table, (0, 0, 0, 2)))


def _lines(note: NoteRow, system: System) -> Iterator[tuple[str, str]]:
    """Labels and texts of a note, in the order they are read."""
    yield "figure", f"{note.what}: {note.figure_text(system)}"
    yield "threshold", f"{note.threshold_text(system)}; {note.state}"
    if note.where:
        yield "for", ", ".join(note.where)
    for amount in note.also:
        yield "besides", beside_text(amount, system)
    yield "source", note.source
    yield "check", note.check
    yield "decides", note.decides
    for assumed in note.assumed:
        yield "assumed", assumed
    if note.asks:
        yield "asks for", ", ".join(note.asks)


def _question_table(rows: HazardRows) -> Table:
    table = Table(box=None, show_header=False, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column(overflow="fold")
    table.add_column(overflow="fold")
    for question in rows.questions:
        table.add_row(Text(question.key), Text(_asking(question)))
    return table


def _asking(question: Question) -> str:
    """What a key means, how it is written, and which notes wait for it."""
    name = question.key.rpartition(".")[2]
    example = f" Write {name} = {question.example}." if question.example else ""
    return f"{question.meaning}{example} For {', '.join(question.rules)}."


def sheet_text(rows: HazardRows, width: int = 100) -> str:
    """The sheet as plain text for a file."""
    out = io.StringIO()
    print_sheet(rows, Console(file=out, width=width, highlight=False, no_color=True))
    return "".join(f"{line.rstrip()}\n" for line in out.getvalue().splitlines())


def as_markdown(rows: HazardRows) -> str:
    """The sheet as Markdown, one table row for every note and its particulars below it."""
    return "".join(f"{line}\n" for line in _markdown(rows))


def _markdown(rows: HazardRows) -> Iterator[str]:
    system = rows.system
    yield from (f"# {_plain(rows.title)}: hazard notes for review", "")
    yield from (f"* {_plain(figure.label)}: {_plain(figure.text(system))}" for figure in rows.header)
    yield from ("", f"{_summary(rows)}.", "", "## What is planned", "")
    yield from (f"* {_plain(text)}" for text in _works(rows))
    yield ""
    for group, notes in rows.groups:
        yield from (f"## {group.capitalize()}", "")
        for note in notes:
            yield from (f"### {note.level}: {_plain(note.title)}", "")
            yield from (f"* **{label}** {_plain(text)}" for label, text in _lines(note, system))
            yield ""
        yield from (_plain(SIGN_OFF), "")
    if rows.questions:
        yield from ("## Not stated in job or cell", "", "| key | what is asked |", "|---|---|")
        for question in rows.questions:
            yield f"| `{question.key}` | {_plain(_asking(question))} |"
        yield ""
    yield from ("## Who decides", "", _plain(rows.deferral), "", _plain(SIGN_OFF))


def _plain(text: str) -> str:
    """Text in which nothing is read as markup, on one line."""
    return re.sub(r"([\\`*_{}\[\]<>#|~!])", r"\\\1", " ".join(text.split()))
