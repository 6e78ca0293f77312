"""Checks of the abrasives of a cell, as they were written, against their families and the spindles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from finishplan import reference, units
from finishplan.errors import Fault
from finishplan.job.own_keys import Kept, OwnKey, own_key_faults
from finishplan.job.positions import Location
from finishplan.job.source import Portion
from finishplan.job.suitability import fed_by_depth, is_rigid
from finishplan.job.tools import Abrasive
from finishplan.job.written import Written, article, closest, either, entry, items, listed, unknown_in_tables
from finishplan.reference import AbrasiveFamily, Grain

DIAMOND: Final = "ISO 6106"
"""System of the grits that only diamond tools have, and they no others."""

_BACKING_KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    "belt": ("contact wheel",),
    "disc": ("foam pad", "backing disc"),
    "orbital": ("foam pad", "backing disc"),
}
_OWN_KEYS: Final[Mapping[str, OwnKey]] = {
    "width": OwnKey(("belt", "wheel", "brush", "buff", "cut-off", "grit router"), needed=True),
    "body_thickness": OwnKey(("cut-off",), needed=False),
    "flange_diameter": OwnKey(("cut-off",), needed=False),
    "overhang": OwnKey(("grit router",), needed=True),
    "shank_diameter": OwnKey(("grit router",), needed=False),
    "orbit": OwnKey(("orbital",), needed=True),
    "tilt": OwnKey(("disc",), needed=False),
    "backing": OwnKey(tuple(_BACKING_KINDS), needed=False),
}


def abrasive_faults(cell: Portion) -> Iterator[Fault]:
    """What the abrasives of a cell lack, have too much, or have of the wrong kind."""
    for index, abrasive in listed(cell, "abrasive"):
        name = abrasive.get("family")
        family = entry(reference.abrasive, name)
        if family is not None:
            kept = Kept(("abrasive", index), abrasive, Abrasive, family.tool, family.name)
            yield from own_key_faults(cell, kept, _OWN_KEYS, "abrasives")
            yield from _wrong_grits(cell, kept, family)
            yield from _wrong_backing(cell, index, abrasive, family)
            yield from _rigid_spindle(cell, index, abrasive, family)
        elif isinstance(name, str):
            place = ("abrasive", index, "family")
            yield unknown_in_tables(cell, place, name, "abrasive family", reference.names("abrasives"))


def _wrong_grits(cell: Portion, abrasive: Kept, family: AbrasiveFamily) -> Iterator[Fault]:
    place = (*abrasive.place, "grits")
    if family.grain is None and "grits" in abrasive.table:
        yield cell.fault(place, f"no grits, for the grain of {article(family.name)} is not graded")
    if family.grain is not None and "grits" not in abrasive.table:
        names = ", ".join(map(units.quoted, (family.grain.coarsest.name, family.grain.finest.name)))
        yield cell.fault(place, f"the grits of {article(family.name)}", write=f"grits = [{names}]")
    for number, name in enumerate(items(abrasive.table, "grits")):
        if family.grain is not None and isinstance(name, str):
            yield from _wrong_grit(cell, (*place, number), name, family.name, family.grain)


def _wrong_grit(cell: Portion, place: Location, name: str, family: str, grain: Grain) -> Iterator[Fault]:
    """A grit that is not in the tables, or coarser or finer than the family has."""
    grit = entry(reference.grit, name)
    wanted = f"a grit from {grain.coarsest.name} to {grain.finest.name}, which {article(family)} has"
    if grit is None or (grit.system == DIAMOND) is not (grain.coarsest.system == DIAMOND):
        yield cell.fault(place, wanted, write=closest(name, _grits_of(grain)))
    elif grit.size.value > grain.coarsest.size.value:
        yield cell.fault(place, wanted, write=units.quoted(grain.coarsest.name))
    elif grit.size.value < grain.finest.size.value:
        yield cell.fault(place, wanted, write=units.quoted(grain.finest.name))


def _grits_of(grain: Grain) -> list[str]:
    coarsest, finest = grain.coarsest.size.value, grain.finest.size.value
    held = map(reference.grit, reference.names("grits"))
    fitting = (grit for grit in held if (grit.system == DIAMOND) is (grain.coarsest.system == DIAMOND))
    return [grit.name for grit in fitting if coarsest >= grit.size.value >= finest]


def _wrong_backing(cell: Portion, index: int, abrasive: Written, family: AbrasiveFamily) -> Iterator[Fault]:
    name = abrasive.get("backing")
    kinds = _BACKING_KINDS.get(family.tool, ())
    backing = entry(reference.backing, name)
    if kinds and isinstance(name, str) and (backing is None or backing.kind not in kinds):
        known = [name for name in reference.names("backings") if reference.backing(name).kind in kinds]
        yield unknown_in_tables(cell, ("abrasive", index, "backing"), name, either(kinds), known)


def _rigid_spindle(cell: Portion, index: int, abrasive: Written, family: AbrasiveFamily) -> Iterator[Fault]:
    """An abrasive without a device that sets its force.

    Bonded and cut-off wheels and grit routers may run on a spindle the robot carries rigidly, and so may
    wheels and brushes that yield themselves, on edges: every other family is described by the force that
    presses it.
    """
    spindles = [table for _, table in listed(cell, "spindle") if isinstance(table.get("name"), str)]
    rigid = [table["name"] for table in spindles if "compliance" not in table]
    compliant = [table["name"] for table in spindles if "compliance" in table]
    if is_rigid(family) or fed_by_depth(family) or abrasive.get("spindle") not in rigid:
        return
    yield cell.fault(
        ("abrasive", index, "spindle"),
        f"a spindle with a compliance device, for {article(family.name)} is pressed on with a set force",
        write=" or ".join(map(units.quoted, compliant)) or "compliance in that [[spindle]]",
    )
