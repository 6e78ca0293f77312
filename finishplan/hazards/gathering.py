"""The facts of a plan that hazard rules look at. The type of an operation chooses what is read from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import singledispatch
from typing import Any

from finishplan import physics, reference
from finishplan.hazards.context import Context, Device, TurningTool, Work
from finishplan.hazards.dusts import FAMILIES, OF_COATING
from finishplan.job import CellFile, LoadedJob, Surface
from finishplan.planning.abrasive_setup import AbrasiveDesk
from finishplan.planning.bulk_operation import BulkAbrasion
from finishplan.planning.contour_operation import TrimmedContour
from finishplan.planning.desk import Desk
from finishplan.planning.edge_abrasion_operation import AbradedEdge
from finishplan.planning.edge_desk import CutterDesk
from finishplan.planning.edge_operation import EdgeCutting
from finishplan.planning.feature import Step
from finishplan.planning.motion import motion_of
from finishplan.planning.operation import Operation
from finishplan.planning.plan import Plan
from finishplan.planning.surface_operation import SurfaceAbrasion


@dataclass(frozen=True)
class Removed:
    """What a step takes off a part: nominal and most volume [m3], by which process and with which force [N], on a
    contour the highest on the tool, elsewhere that of the contact."""

    process: str
    desk: Desk
    volume: float
    most: float
    force: float


@singledispatch
def removed_by(operation: Operation, step: Step) -> Removed:
    """What a step of an operation takes off."""
    raise TypeError(f"no hazard facts for {type(operation).__name__}")


@removed_by.register
def _(operation: EdgeCutting, step: Step) -> Removed:
    sections = _each(step, "section")
    length = _travelled(step) / step.found.passes
    volume, most = sections["nominal"] * length, max(sections.values()) * length
    return Removed("edge cutting", operation.setup.desk, volume, most, _each(step, "normal_force")["nominal"])


@removed_by.register
def _(operation: AbradedEdge, step: Step) -> Removed:
    sections = _each(step, "section")
    length = _travelled(step) / step.found.passes
    volume, most = sections["nominal"] * length, max(sections.values()) * length
    return Removed("edge abrasion", operation.desk, volume, most, _each(step, "force")["nominal"])


@removed_by.register
def _(operation: SurfaceAbrasion, step: Step) -> Removed:
    volumes = _each(step, "volume")
    return Removed("surface", operation.setup.desk, volumes["nominal"], max(volumes.values()), _set_force(step))


@removed_by.register
def _(operation: BulkAbrasion, step: Step) -> Removed:
    volumes = [float(corner.stock.volume) * operation.removal.count for corner in operation.corners.values()]
    nominal = float(operation.conditions.stock.volume) * operation.removal.count
    return Removed("stock removal", operation.desk, nominal, max(volumes), _set_force(step))


@removed_by.register
def _(operation: TrimmedContour, step: Step) -> Removed:
    rates, contact = _each(step, "removal_rate"), step.time.contact
    volume, most = rates["nominal"] * contact, max(rates.values()) * contact
    across, along = (max(_each(step, name).values()) for name in ("normal_force", "tangential_force"))
    return Removed("contour cutting", operation.desk, volume, most, float(physics.process_resultant(across, along)))


def _each(step: Step, name: str) -> dict[str, float]:
    """A prediction at every corner of the scatter."""
    return {corner: float(getattr(found, name)) for corner, found in step.found.evaluation.predictions.items()}


def _travelled(step: Step) -> float:
    """Path of all passes at the planned feed; slow corners make it a little too long [m]."""
    return step.time.contact * float(step.found.settings["feed"])


def _set_force(step: Step) -> float:
    return float(step.found.settings["force"])


@singledispatch
def _tool(desk: Any, planned: float) -> TurningTool:
    """The tool of a desk with the spindle that turns it."""
    raise TypeError(f"no tool known for {type(desk).__name__}")


@_tool.register
def _(desk: CutterDesk, planned: float) -> TurningTool:
    tool, disc = desk.tool, desk.family.is_disc
    return TurningTool(
        tool.name, desk.family.geometry if disc else "cutter", tool.family, tool.diameter, tool.kerf,
        None if disc else tool.overhang, desk.spindle.speed_max, planned, tool.rated_speed,
    )  # fmt: skip


@_tool.register
def _(desk: AbrasiveDesk, planned: float) -> TurningTool:
    tool, family = desk.abrasive, desk.family
    return TurningTool(
        tool.name, family.tool, tool.family, tool.diameter, tool.width, tool.overhang, desk.spindle.speed_max, planned,
        tool.rated_speed, family.marked_speed, family.cautions,
    )  # fmt: skip


def work_of(feature: str, step: Step) -> Work:
    """The facts of one step."""
    found = step.found
    removed = removed_by(found.operation, step)
    desk = removed.desk
    tool = _tool(desk, float(found.settings["spindle_speed"]))
    coating = _coating(desk)
    material = desk.workpiece
    return Work(
        feature=feature,
        process=removed.process,
        tool=tool,
        group=coating.group if coating else material.group,
        dust=OF_COATING.get(coating.group, "plastic") if coating else material.dust,
        coating=coating.group if coating else None,
        volume=removed.volume,
        most_volume=removed.most,
        density=(coating or material).density.value,
        abrasive_share=reference.default("abrasive_dust_share").value if tool.abrasive else 0.0,
        contact=step.time.contact,
        power=max(_each(step, "power").values()),
        force=removed.force,
        feed=_feed(step),
        device=_device(desk),
    )


def _feed(step: Step) -> float:
    """Feed set, or that which follows from the depth to take off."""
    if "feed" in step.found.settings:
        return float(step.found.settings["feed"])
    return float(step.found.evaluation.predictions["nominal"].feed)


def _coating(desk: Desk) -> reference.Coating | None:
    if isinstance(desk.feature, Surface) and desk.feature.coating is not None:
        return reference.coating(desk.feature.coating)
    return None


def _device(desk: Desk) -> Device | None:
    own = desk.device
    if own is None:
        return None
    pneumatic = own.effective_area is not None or not own.has_loop
    return Device(own.name, own.kind, own.force_max, own.stroke, pneumatic)


def context_of(plan: Plan) -> Context:
    """Everything the rules look at, from a plan and the cell it is for."""
    loaded = plan.loaded
    job, cell = loaded.job, loaded.cell
    installed, robot = cell.installed, reference.robot_class(cell.robot.kind)
    works = tuple(work_of(feature.name, step) for feature in plan.features for step in feature.chosen.steps)
    steps = [step for feature in plan.features for step in feature.chosen.steps]
    return Context(
        title=job.job.title,
        cell=cell.title,
        material=plan.workpiece.title,
        group=plan.workpiece.group,
        works=works,
        cycle=plan.cycle.total,
        tool_changes=plan.cycle.tool_changes,
        tools_per_part=sum(1 / use.parts for use in plan.tools if use.parts),
        shift=plan.throughput.shift,
        parts_per_shift=plan.throughput.parts_per_shift,
        most_parts_per_shift=plan.throughput.most_parts_per_shift,
        robot=cell.robot.kind,
        top_speed=cell.robot.top_speed or robot.top_speed.value,
        air_speed=motion_of(loaded).air_speed,
        carried_mass=max(float(step.found.operation.conditions.robot.carried_mass) for step in steps),
        part_carried=cell.arrangement == "part-to-tool",
        part_mass=job.part.mass,
        holding=None if cell.holding is None else cell.holding.kind,
        margin=plan.margin,
        installed=installed,
        compositions=_compositions(loaded, plan.workpiece.group, works),
        certified=job.part.composition is not None,
        coating_content=None if job.part.coating_content is None else tuple(job.part.coating_content),
        families=FAMILIES,
        assumed_shift=installed.shift_length is None,
        cell_file=job.cell.file if isinstance(job.cell, CellFile) else None,
    )


def _compositions(loaded: LoadedJob, own: str, works: tuple[Work, ...]) -> Mapping[str, Mapping[str, float]]:
    """Mass shares by group worked; those of the certificate go before those of the tables."""
    certified = loaded.job.part.composition
    found: dict[str, Mapping[str, float]] = {}
    for group in dict.fromkeys(work.group for work in works):
        table = reference.composition_of(group)
        found[group] = {} if table is None else {name: share.value for name, share in table.shares.items()}
    if certified is not None and own in found:
        found[own] = certified.shares()
    return found
