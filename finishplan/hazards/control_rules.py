"""Rules on stored force, lost control of force, dropped tools, and hands in the cell for service."""

from __future__ import annotations

import math
from typing import Final

from finishplan.hazards.context import Context
from finishplan.hazards.note import Amount, Comparison, Finding, Rule
from finishplan.hazards.wording import AUTHORITY, GUARD_DESIGNER, NO_TIME_LOST, asked, provided
from finishplan.job.compliance import FORCE_LOOPS


def _residual(context: Context) -> Finding | None:
    devices = [device for device in context.devices if device.pneumatic]
    if not devices:
        return None
    names = {device.name for device in devices}
    planned = max(work.force for work in context.works if work.device and work.device.name in names)
    return Finding(
        provided("force off the devices at a stop", context.installed.device_vented, "yes"),
        where=tuple(device.name for device in devices),
        also=(
            Amount("highest planned force", planned, "force"),
            Amount("highest force of the device", max(device.force_max for device in devices), "force"),
        ),
        asks=asked(device_vented=context.installed.device_vented),
    )


def _lost(context: Context) -> Finding | None:
    loops = [device for device in context.devices if device.kind in FORCE_LOOPS]
    if not loops:
        return None
    return Finding(
        provided("loss of force control stops the robot", context.installed.force_monitored, "yes"),
        where=tuple(device.name for device in loops),
        also=(
            Amount("force it may rise to", max(device.force_max for device in loops), "force"),
            Amount("travel it may shoot through", max(device.stroke for device in loops), "length"),
        ),
        asks=asked(force_monitored=context.installed.force_monitored),
    )


def _drop(context: Context) -> Finding | None:
    if context.tool_changes < 1 or context.part_carried:
        return None
    return Finding(
        provided("changer holds without air or power", context.installed.changer_locks_without_air, "yes"),
        also=(
            Amount("heaviest load on it", context.carried_mass, "mass"),
            Amount("changes in a shift, as planned", int(context.tool_changes * context.parts_per_shift)),
        ),
        asks=asked(changer_locks_without_air=context.installed.changer_locks_without_air),
    )


def _part(context: Context) -> Finding | None:
    if not context.works or not context.part_carried:
        return None
    return Finding(
        provided("gripper holds without air or power", context.installed.gripper_holds_without_power, "yes"),
        also=(
            Amount("highest planned force against it", max(work.force for work in context.works), "force"),
            Amount("speed of the robot with it, at most", context.top_speed, "feed"),
        ),
        asks=asked(gripper_holds_without_power=context.installed.gripper_holds_without_power),
    )


def _thrown(context: Context) -> Finding | None:
    if not context.works or not context.part_carried:
        return None
    fastest, held = max(context.tools, key=lambda tool: tool.free_surface_speed), context.installed.guard_energy
    speed, mass = fastest.free_surface_speed, context.part_mass
    return Finding(
        Comparison(
            "a part that the tool catches and throws", None if mass is None else mass * speed**2 / 2, held, "energy",
            "at most",
        ),
        where=(fastest.name,),
        also=(Amount("rim at the free-running speed", speed, "surface speed"),),
        assumed=("the whole part goes off at the speed of the rim: the most it can",),
        asks=(*asked(guard_energy=held), *(("part.mass",) if mass is None else ())),
    )  # fmt: skip


def _hold(context: Context) -> Finding | None:
    if not context.works or context.holding is None:
        return None
    stated = context.installed.holding_monitored
    return Finding(
        provided("loss of the hold stops robot and spindle", stated, "yes"),
        also=(
            Amount("held by", context.holding),
            Amount("highest planned force against it", max(work.force for work in context.works), "force"),
        ),
        asks=asked(holding_monitored=stated),
    )


def _service(context: Context) -> Finding | None:
    if not context.works:
        return None
    changes = math.ceil(context.tools_per_part * context.most_parts_per_shift)
    return Finding(
        provided("lockout procedure for changing and emptying", context.installed.lockout_procedure, "yes"),
        also=(Amount("worn tools and abrasives in a shift, at most", changes),),
        assumed=(NO_TIME_LOST,),
        asks=asked(lockout_procedure=context.installed.lockout_procedure),
    )


CONTROL_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "residual-force", "control of the process", "Force left in compliant devices after a stop",
        "ISO 4414:2010, stored pressure; ISO 10218-2, stored energy (clauses from memory)", GUARD_DESIGNER,
        "Stop the cell with the tool on a part: does the device still press, and can it jump out?",
        _residual,
    ),
    Rule(
        "force-loss", "control of the process", "Loss of force control",
        "ISO 10218-2, end-effectors and their control (clause from memory)", GUARD_DESIGNER,
        "Pull the sensor's plug in a trial: is the stroke watched, and does the robot stop and retract?",
        _lost,
    ),
    Rule(
        "changer-drop", "control of the process", "Tool dropped by the changer",
        "ISO 10218-2, end-effectors: loss of energy must not release the load (from memory)", GUARD_DESIGNER,
        "Cut air and power with a tool on, over the rack and away from it.",
        _drop,
    ),
    Rule(
        "dropped-part", "control of the process", "Part thrown by the gripper",
        "ISO 10218-2, end-effectors: loss of energy must not release the load (from memory)", GUARD_DESIGNER,
        "Cut air and power at full speed with a part in hand, and with the tool pressing on it.",
        _part,
    ),
    Rule(
        "thrown-part", "control of the process", "Part caught and thrown by the tool",
        "mechanics of a point mass; ISO 14120, ejected parts (clause from memory)", GUARD_DESIGNER,
        "Which way does belt or wheel throw, and what stands there? Work on the side that runs away from the robot.",
        _thrown, "check",
    ),
    Rule(
        "hold-loss", "control of the process", "Hold on the part lost while the tool runs",
        "ISO 10218-2, end-effectors; ISO 4414:2010, loss of pressure (clauses from memory)", GUARD_DESIGNER,
        "Let the vacuum or the clamping pressure fall in a trial: does the spindle stop before the part moves?",
        _hold,
    ),
    Rule(
        "lockout", "handling", "Hands in the cell for service",
        "29 CFR 1910.147 (from memory)", AUTHORITY,
        "Are spindle, air and robot locked out for changing abrasives, clearing parts and emptying dust?",
        _service,
    ),
)  # fmt: skip
