"""Checks of edges, surfaces, contours and removals against the cell and the reference tables, as they were written."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from finishplan import reference, units
from finishplan.errors import Fault
from finishplan.job.source import Portion
from finishplan.job.suitability import (
    WORKED_BY,
    Candidate,
    Work,
    abrasive_candidate,
    cutter_candidate,
    designations,
    takes_abrasives,
    takes_cutters,
    work_on,
)
from finishplan.job.written import (
    Written,
    either,
    entry,
    items,
    listed,
    material,
    names,
    quantity,
    unknown_in_cell,
    unknown_in_tables,
)

LAMINATES: Final = ("gfrp", "cfrp")
"""Groups of materials whose fibres lie in plies."""


def surface_faults(job: Portion) -> Iterator[Fault]:
    """What surfaces ask for that the reference tables do not have, or their coating cannot give."""
    for index, surface in listed(job, "surface"):
        name = surface.get("coating")
        coating = entry(reference.coating, name)
        if coating is not None:
            yield from _more_than_coating(job, index, surface, coating)
        elif isinstance(name, str):
            known = reference.names("coatings")
            yield unknown_in_tables(job, ("surface", index, "coating"), name, "coating", known)
        for number, grit in enumerate(items(surface, "grits")):
            if isinstance(grit, str) and entry(reference.grit, grit) is None:
                known = reference.names("grits")
                yield unknown_in_tables(job, ("surface", index, "grits", number), grit, "grit", known)


def _more_than_coating(job: Portion, index: int, surface: Written, coating: reference.Coating) -> Iterator[Fault]:
    """Depths that the usual layer of this name does not have; a thickness of its own is checked by the model."""
    thickness = coating.thickness
    bounds = {
        "layer_keep": ("at its thinnest", thickness.value if thickness.low is None else thickness.low),
        "removal": ("as a whole", thickness.value),
    }
    for key, (where, bound) in bounds.items():
        depth = quantity(surface, key, "length")
        if depth is not None and depth >= bound and "layer_thickness" not in surface:
            unit = units.unit_of(surface[key], "length")
            layer = f"{bound / units.KINDS['length'].factor(unit):.4g} {unit}"
            yield job.fault(
                ("surface", index, key),
                f"less than the {coating.name} {where}, {layer}, or the layer_thickness of this part",
            )


def fibre_faults(job: Portion) -> Iterator[Fault]:
    """Contours with a fibre angle in a material that is no laminate."""
    part = material(job)
    for index, contour in listed(job, "contour"):
        if part is not None and part.group not in LAMINATES and "fibre_angle" in contour:
            yield job.fault(("contour", index, "fibre_angle"), f"no fibre angle, for {part.name} is no laminate")


def tool_faults(job: Portion, cell: Portion) -> Iterator[Fault]:
    """Tools that a feature names and cannot have, and features that are left without any."""
    if not names(cell, "tool", "abrasive"):
        return
    for kind in WORKED_BY:
        tools = _candidates(cell, kind)
        for index, feature in listed(job, kind):
            work = _work(job, kind, feature)
            if items(feature, "tools"):
                yield from _named_tools_unfit(job, (kind, index), feature, work, tools)
            else:
                yield from _no_tool_left(job, (kind, index), work, tools)
            if kind == "edge":
                yield from _break_beyond_tools(job, index, feature, work, tools)
            if kind == "surface":
                yield from _removal_beyond_tools(job, index, feature, work, tools)


def _candidates(cell: Portion, kind: str) -> list[Candidate]:
    """The tools of the cell that a kind of feature may name, as far as they have a name."""
    kinds = WORKED_BY[kind]
    cutters = [_cutter(cell, tool, kinds) for _, tool in listed(cell, "tool") if isinstance(tool.get("name"), str)]
    abrasives = [_abrasive(cell, tool) for _, tool in listed(cell, "abrasive") if isinstance(tool.get("name"), str)]
    return (cutters if takes_cutters(kinds) else []) + (abrasives if takes_abrasives(kinds) else [])


def _cutter(cell: Portion, tool: Written, kinds: tuple[str, ...]) -> Candidate:
    family = entry(reference.cutter, tool.get("family"))
    diameter, rigid = quantity(tool, "diameter", "length"), _rigid(cell, tool)
    return cutter_candidate(tool["name"], family, diameter, kinds, rigid=rigid)


def _abrasive(cell: Portion, tool: Written) -> Candidate:
    family, diameter = entry(reference.abrasive, tool.get("family")), quantity(tool, "diameter", "length")
    grits, rigid = items(tool, "grits"), _rigid(cell, tool)
    return abrasive_candidate(tool["name"], family, grits, diameter, tilted="tilt" in tool, rigid=rigid)


def _rigid(cell: Portion, tool: Written) -> bool | None:
    """Whether the robot carries the spindle of a tool rigidly; None where the spindle is not known."""
    spindle = next((table for _, table in listed(cell, "spindle") if table.get("name") == tool.get("spindle")), None)
    return None if spindle is None else "compliance" not in spindle


def _work(job: Portion, kind: str, feature: Written) -> Work:
    worked = entry(reference.coating, feature["coating"]) if "coating" in feature else material(job)
    group = None if worked is None else worked.group
    if kind != "surface":
        return work_on(kind, group)
    room, unit = _shorter_side(feature)
    return work_on(kind, group, designations(items(feature, "grits")), room, unit)


def _shorter_side(surface: Written) -> tuple[float, str]:
    """The shorter side of a rectangle [m] and the unit it is written in; without bound where one is not known."""
    sides = [(quantity(surface, key, "length"), key) for key in ("length", "width")]
    known = [(side, key) for side, key in sides if side is not None and side > 0]
    if len(known) < len(sides):
        return math.inf, "mm"
    side, key = min(known)
    return side, units.unit_of(surface[key], "length")


def _named_tools_unfit(
    job: Portion, place: tuple[str, int], feature: Written, work: Work, tools: list[Candidate]
) -> Iterator[Fault]:
    word = "tool" if takes_cutters(work.kinds) else "abrasive"
    known = {tool.name: tool for tool in reversed(tools)}
    for number, name in enumerate(items(feature, "tools")):
        where = (*place, "tools", number)
        if isinstance(name, str) and name not in known:
            yield unknown_in_cell(job, where, name, word, [tool.name for tool in tools])
        elif isinstance(name, str):
            unmet = [demand.wanted for demand in work.demands() if not demand.met(known[name])]
            yield from (job.fault(where, wanted) for wanted in unmet[:1])


def _no_tool_left(job: Portion, place: tuple[str, int], work: Work, tools: list[Candidate]) -> Iterator[Fault]:
    """A feature that takes any tool, and the first demand that leaves it none."""
    for demand in work.demands():
        tools = [tool for tool in tools if demand.met(tool)]
        if not tools:
            yield job.fault(place, f"{demand.wanted}, in the cell", given="none of its tools")
            return


def _break_beyond_tools(job: Portion, index: int, edge: Written, work: Work, tools: list[Candidate]) -> Iterator[Fault]:
    """An edge break whose legs reach past the radius of every tool allowed."""
    named = items(edge, "tools")
    diameters = [tool.diameter for tool in tools if work.suits(tool) and (not named or tool.name in named)]
    wanted_break = edge.get("edge_break")
    upper = quantity(wanted_break, "upper", "length")
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


def _removal_beyond_tools(
    job: Portion, index: int, surface: Written, work: Work, tools: list[Candidate]
) -> Iterator[Fault]:
    """A depth to take off where every tool allowed only refines."""
    named = items(surface, "tools")
    allowed = [tool for tool in tools if work.suits(tool) and (not named or tool.name in named)]
    if "removal" in surface and allowed and all(tool.graded is False for tool in allowed):
        refining = either([units.quoted(tool.name) for tool in allowed])
        yield job.fault(
            ("surface", index, "removal"),
            f"no removal, or a tool with graded grain among its tools, for {refining} takes no depth off",
        )


def _included_angle(edge: Written) -> float:
    angle = quantity(edge, "included_angle", "angle")
    return reference.default("included_angle").value if angle is None or not 0 < angle < math.pi else angle
