"""Hazard notes as a sheet for review: on the terminal and as Markdown. Names from a job are never markup."""

from __future__ import annotations

import io
import re
import textwrap
from collections.abc import Iterator
from itertools import groupby
from operator import attrgetter

from rich.console import Console
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from finishplan.hazards import Question
from finishplan.report.hazard_rows import HazardRows, NoteRow, beside_text
from finishplan.units import System

SIGN_OFF = "reviewed by __________________ date __________ accepted [ ] conditions [ ]"
TO_WRITE = "The lines load as they stand, but their figures are examples: put in those of your own."
LABEL_WIDTH = 9
INDENT = 2
MARKDOWN_WIDTH = 100

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
        console.print(Text(TO_WRITE))
        for place, questions in groupby(rows.questions, key=attrgetter("place")):
            console.print(Text(place, style="bold"))
            for question in questions:
                lines = "\n".join(_written(question, console.width - INDENT))
                console.print(Padding(Text(lines), (0, 0, 0, INDENT)))
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
        yield "for", "; ".join(note.where)
    for amount in note.also:
        yield "besides", beside_text(amount, system)
    yield "source", note.source
    yield "check", note.check
    yield "decides", note.decides
    for assumed in note.assumed:
        yield "assumed", assumed
    if note.asks:
        yield "asks for", ", ".join(note.asks)


def _written(question: Question, width: int) -> list[str]:
    """What to write for a key, below a comment that says what it means and which notes wait for it."""
    told = f"{question.meaning} For {', '.join(question.rules)}."
    comment = textwrap.wrap(told, width, initial_indent="# ", subsequent_indent="# ", break_on_hyphens=False)
    return [*comment, *question.write.splitlines()]


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
        yield from ("## Not stated in job or cell", "", TO_WRITE, "")
        for place, questions in groupby(rows.questions, key=attrgetter("place")):
            yield from (f"### {_plain(place)}", "", "```toml")
            for question in questions:
                yield from _written(question, MARKDOWN_WIDTH)
            yield from ("```", "")
    yield from ("## Who decides", "", _plain(rows.deferral), "", _plain(SIGN_OFF))


def _plain(text: str) -> str:
    """Text in which nothing is read as markup, on one line."""
    return re.sub(r"([\\`*_{}\[\]<>#|~!])", r"\\\1", " ".join(text.split()))
