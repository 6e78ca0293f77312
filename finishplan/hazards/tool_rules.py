"""Rules on turning tools: how fast they may run, and what flies off when one breaks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from finishplan.hazards.context import Context, TurningTool
from finishplan.hazards.note import Amount, Comparison, Finding, Rule
from finishplan.hazards.wording import GUARD_DESIGNER, MAKER, asked, assumption, default, from_memory
from finishplan.physics.guarding import (
    GUARD_EXPOSURES,
    TONGUE_GAP,
    ejected_energy,
    piece_energy_bound,
    rotational_energy,
    speed_utilisation,
    wheel_inertia,
    wheel_mass,
)

BONDED: Final = ("bonded wheel", "cut-off wheel")
"""Families that are grain and bond all through, so that the whole wheel may burst."""


def _rated(context: Context) -> Finding | None:
    if not context.tools:
        return None
    worst = max(context.tools, key=lambda tool: tool.free_rotation / tool.rated_rotation)
    marked = worst.free_surface_speed / worst.free_rotation * worst.rated_rotation
    share = float(speed_utilisation(worst.diameter, worst.free_rotation, marked))
    return Finding(
        Comparison("spindle running free", worst.free_rotation, worst.rated_rotation, "rotation", "at most"),
        where=(worst.name,),
        also=(
            Amount("share of the marked speed", share, "fraction"),
            Amount("planned speed of it", worst.planned_rotation, "rotation"),
            *(
                Amount(f"about {tool.family}", "; ".join(tool.cautions))
                for tool in {tool.family: tool for tool in context.tools if tool.cautions}.values()
            ),
        ),
    )


def _rim(context: Context) -> Finding | None:
    marked = [(tool, tool.marked_speed) for tool in context.tools if tool.marked_speed is not None]
    if not marked:
        return None
    worst, usual = max(marked, key=lambda pair: pair[0].free_surface_speed / pair[1].value)
    return Finding(
        Comparison(
            "rim with the spindle running free", worst.free_surface_speed, usual.value, "surface speed", "at most"
        ),
        where=(worst.name,),
        assumed=(f"usual marking of a {worst.family} ({usual.grade}); that on the product governs",),
    )


def _wheel_guard(context: Context) -> Finding | None:
    wheels = [tool for tool in context.tools if tool.family in BONDED or tool.kind == "cut-off"]
    if not wheels:
        return None
    exposures = {tool.name: GUARD_EXPOSURES[_machine(tool, context)] for tool in wheels}
    name = min(exposures, key=lambda tool: exposures[tool].angle.governing.value)
    angle, machine, stated = exposures[name].angle, exposures[name].machine, context.installed.wheel_guard_angle
    tongue = (Amount(f"tongue to rim, at most, {TONGUE_GAP.source}", TONGUE_GAP.value, "length"),)
    return Finding(
        Comparison("open angle of the guard around the wheel", stated, angle.governing.value, "angle", "at most"),
        where=(name,),
        also=(
            *(Amount(f"{each.source}{from_memory(each.grade)}", each.value, "angle") for each in angle.figures),
            *(tongue if context.part_carried else ()),
        ),
        assumed=(f"read as {machine}",),
        asks=asked(wheel_guard_angle=stated),
        source=angle.governing.source,
    )


def _machine(tool: TurningTool, context: Context) -> str:
    """The row of the wheel guard tables a wheel is read by."""
    if tool.kind == "cut-off":
        return "cutting-off machine"
    return "bench or floor stand" if context.part_carried else "portable"


def _burst(context: Context) -> Finding | None:
    wheels = [tool for tool in context.tools if tool.family in BONDED]
    return _worst_energy(
        context, wheels, _piece_energy, "a third of a wheel that bursts at the free-running speed",
        (assumption("wheel_density", "density"), assumption("wheel_bore_share", "fraction")),
    )  # fmt: skip


def _piece_energy(tool: TurningTool) -> float:
    """Most energy of a third of a wheel [J]."""
    return float(piece_energy_bound(_stored(tool, default("wheel_density"))))


def _stored(tool: TurningTool, density: float) -> float:
    """Energy of a wheel that turns as fast as its spindle can [J]."""
    bore = default("wheel_bore_share") * tool.diameter
    mass = wheel_mass(tool.diameter, bore, tool.width or 0.0, density)
    return float(rotational_energy(wheel_inertia(mass, tool.diameter, bore), tool.free_rotation))


def _jammed(context: Context) -> Finding | None:
    discs = [tool for tool in context.tools if tool.disc]
    return _worst_energy(
        context, discs, _disc_energy, "all that a disc holds at the free-running speed, let go when it jams",
        (assumption("disc_density", "density"), "as thick all through as it cuts, an upper bound"),
    )  # fmt: skip


def _disc_energy(tool: TurningTool) -> float:
    return _stored(tool, default("wheel_density" if tool.family in BONDED else "disc_density"))


def _thrown(context: Context) -> Finding | None:
    cutters = [tool for tool in context.tools if tool.overhang is not None]
    return _worst_energy(
        context, cutters, _cutter_energy, "a cutter that breaks off at the free-running speed",
        (assumption("carbide_density", "density"), "it breaks at the holder, bent out square before it lets go"),
    )  # fmt: skip


def _cutter_energy(tool: TurningTool) -> float:
    """Energy of all that stands out of the holder, thrown from the end of a bent shank [J]."""
    length = tool.overhang or 0.0
    mass = wheel_mass(tool.diameter, 0.0, length, default("carbide_density"))
    return float(ejected_energy(mass, length / 2, tool.free_rotation))


def _worst_energy(
    context: Context,
    tools: list[TurningTool],
    energy: Callable[[TurningTool], float],
    what: str,
    assumed: tuple[str, ...],
) -> Finding | None:
    """The most energetic fragment of a kind of tool against what the enclosure holds."""
    if not tools:
        return None
    worst = max(tools, key=energy)
    held = context.installed.guard_energy
    return Finding(
        Comparison(what, energy(worst), held, "energy", "at most"),
        where=(worst.name,),
        also=(Amount("rim at the free-running speed", worst.free_surface_speed, "surface speed"),),
        assumed=assumed,
        asks=asked(guard_energy=held),
    )


TOOL_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "rated-speed", "guarding", "Marked speed of the tool",
        "29 CFR 1910.243(c)(5)(i); ANSI B7.1-2000, 7.1: the speed without load counts", MAKER,
        "Compare the marking on the tool with the highest speed of its spindle; a long overhang lowers it.",
        _rated, "stop",
    ),
    Rule(
        "rim-speed", "guarding", "Surface speed usual for the product",
        "EN 12413, EN 13743: marked working speeds (from memory)", MAKER,
        "Read the marking of the very product on the spindle.",
        _rim, "check",
    ),
    Rule(
        "wheel-guard", "guarding", "Guard around an abrasive wheel",
        "29 CFR 1910.215(b)", GUARD_DESIGNER,
        "Is there a guard that leaves no more of the rim open, between wheel and people wherever the robot goes?",
        _wheel_guard, "stop",
    ),
    Rule(
        "wheel-burst", "guarding", "A bursting wheel and its guard",
        "mechanics of a rigid annulus; ISO 14120, ejected parts (clause from memory)", GUARD_DESIGNER,
        "Hood and enclosure sized to the standard of the machine; ring test and run-up with nobody near.",
        _burst, "stop",
    ),
    Rule(
        "jammed-disc", "guarding", "A disc that jams in its kerf",
        "mechanics of a rigid annulus; 29 CFR 1910.213, saws for wood; ISO 14120, ejected parts (clauses from memory)",
        GUARD_DESIGNER,
        "Does the offcut open the kerf at every place of the path, and can the enclosure hold teeth, disc and "
        "offcut if it does not?",
        _jammed, "stop",
    ),
    Rule(
        "thrown-cutter", "guarding", "A cutter that breaks off and its guard",
        "mechanics of a point mass; ISO 14120, ejected parts (clause from memory)", GUARD_DESIGNER,
        "Can walls, windows and gaps of the enclosure hold it, from every place the robot goes?",
        _thrown, "stop",
    ),
)  # fmt: skip
