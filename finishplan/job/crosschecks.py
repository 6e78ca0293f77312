"""Checks between tables, and against the reference tables, on a job as it was written.

They work on the plain tables rather than on validated models, so that a wrong name is reported
along with every other fault even where the rest of its table is faulty too. What the models
report by themselves (a name that is no text, a length that is none) is passed over here.
"""

from __future__ import annotations

from collections.abc import Iterator

from finishplan import reference
from finishplan.errors import Fault
from finishplan.job.abrasive_checks import abrasive_faults
from finishplan.job.cutter_checks import cutter_faults
from finishplan.job.feature_checks import fibre_faults, surface_faults, tool_faults
from finishplan.job.holding_checks import holding_faults
from finishplan.job.order_checks import order_faults
from finishplan.job.source import Portion
from finishplan.job.written import either, listed, material, names, unknown_in_cell, unknown_in_tables


def cross_faults(job: Portion, cell: Portion | None) -> Iterator[Fault]:
    """Every fault between tables; without a cell, those of the job alone."""
    yield from _repeated_names(job, "edge", "surface", "contour", "removal")
    yield from order_faults(job)
    yield from _unknown_material(job)
    yield from surface_faults(job)
    yield from fibre_faults(job)
    if cell is None:
        return
    for kinds in (("spindle",), ("compliance",), ("tool", "abrasive")):
        yield from _repeated_names(cell, *kinds)
    yield from _shared_slots(cell)
    for user, kind in (("tool", "spindle"), ("abrasive", "spindle"), ("spindle", "compliance")):
        yield from _unknown_references(cell, user, kind)
    yield from cutter_faults(cell)
    yield from abrasive_faults(cell)
    yield from tool_faults(job, cell)
    yield from holding_faults(job, cell)


def _repeated_names(portion: Portion, *kinds: str) -> Iterator[Fault]:
    seen: list[str] = []
    for kind in kinds:
        for index, table in listed(portion, kind):
            name = table.get("name")
            if isinstance(name, str):
                if name in seen:
                    yield portion.fault((kind, index, "name"), f"a name that no other {either(kinds)} has")
                seen.append(name)


def _shared_slots(cell: Portion) -> Iterator[Fault]:
    taken: list[object] = []
    for kind in ("tool", "abrasive"):
        for index, table in listed(cell, kind):
            slot = table.get("slot")
            if isinstance(slot, int) and slot in taken:
                yield cell.fault((kind, index, "slot"), "a slot of the rack that no other tool or abrasive stands in")
            taken.append(slot)


def _unknown_references(cell: Portion, user: str, kind: str) -> Iterator[Fault]:
    known = names(cell, kind)
    for index, table in listed(cell, user):
        name = table.get(kind)
        if isinstance(name, str) and name not in known:
            yield unknown_in_cell(cell, (user, index, kind), name, kind, known)


def _unknown_material(job: Portion) -> Iterator[Fault]:
    part = job.data.get("part")
    name = part.get("material") if isinstance(part, dict) else None
    if isinstance(name, str) and material(job) is None:
        yield unknown_in_tables(job, ("part", "material"), name, "material", reference.names("workpieces"))
