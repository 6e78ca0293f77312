"""What materials consist of, by group, as far as the limits of their dust ask for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.reference.removal import ABRADED_GROUPS
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value

CONSTITUENTS: Final = (
    "aluminium", "beryllium", "cadmium", "carbon_fibre", "chromium", "cobalt", "copper", "glass_fibre", "hardwood",
    "iron", "lead", "magnesium", "manganese", "nickel", "red_cedar", "titanium", "tungsten", "wood", "zinc", "silica",
)  # fmt: skip
"""Constituents with an exposure limit, of their own or of their oxide."""


@dataclass(frozen=True)
class Composition:
    """Mass shares [1] of a group of materials; what is not listed has no limit of its own or is not there."""

    name: str
    title: str
    shares: Mapping[str, Value]
    aliases: ClassVar[tuple[str, ...]] = ()


def _read(name: str, record: Record) -> Composition:
    if name not in ABRADED_GROUPS:
        raise record.refuse("title", f"no such material group; wanted {', '.join(ABRADED_GROUPS)}")
    shares = record.values_if_held(dict.fromkeys(CONSTITUENTS, "fraction"))
    return Composition(name, record.text("title"), shares)


COMPOSITIONS: Final = Table("compositions", "composition of the group", _read)
