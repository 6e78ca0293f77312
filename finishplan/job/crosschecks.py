"""Checks between tables, and against the reference tables, on a job as it was written.

They work on the plain tables rather than on validated models, so that a wrong name is reported
along with every other fault even where the rest of its table is faulty too. What the models
report by themselves (a name that is no text, a length that is none) is passed over here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from finishplan import reference, units
from finishplan.errors import Fault, ReferenceDataError, UnitError, nearest
from finishplan.job.positions import Location
from finishplan.job.source import Portion

Written = Mapping[str, Any]
Entry = TypeVar("Entry")


def cross_faults(job: Portion, cell: Portion | None) -> Iterator[Fault]:
    """Every fault between tables; without a cell, those of the job alone."""
    yield from _repeated_names(job, "edge")
    yield from _unknown_material(job)
    if cell is None:
        return
    for kind in ("spindle", "compliance", "tool"):
        yield from _repeated_names(cell, kind)
    yield from _unknown_references(cell, "tool", "spindle")
    yield from _unknown_references(cell, "spindle", "compliance")
    yield from _unknown_families(cell)
    for index, edge in _listed(job, "edge"):
        yield from _tools_not_in_cell(job, cell, index, edge)
        yield from _tools_unfit_for_material(job, cell, index, edge)
        yield from _break_beyond_tools(job, cell, index, edge)


def _listed(portion: Portion, kind: str) -> list[tuple[int, Written]]:
    """The tables of a list, with their places in it."""
    tables = portion.data.get(kind)
    return [(i, table) for i, table in enumerate(tables) if isinstance(table, dict)] if isinstance(tables, list) else []


def _names(portion: Portion, kind: str) -> list[str]:
    return [table["name"] for _, table in _listed(portion, kind) if isinstance(table.get("name"), str)]


def _repeated_names(portion: Portion, kind: str) -> Iterator[Fault]:
    names: list[str] = []
    for index, table in _listed(portion, kind):
        name = table.get("name")
        if isinstance(name, str):
            if name in names:
                yield portion.fault((kind, index, "name"), f"a name that no other {kind} has")
            names.append(name)


def _unknown_references(cell: Portion, user: str, kind: str) -> Iterator[Fault]:
    known = _names(cell, kind)
    for index, table in _listed(cell, user):
        yield from _unknown_name(cell, (user, index, kind), table.get(kind), kind, known)


def _unknown_name(portion: Portion, place: Location, name: object, kind: str, known: Sequence[str]) -> Iterator[Fault]:
    if isinstance(name, str) and name not in known:
        wanted = f"a {kind} of the cell: {', '.join(map(units.quoted, dict.fromkeys(known))) or 'it has none yet'}"
        yield portion.fault(place, wanted, write=_closest(name, known) or ("" if known else f"[[{kind}]] in the cell"))


def _closest(name: str, known: Sequence[str]) -> str:
    return next(map(units.quoted, nearest(name, known, 1)), "")


def _entry(look_up: Callable[[str], Entry], name: object) -> Entry | None:
    """An entry of the reference tables, None where the name is no text or not among them."""
    try:
        return look_up(name) if isinstance(name, str) else None
    except ReferenceDataError:
        return None


def _material(job: Portion) -> reference.Workpiece | None:
    part = job.data.get("part")
    return _entry(reference.workpiece, part.get("material")) if isinstance(part, dict) else None


def _unknown_material(job: Portion) -> Iterator[Fault]:
    part = job.data.get("part")
    name = part.get("material") if isinstance(part, dict) else None
    if isinstance(name, str) and _material(job) is None:
        yield _not_in_tables(job, ("part", "material"), name, "material", "workpieces")


def _unknown_families(cell: Portion) -> Iterator[Fault]:
    for index, tool in _listed(cell, "tool"):
        name = tool.get("family")
        if isinstance(name, str) and _entry(reference.cutter, name) is None:
            yield _not_in_tables(cell, ("tool", index, "family"), name, "cutter family", "cutters")


def _not_in_tables(portion: Portion, place: Location, name: str, meaning: str, table: str) -> Fault:
    known = reference.names(table)
    wanted = f"a {meaning} of the reference tables: {', '.join(map(units.quoted, nearest(name, known) or known))}"
    return portion.fault(place, wanted, write=_closest(name, known))


def _tools_not_in_cell(job: Portion, cell: Portion, index: int, edge: Written) -> Iterator[Fault]:
    known = _names(cell, "tool")
    for place, name in enumerate(_named_tools(edge) if known else []):
        yield from _unknown_name(job, ("edge", index, "tools", place), name, "tool", known)


def _named_tools(edge: Written) -> list[Any]:
    tools = edge.get("tools")
    return tools if isinstance(tools, list) else []


def _allowed_tools(cell: Portion, edge: Written) -> list[Written]:
    named = _named_tools(edge)
    return [tool for _, tool in _listed(cell, "tool") if not named or tool.get("name") in named]


def _tools_unfit_for_material(job: Portion, cell: Portion, index: int, edge: Written) -> Iterator[Fault]:
    """Tools named for an edge whose family does not cut the material, or no tool at all that does."""
    material = _material(job)
    allowed = _allowed_tools(cell, edge)
    families = [_entry(reference.cutter, tool.get("family")) for tool in allowed]
    if material is None or not families or None in families:
        return
    unfit = [
        tool.get("name")
        for tool, family in zip(allowed, families, strict=True)
        if family is not None and material.group not in family.windows
    ]
    wanted = f"a tool whose family has a window for {material.group}"
    for place, name in enumerate(_named_tools(edge)):
        if name in unfit:
            yield job.fault(("edge", index, "tools", place), wanted)
    if not _named_tools(edge) and len(unfit) == len(allowed):
        yield job.fault(("edge", index), f"{wanted} in the cell", given="none of its tools")


def _break_beyond_tools(job: Portion, cell: Portion, index: int, edge: Written) -> Iterator[Fault]:
    """An edge break whose legs reach past the radius of every tool allowed."""
    diameters = [_quantity(tool, "diameter", "length") for tool in _allowed_tools(cell, edge)]
    wanted_break = edge.get("edge_break")
    upper = _quantity(wanted_break, "upper", "length")
    if upper is None or not isinstance(wanted_break, dict) or not diameters or None in diameters:
        return
    leg = upper / math.tan(_included_angle(edge) / 2) if wanted_break.get("measure") == "radius" else upper
    largest = max(diameter for diameter in diameters if diameter is not None)
    if leg >= largest / 2:
        unit = units.unit_of(wanted_break["upper"], "length")
        radius = f"{largest / 2 / units.KINDS['length'].factor(unit):g} {unit}"
        yield job.fault(
            ("edge", index, "edge_break", "upper"),
            f"legs shorter than the radius of the largest tool allowed, {radius}",
        )


def _included_angle(edge: Written) -> float:
    angle = _quantity(edge, "included_angle", "angle")
    return reference.default("included_angle").value if angle is None or not 0 < angle < math.pi else angle


def _quantity(table: object, key: str, kind: str) -> float | None:
    text = table.get(key) if isinstance(table, dict) else None
    try:
        return units.parse(text, kind) if isinstance(text, str) else None
    except UnitError:
        return None
