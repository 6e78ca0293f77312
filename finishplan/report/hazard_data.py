"""Hazard notes as JSON and CSV: a unit in every key, or in a column of its own where units differ by line."""

from __future__ import annotations

import math
from typing import Any

from finishplan import units
from finishplan.report.figures import Figure
from finishplan.report.hazard_rows import HazardRows, NoteRow, beside_text
from finishplan.report.tabular import csv_text, dump, keyed
from finishplan.units import System


def as_json(rows: HazardRows) -> str:
    """The sheet as one JSON object."""
    system = rows.system
    return dump(
        {
            "title": rows.title,
            "units": system,
            **keyed(rows.header, system),
            "levels": dict(rows.counts),
            "steps": [keyed(work, system) for work in rows.works],
            "notes": [_note(note, system) for note in rows.notes],
            "not_stated": [
                {
                    "key": question.key,
                    "place": question.place,
                    "meaning": question.meaning,
                    "write": question.write,
                    "needed_for": list(question.rules),
                }
                for question in rows.questions
            ],
            "who_decides": rows.deferral,
        }
    )


def _note(note: NoteRow, system: System) -> dict[str, Any]:
    beside = [figure for _, low, high in note.also for figure in (low, high) if figure is not None]
    return {
        "id": note.id,
        "group": note.group,
        "level": note.level,
        "title": note.title,
        "what": note.what,
        **keyed((note.figure, *(note.band or ()), note.threshold), system),
        "sense": note.sense,
        "utilisation": note.utilisation,
        "state": note.state,
        "where": list(note.where),
        "besides": keyed(beside, system),
        "source": note.source,
        "check": note.check,
        "decides": note.decides,
        "assumed": list(note.assumed),
        "asks": list(note.asks),
    }


def as_csv(rows: HazardRows) -> str:
    """One line per note."""
    return csv_text([_line(note, rows.system) for note in rows.notes])


def _line(note: NoteRow, system: System) -> dict[str, object]:
    return {
        "group": note.group,
        "level": note.level,
        "id": note.id,
        "title": note.title,
        "what": note.what,
        "figure": _value(note.figure, system),
        "figure_low": None if note.band is None else _value(note.band[0], system),
        "figure_high": None if note.band is None else _value(note.band[1], system),
        "sense": note.sense,
        "threshold": _value(note.threshold, system),
        "unit": _unit(note.figure, system),
        "utilisation": note.utilisation if note.utilisation is None or math.isfinite(note.utilisation) else None,
        "state": note.state,
        "where": "; ".join(note.where),
        "besides": "; ".join(beside_text(amount, system) for amount in note.also),
        "source": note.source,
        "check": note.check,
        "decides": note.decides,
        "assumed": "; ".join(note.assumed),
        "asks": ", ".join(note.asks),
        "reviewed_by": "",
        "date": "",
    }


def _value(figure: Figure, system: System) -> float | int | str | None:
    return figure.keyed(system)[1]


def _unit(figure: Figure, system: System) -> str:
    return units.KINDS[figure.kind].shown(system).unit if figure.kind else ""
