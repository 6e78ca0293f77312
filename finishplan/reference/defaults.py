"""Named defaults: what a plan assumes, and lists as assumed, where a job says nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value, read_value


@dataclass(frozen=True)
class Default:
    """One default under its name."""

    name: str
    value: Value
    aliases: ClassVar[tuple[str, ...]] = ()


def _read(name: str, record: Record) -> Default:
    record.text("title")
    record.used.update(record.entries)
    return Default(name, read_value(record.entries, record.file, record.path))


DEFAULTS: Final = Table("defaults", "default", _read)
