"""What job and cell file leave open: each key with its meaning, where it stands and a line to write."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Final

from finishplan.hazards.context import Context
from finishplan.job import Installed, Part
from finishplan.job.fields import Section, example_of

_TABLES: Final[dict[str, type[Section]]] = {"installed": Installed, "part": Part}


@dataclass(frozen=True)
class Question:
    """A key that is not stated.

    Attributes
    ----------
    key : str
        Table and key.
    place : str
        The table as it is headed, and the file it stands in.
    meaning : str
        What the key says.
    write : str
        TOML that loads as it stands; its figures are examples.
    rules : tuple of str
        Rules that need it.
    """

    key: str
    place: str
    meaning: str
    write: str
    rules: tuple[str, ...]


def question(key: str, rules: tuple[str, ...], context: Context) -> Question:
    """The question for a key of the tables that hazard rules ask about."""
    table, _, name = key.partition(".")
    field = _TABLES[table].model_fields[name]
    write = _composition(context) if key == "part.composition" else f"{name} = {example_of(field)}"
    return Question(key, _place(table, context), field.description or "", write, rules)


def _place(table: str, context: Context) -> str:
    if table == "part":
        return "[part] of the job"
    return f"[installed] of {context.cell_file}" if context.cell_file else "[cell.installed] of the job"


def _composition(context: Context) -> str:
    """What the tables take for the material, to be replaced by what the certificate says."""
    shares = (context.compositions.get(context.group) or {"silica": 0.0}).items()
    return "\n".join(f"composition.{name} = {json.dumps(f'{100 * share:.4g} %')}" for name, share in shares)
