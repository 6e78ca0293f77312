"""Checks of the cutters of a cell, as they were written, against their families."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from finishplan import reference
from finishplan.errors import Fault
from finishplan.job.own_keys import Kept, OwnKey, own_key_faults
from finishplan.job.source import Portion
from finishplan.job.tools import Tool
from finishplan.job.written import entry, listed, unknown_in_tables
from finishplan.reference.cutters import DISCS, GEOMETRIES

_ON_A_SHANK: Final = tuple(geometry for geometry in GEOMETRIES if geometry not in DISCS)
_OWN_KEYS: Final[Mapping[str, OwnKey]] = {
    "kerf": OwnKey(DISCS, needed=True),
    "body_thickness": OwnKey(DISCS, needed=True),
    "flange_diameter": OwnKey(DISCS, needed=False),
    "shank_diameter": OwnKey(_ON_A_SHANK, needed=False),
    "cutting_length": OwnKey(_ON_A_SHANK, needed=False),
}


def cutter_faults(cell: Portion) -> Iterator[Fault]:
    """Cutters of families that are not in the tables, and what those of known ones lack or have too much."""
    for index, tool in listed(cell, "tool"):
        name = tool.get("family")
        family = entry(reference.cutter, name)
        if family is not None:
            kept = Kept(("tool", index), tool, Tool, family.geometry, family.name)
            yield from own_key_faults(cell, kept, _OWN_KEYS, "cutters")
        elif isinstance(name, str):
            yield unknown_in_tables(cell, ("tool", index, "family"), name, "cutter family", reference.names("cutters"))
