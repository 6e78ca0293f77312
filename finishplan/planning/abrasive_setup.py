"""The abrasive on its tool, from the cell and the reference tables, for surfaces, edges and removals alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

import numpy as np

from finishplan import physics, reference
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import Contour, Edge, LoadedJob, Removal, Surface
from finishplan.planning.desk import Desk, drive_of
from finishplan.planning.ledger import Ledger, describe
from finishplan.planning.operation import Range
from finishplan.planning.surroundings import part_thermal, temperature_room
from finishplan.process.abrasive_tools import AbrasiveTool, FlatDisc, OrbitalPad, Roller, TiltedDisc
from finishplan.process.edge_conditions import Spindle
from finishplan.process.surface_conditions import Abrasive, Product, Rubbing, Thermal
from finishplan.process.surface_refining import Refiner
from finishplan.reference import AbrasiveFamily, Backing, Grit, Value

USUAL_BACKING: Final[Mapping[str, str]] = {
    "belt": "medium contact wheel",
    "disc": "rubber pad",
    "orbital": "medium foam pad",
}
"""Backing assumed for a kind of tool whose own is not named."""


@dataclass(frozen=True, eq=False)
class AbrasiveDesk(Desk):
    """One feature under one abrasive of one grit."""

    abrasive: AbrasiveEntry
    family: AbrasiveFamily
    grit: Grit | None
    group: str

    @property
    def at(self) -> tuple[str, int]:
        return "abrasive", self.loaded.cell.abrasive.index(self.abrasive)

    @property
    def label(self) -> str:
        """Name of the tool with its grit, as it stands in the rack."""
        return label_of(self.abrasive, self.grit)


def label_of(entry: AbrasiveEntry, grit: Grit | None) -> str:
    """Name of an abrasive with the grit on it."""
    return entry.name if grit is None else f"{entry.name} {grit.name}"


def abrasive(desk: AbrasiveDesk) -> Abrasive:
    """Graded grain in the middle of its change interval, with the window of its family."""
    ledger, fresh = desk.ledger, _coefficient(desk)
    at_change = ledger.assumed("abrasive.end_of_life", "abrasive_end_of_life", "fraction")
    return Abrasive(
        **_product(desk),
        coefficient=ledger.derived(
            "abrasive.coefficient", float(fresh * np.sqrt(at_change)), "removal coefficient",
            "in the middle of the change interval, between the fresh abrasive and its end of life",
        ),
        coefficient_factor=ledger.derived("abrasive.coefficient_factor", 1.0, "number", "nominal removal"),
        floor_roughness=_floor(desk),
        roughness_decay=np.float64(0.0),
        life_volume=_life_volume(desk, float(fresh)),
    )  # fmt: skip


def refiner(desk: AbrasiveDesk) -> Refiner:
    """A product without graded grain, with the window of its family."""
    ledger = desk.ledger
    return Refiner(
        **_product(desk),
        refinement=ledger.looked_up("abrasive.refinement", refinement_of(desk), "number"),
        feed_high=ledger.assumed("abrasive.feed_high", "refining_feed", "feed"),
        life=ledger.looked_up("abrasive.life", desk.family.window(desk.group).half_life, "time"),
    )


def refinement_of(desk: AbrasiveDesk) -> Value:
    """Roughness after over before of a family without graded grain."""
    assert desk.family.refinement is not None
    return desk.family.refinement


def _product(desk: AbrasiveDesk) -> dict[str, Any]:
    """Fields that every product has."""
    ledger, window = desk.ledger, desk.family.window(desk.group)
    low, high = (
        ledger.derived(
            f"abrasive.{name}", entry.value * _size(desk), "force", f"scaled with the size from {describe(entry)}"
        )
        for name, entry in (("force_low", window.force_low), ("force_high", window.force_high))
    )
    return {
        "tool": _TOOLS[desk.family.tool](desk),
        "grain": _grain(desk),
        "force_ratio": ledger.looked_up("abrasive.force_ratio", desk.family.force_ratio_on(desk.group), "number"),
        "rated_speed": desk.cell_figure(
            "abrasive.rated_speed", desk.abrasive.rated_speed, "rotation", *desk.at, "rated_speed"
        ),
        "speed_low": ledger.looked_up("abrasive.speed_low", window.speed_low, "surface speed"),
        "speed_high": ledger.looked_up("abrasive.speed_high", window.speed_high, "surface speed"),
        "pressure_low": ledger.looked_up("abrasive.pressure_low", desk.family.pressure_low, "pressure"),
        "pressure_high": ledger.looked_up("abrasive.pressure_high", desk.family.pressure_high, "pressure"),
        "force_low": low,
        "force_high": high,
    }


def _grain(desk: AbrasiveDesk) -> Rubbing:
    """What rubs: grain, or on a buff the cloth that carries the compound."""
    ledger, own = desk.ledger, desk.family.grain_conductivity
    rubbing = "buff_conductivity" if desk.family.tool == "buff" else "grain_conductivity"
    return Rubbing(
        conductivity=ledger.assumed("grain.conductivity", rubbing, "conductivity")
        if own is None
        else ledger.looked_up("grain.conductivity", own, "conductivity"),
        contact_radius=ledger.assumed("grain.contact_radius", "grain_contact_radius", "fine length"),
        carried_away=ledger.assumed("grain.carried_away", "swarf_heat_share", "fraction"),
    )


def _size(desk: AbrasiveDesk) -> float:
    """Size of the tool over the one that the forces of its family are stated for."""
    return (desk.abrasive.width or desk.abrasive.diameter) / desk.family.reference_size.value


def _coefficient(desk: AbrasiveDesk) -> np.float64:
    """Removal coefficient of the fresh abrasive, corrected by what the user has measured."""
    entry = desk.family.removal_coefficient(desk.group, _grain_size(desk))
    factor = desk.loaded.job.part.removal_factor
    if factor is None:
        return desk.ledger.looked_up("abrasive.fresh_coefficient", entry, "removal coefficient")
    text = f"{factor:g} ({desk.place('part', 'removal_factor')}) x {describe(entry)}"
    return desk.ledger.derived("abrasive.fresh_coefficient", factor * entry.value, "removal coefficient", text)


def _grain_size(desk: AbrasiveDesk) -> float:
    assert desk.grit is not None
    return desk.grit.size.value


def _floor(desk: AbrasiveDesk) -> np.float64:
    """Mean roughness the grit tends to."""
    assert desk.grit is not None
    entry = desk.family.roughness_factor(desk.group)
    factor = desk.ledger.looked_up("abrasive.roughness_factor", entry, "number")
    size = desk.ledger.looked_up("abrasive.grain_size", desk.grit.size, "roughness")
    floor = physics.floor_roughness(factor, size)
    return desk.ledger.record("abrasive.floor_roughness", floor, "roughness", f"grain size times {describe(entry)}")


def _life_volume(desk: AbrasiveDesk, fresh: float) -> np.float64:
    """Volume scale of dulling: that of the half life at the middle of the windows, for the size of the tool."""
    window = desk.family.window(desk.group)
    force = _size(desk) * (window.force_low.value + window.force_high.value) / 2
    speed = (window.speed_low.value + window.speed_high.value) / 2
    volume = fresh * force * speed * window.half_life.value
    text = f"removed in the half life at usual force and speed, {describe(window.half_life)}"
    return desk.ledger.derived("abrasive.life_volume", volume, "volume", text)


def roughness_band(desk: AbrasiveDesk) -> tuple[float, float]:
    """Mean roughness the grit tends to, over the published band of the factor [m]."""
    entry = desk.family.roughness_factor(desk.group)
    return (entry.low or entry.value) * _grain_size(desk), (entry.high or entry.value) * _grain_size(desk)


def coefficient_band(desk: AbrasiveDesk) -> tuple[float, float]:
    """Removal coefficient over its band, each over the value: what a first trial settles."""
    entry = desk.family.removal_coefficient(desk.group, _grain_size(desk))
    return (entry.low or entry.value) / entry.value, (entry.high or entry.value) / entry.value


def _roller(desk: AbrasiveDesk) -> AbrasiveTool:
    assert desk.abrasive.width is not None
    modulus, thickness = _yielding(desk)
    width = desk.cell_figure("abrasive.width", desk.abrasive.width, "length", *desk.at, "width")
    return Roller(_diameter(desk), width, modulus, thickness)


def _disc(desk: AbrasiveDesk) -> AbrasiveTool:
    modulus, thickness = _yielding(desk)
    if desk.abrasive.tilt is None:
        return FlatDisc(_diameter(desk), modulus, thickness)
    tilt = desk.cell_figure("abrasive.tilt", desk.abrasive.tilt, "angle", *desk.at, "tilt")
    return TiltedDisc(_diameter(desk), tilt, modulus, thickness)


def _orbital(desk: AbrasiveDesk) -> AbrasiveTool:
    assert desk.abrasive.orbit is not None
    orbit = desk.cell_figure("abrasive.orbit", desk.abrasive.orbit, "length", *desk.at, "orbit")
    return OrbitalPad(_diameter(desk), orbit, *_yielding(desk))


def _diameter(desk: AbrasiveDesk) -> np.float64:
    return desk.cell_figure("abrasive.diameter", desk.abrasive.diameter, "length", *desk.at, "diameter")


_TOOLS: Final[Mapping[str, Callable[[AbrasiveDesk], AbrasiveTool]]] = {
    "belt": _roller,
    "wheel": _roller,
    "brush": _roller,
    "buff": _roller,
    "cut-off": _roller,
    "grit router": _roller,
    "disc": _disc,
    "orbital": _orbital,
}


def _yielding(desk: AbrasiveDesk) -> tuple[np.float64, np.float64]:
    """Modulus and thickness of what yields behind the grain."""
    ledger = desk.ledger
    if isinstance(desk.feature, Contour):
        rigid = ledger.derived("abrasive.modulus", np.inf, "strength", "a tool that cuts to size is taken as rigid")
        return rigid, ledger.derived("abrasive.thickness", desk.abrasive.diameter / 2, "length", "radius of the tool")
    if desk.abrasive.backing is None and desk.family.tool not in USUAL_BACKING:
        return (
            ledger.assumed("abrasive.modulus", "soft_wheel_modulus", "strength"),
            ledger.derived("abrasive.thickness", desk.abrasive.diameter / 4, "length", "half the radius of the wheel"),
        )
    if desk.abrasive.backing is None:
        backing = reference.backing(USUAL_BACKING[desk.family.tool])
        return (
            ledger.assumed_entry("abrasive.modulus", _modulus(backing), "strength", f"backing: {backing.title}"),
            ledger.assumed_entry("abrasive.thickness", backing.thickness, "length", f"thickness of {backing.title}"),
        )
    backing = reference.backing(desk.abrasive.backing)
    return (
        ledger.looked_up("abrasive.modulus", _modulus(backing), "strength"),
        ledger.looked_up("abrasive.thickness", backing.thickness, "length"),
    )


def _modulus(backing: Backing) -> Value:
    """Modulus of a backing, from its Shore hardness where that is what is known."""
    if backing.modulus is not None:
        return backing.modulus
    assert backing.shore_a is not None
    return replace(
        backing.shore_a,
        value=float(physics.shore_a_modulus(backing.shore_a.value)),
        low=None,
        high=None,
        locator=f"{backing.shore_a.locator}; modulus from Shore A {backing.shore_a.value:g}",
    )


def thermal(desk: AbrasiveDesk, coating: reference.Coating | None) -> Thermal:
    """How the surface takes heat, and the rise it may see from the workshop's temperature."""
    if coating is None:
        return part_thermal(desk)
    ledger = desk.ledger
    return Thermal(
        ledger.assumed("thermal.conductivity", "coating_conductivity", "conductivity"),
        ledger.looked_up("thermal.density", coating.density, "density"),
        ledger.assumed("thermal.specific_heat", "coating_specific_heat", "specific heat"),
        temperature_room(desk, coating.temperature_limit),
    )


def grits_of(loaded: LoadedJob, entry: AbrasiveEntry, allowed: list[str] | None) -> list[Grit]:
    """Grits of an abrasive that a feature allows, coarse to fine."""
    names = [name for name in entry.grits or [] if allowed is None or name in allowed]
    return sorted((reference.grit(name) for name in names), key=lambda grit: -grit.size.value)


def open_abrasive_desk(
    loaded: LoadedJob,
    section: Literal["edge", "surface", "contour", "removal"],
    index: int,
    feature: Edge | Surface | Contour | Removal,
    entry: AbrasiveEntry,
    grit: Grit | None,
) -> AbrasiveDesk:
    """Look up everything a feature needs under an abrasive of the cell."""
    workpiece = reference.workpiece(loaded.job.part.material)
    spindle, device = drive_of(loaded, entry)
    coating = feature.coating if isinstance(feature, Surface) else None
    group = workpiece.group if coating is None else reference.coating(coating).group
    return AbrasiveDesk(
        loaded, section, index, feature, spindle, device, workpiece, Ledger(),
        entry, reference.abrasive(entry.family), grit, group,
    )  # fmt: skip


def abrasive_speed_range(abrasive: Product, spindle: Spindle) -> Range:
    """Speeds the spindle runs at, narrowed to the abrasive's rated speed and window where they meet."""
    tool = abrasive.tool
    turning = tool.orbit if isinstance(tool, OrbitalPad) else tool.diameter
    window_low = physics.spindle_speed(turning, abrasive.speed_low)
    window_high = np.minimum(abrasive.rated_speed, physics.spindle_speed(turning, abrasive.speed_high))
    low, high = float(max(spindle.speed_min, window_low)), float(min(spindle.speed_max, window_high))
    return Range(low, high) if low <= high else Range(float(spindle.speed_min), float(spindle.speed_max))
