"""The bibliography: the publication behind every figure, and how the figure reached the tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.reference.table import Record, Table

KINDS: Final = ("standard", "law", "book", "paper", "practice", "memory")


@dataclass(frozen=True)
class Source:
    """One publication, or the lack of one."""

    name: str
    citation: str
    kind: str
    reached: str
    aliases: ClassVar[tuple[str, ...]] = ()


def _read(name: str, record: Record) -> Source:
    return Source(name, record.text("citation"), record.choice("kind", KINDS), record.text("reached"))


SOURCES: Final = Table("sources", "source", _read)
