"""From job, cell and reference tables to the conditions of one abrasive step on a surface."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics, reference
from finishplan.formula import INFINITY, Array
from finishplan.job import Compliance, Spindle, Surface
from finishplan.planning import abrasive_setup, surroundings
from finishplan.planning.abrasive_setup import AbrasiveDesk
from finishplan.planning.ledger import Ledger
from finishplan.planning.mounting import compliant_mount, position_errors, with_force_error
from finishplan.process.surface_abrasion import SurfaceCorner
from finishplan.process.surface_conditions import Abrasive, Product, SurfaceConditions, SurfaceState
from finishplan.reference import Coating


@dataclass(frozen=True)
class StepTask:
    """What one step of a sequence is for: where it starts from, what it takes off, what must come out.

    A step that only refines takes nothing off.
    """

    removal: float
    initial_roughness: float
    wanted_roughness: float
    taken_before: float


@dataclass(frozen=True)
class Covering:
    """What a raster has to cover: an area [m2] that measures `across` square to the lines [m], and how the
    robot turns at their ends [m/s2]."""

    area: Array
    across: Array
    acceleration: Array


@dataclass(frozen=True, eq=False)
class SurfaceSetup:
    """One step on a surface: who does it, and the conditions at every corner of the scatter."""

    surface: Surface
    desk: AbrasiveDesk
    task: StepTask
    covering: Covering
    corners: Mapping[SurfaceCorner, SurfaceConditions]

    @property
    def nominal(self) -> SurfaceConditions:
        return self.corners["nominal"]

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    @property
    def spindle(self) -> Spindle:
        return self.desk.spindle

    @property
    def device(self) -> Compliance:
        assert self.desk.device is not None
        return self.desk.device


def coating_of(surface: Surface) -> Coating | None:
    """The layer that is worked on, if it is not the part itself."""
    return None if surface.coating is None else reference.coating(surface.coating)


def surface_setup(desk: AbrasiveDesk, covering: Covering, task: StepTask) -> SurfaceSetup:
    """Conditions of one grit on a surface."""
    return _setup(desk, covering, task, _grit)


def refining_setup(desk: AbrasiveDesk, covering: Covering, task: StepTask) -> SurfaceSetup:
    """Conditions of a step that refines a surface."""
    return _setup(desk, covering, task, lambda desk, task: abrasive_setup.refiner(desk))


def _grit(desk: AbrasiveDesk, task: StepTask) -> Abrasive:
    decay = desk.ledger.assumed("abrasive.decay_ratio", "roughness_decay_depth", "number")
    return replace(
        abrasive_setup.abrasive(desk),
        roughness_decay=desk.ledger.derived(
            "abrasive.roughness_decay", float(decay) * task.initial_roughness, "roughness",
            "multiple of the roughness at the start",
        ),
    )  # fmt: skip


def _setup(
    desk: AbrasiveDesk,
    covering: Covering,
    task: StepTask,
    product: Callable[[AbrasiveDesk, StepTask], Product],
) -> SurfaceSetup:
    assert isinstance(desk.feature, Surface)
    assert desk.device is not None
    robot, coating = surroundings.robot(desk), coating_of(desk.feature)
    state = _state(desk, desk.feature, coating, covering, task)
    nominal = SurfaceConditions(
        surface=state,
        abrasive=product(desk, task),
        thermal=abrasive_setup.thermal(desk, coating),
        spindle=surroundings.spindle(desk),
        mount=compliant_mount(desk, desk.device, position_errors(desk, state.waviness_amplitude, robot)),
        robot=robot,
        rules=surroundings.rules(desk),
    )
    return SurfaceSetup(desk.feature, desk, task, covering, _corners(desk, nominal))


def _state(
    desk: AbrasiveDesk, surface: Surface, coating: Coating | None, covering: Covering, task: StepTask
) -> SurfaceState:
    ledger = desk.ledger
    amplitude, wavelength = surroundings.waviness(desk)
    layer, keep = _layer(desk, surface, coating)
    overhang = desk.figure_or_default("surface.overhang", surface.overhang, "fraction", ["overhang"], "pad_overhang")
    return SurfaceState(
        area=ledger.derived("surface.area", float(covering.area), "area", "from the geometry"),
        removal=ledger.derived("surface.removal", task.removal, "roughness", "depth this step has to take off"),
        initial_roughness=ledger.derived(
            "surface.initial_roughness", task.initial_roughness, "roughness", "left by the step before, or as found"
        ),
        wanted_roughness=ledger.derived(
            "surface.wanted_roughness", task.wanted_roughness, "roughness", "asked of this step"
        ),
        curvature_radius=_curvature(desk, surface),
        unevenness=desk.figure_or_default(
            "surface.unevenness", surface.unevenness, "fraction", ["unevenness"], "raster_unevenness"
        ),
        layer=layer,
        keep=keep,
        taken_before=ledger.derived(
            "surface.taken_before", task.taken_before, "roughness", "at most, by the steps before"
        ),
        edge_factor=ledger.record(
            "surface.edge_factor", physics.overhang_pressure_ratio(overhang), "number", "pad over the border"
        ),
        curved_contact_share=np.float64(1.0)
        if surface.curvature_radius is None
        else ledger.assumed("surface.curved_contact_share", "curved_contact_share", "fraction"),
        waviness_amplitude=amplitude,
        waviness_wavelength=wavelength,
    )


def _curvature(desk: AbrasiveDesk, surface: Surface) -> np.float64:
    if surface.curvature_radius is None:
        return desk.ledger.derived("surface.curvature_radius", INFINITY, "length", "flat, as no radius is given")
    return desk.figure("surface.curvature_radius", surface.curvature_radius, "length", "curvature_radius")


def _layer(desk: AbrasiveDesk, surface: Surface, coating: Coating | None) -> tuple[np.float64, np.float64]:
    """Least thickness of the layer, and what of it must survive."""
    ledger = desk.ledger
    if surface.layer_thickness is not None:
        least = surface.layer_thickness - (surface.layer_thickness_scatter or 0.0)
        place = desk.place("surface", desk.index, "layer_thickness")
        layer = ledger.given("surface.layer", least, "roughness", f"{place}, less its scatter")
    elif coating is not None:
        thickness = coating.thickness
        low = replace(thickness, value=thickness.value if thickness.low is None else thickness.low)
        layer = ledger.assumed_entry("surface.layer", low, "roughness", f"least thickness, layer: {coating.title}")
    else:
        return (
            ledger.derived("surface.layer", INFINITY, "roughness", "the part itself"),
            ledger.derived("surface.keep", 0.0, "roughness", "the part itself"),
        )
    if surface.layer_keep is not None:
        return layer, desk.figure("surface.keep", surface.layer_keep, "roughness", "layer_keep")
    share = coating.removable_share if coating is not None else reference.default("removable_share")
    keep = float(layer) * (1 - share.value)
    return layer, ledger.enter(
        "surface.keep", "assumption", keep, "roughness", f"share that may go, {share.path}",
        title="thickness of the layer that must survive", grade=share.grade,
    )  # fmt: skip


def _corners(desk: AbrasiveDesk, nominal: SurfaceConditions) -> dict[SurfaceCorner, SurfaceConditions]:
    """Nominal removal, and the extremes the variation from part to part can reach."""
    scatter = float(desk.ledger.assumed("abrasive.removal_scatter", "removal_scatter", "fraction"))

    def varied(sense: int) -> SurfaceConditions:
        mount, abrasive = with_force_error(nominal.mount, sense), nominal.abrasive.scattered(sense * scatter)
        return replace(nominal, abrasive=abrasive, mount=mount)

    return {"nominal": nominal, "least removal": varied(-1), "most removal": varied(1)}
