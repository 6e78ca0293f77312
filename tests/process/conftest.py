"""A plain edge, surface and gate with their tools in SI units, and how to change one figure of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.abrasive_tools import AbrasiveTool, FlatDisc, OrbitalPad, Roller, TiltedDisc
from finishplan.process.bulk_abrasion import BulkConditions, Stock
from finishplan.process.chip_law import PowerLaw
from finishplan.process.edge_abrasion import EdgeAbrasionConditions
from finishplan.process.edge_conditions import (
    CompliantMount,
    Cutter,
    EdgeConditions,
    EdgeState,
    Mount,
    OperatingPoint,
    RigidMount,
    RobotState,
    Rules,
    Spindle,
)
from finishplan.process.edge_cutting import Corner, Prediction, predict
from finishplan.process.surface_conditions import Abrasive, Rubbing, SurfaceConditions, SurfaceState, Thermal

Changer = Callable[..., EdgeConditions]

PASSIVE = CompliantMount(
    stiffness=300.0,
    reference_depth=0.4e-3,
    force_min=3.0,
    force_max=40.0,
    smallest_usable_force=4.0,
    force_error=0.0,
    friction=0.8,
    force_scatter=1.0,
    stroke=14e-3,
    stroke_needed=2e-3,
    other_errors=1.5e-3,
    end_stop_reserve=0.2,
    moving_mass=0.8,
    effective_area=None,
    bandwidth=None,
    open_loop_stiffness=300.0,
)
MOUNTS: Mapping[str, Mount] = {
    "passive": PASSIVE,
    "force loop": replace(PASSIVE, stiffness=0.0, bandwidth=10.0, open_loop_stiffness=60e3),
    "rigid": RigidMount(stiffness=4e5, moving_mass=6.0),
}
POINTS: Mapping[str, OperatingPoint] = {
    "passive": OperatingPoint(500.0, 0.06, 5.0, 1),
    "force loop": OperatingPoint(500.0, 0.06, 5.0, 1),
    "rigid": OperatingPoint(500.0, 0.06, 0.45e-3, 1),
}


def edge_conditions(mount: Mount) -> EdgeConditions:
    return EdgeConditions(
        edge=EdgeState(
            included_angle=np.pi / 2,
            burr_height=0.4e-3,
            burr_root_thickness=0.12e-3,
            burr_shape="triangular",
            leg_lower=0.3e-3,
            leg_upper=0.8e-3,
            waviness_amplitude=0.1e-3,
            waviness_wavelength=50e-3,
            path_error=0.0,
        ),
        chip_law=PowerLaw(kc11=720e6, mc=0.25, minimum_chip_thickness=2.4e-6, rake_factor=1.2, wear_factor=1.15),
        cutter=Cutter(
            diameter=8e-3,
            teeth=10.0,
            width_share=1.0,
            rated_speed=700.0,
            speed_low=8.0,
            speed_high=15.0,
            feed_high=30e-6,
            force_ratio=1.2,
            bending_diameter=6e-3,
            overhang=30e-3,
            modulus=207e9,
        ),
        spindle=Spindle(
            speed_min=100.0,
            speed_max=667.0,
            curve_speeds=np.array([100.0, 300.0, 667.0]),
            curve_powers=np.array([100.0, 400.0, 300.0]),
        ),
        mount=mount,
        robot=RobotState(payload=20.0, carried_mass=4.0, top_speed=1.0, path_accuracy=0.1e-3),
        rules=Rules(
            contact_stiffness=3e5,
            impact_allowance=1.5,
            approach_speed_max=0.02,
            approach_speed_min=0.002,
            force_ripple_allowance=0.2,
            form_error_factor=3.0,
        ),
    )


def with_field(conditions: EdgeConditions, path: str, value: Any) -> EdgeConditions:
    """The conditions with one figure, "group.field", replaced."""
    group, field = path.split(".")
    return replace(conditions, **{group: replace(getattr(conditions, group), **{field: value})})


@pytest.fixture
def conditions() -> Callable[[str], EdgeConditions]:
    """Conditions under a mount: "passive", "force loop" or "rigid"."""
    return lambda kind: edge_conditions(MOUNTS[kind])


@pytest.fixture
def point() -> Callable[[str], OperatingPoint]:
    """A middling operating point for a mount."""
    return lambda kind: POINTS[kind]


@pytest.fixture
def changed() -> Changer:
    return with_field


@pytest.fixture
def corners() -> Callable[[EdgeConditions, OperatingPoint], dict[Corner, Prediction]]:
    """Predictions for a spread of burr, position and hardness wide enough to put the breaks astride the middle."""

    def state(given: EdgeConditions, burr: float, error: float, hardness: float) -> EdgeConditions:
        edge = replace(given.edge, burr_height=burr * given.edge.burr_height, path_error=error)
        return replace(given, edge=edge, chip_law=replace(given.chip_law, kc11=hardness * given.chip_law.kc11))

    def spread(given: EdgeConditions, at: OperatingPoint) -> dict[Corner, Prediction]:
        return {
            "nominal": predict(given, at),
            "smallest break": predict(state(given, 1.5, -0.15e-3, 1.3), at),
            "largest break": predict(state(given, 0.5, 0.15e-3, 0.7), at),
            "heaviest load": predict(state(given, 1.5, 0.15e-3, 1.3), at),
        }

    return spread


FORCE_AXIS = replace(PASSIVE, stiffness=0.0, bandwidth=12.0, open_loop_stiffness=100e3, force_max=200.0, stroke=35e-3)

TOOLS: Mapping[str, AbrasiveTool] = {
    "roller": Roller(diameter=0.12, width=0.05, modulus=3e6, thickness=0.02),
    "flat disc": FlatDisc(diameter=0.125, modulus=0.5e6, thickness=0.02),
    "orbital": OrbitalPad(diameter=0.15, orbit=5e-3, modulus=0.2e6, thickness=0.01),
    "tilted disc": TiltedDisc(diameter=0.125, tilt=np.radians(8), modulus=5e6, thickness=0.01),
}


def abrasive_on(tool: AbrasiveTool) -> Abrasive:
    return Abrasive(
        tool=tool,
        grain=Rubbing(conductivity=35.0, contact_radius=15e-6, carried_away=0.25),
        coefficient=2e-11,
        coefficient_factor=1.0,
        force_ratio=0.45,
        floor_roughness=0.5e-6,
        roughness_decay=3e-6,
        rated_speed=200.0,
        speed_low=1.0,
        speed_high=3.0,
        pressure_low=1e3,
        pressure_high=8e3,
        force_low=15.0,
        force_high=60.0,
        life_volume=1e-6,
    )


def surface_on(tool: AbrasiveTool) -> SurfaceConditions:
    """A curved, coated surface with room to every limit under the orbital pad."""
    edge = edge_conditions(FORCE_AXIS)
    return SurfaceConditions(
        surface=SurfaceState(
            area=0.4,
            removal=8e-6,
            initial_roughness=1.6e-6,
            wanted_roughness=1.2e-6,
            curvature_radius=20.0,
            unevenness=0.4,
            layer=60e-6,
            keep=20e-6,
            taken_before=4e-6,
            edge_factor=1.3,
            curved_contact_share=0.8,
            waviness_amplitude=0.1e-3,
            waviness_wavelength=0.05,
        ),
        abrasive=abrasive_on(tool),
        thermal=Thermal(conductivity=0.2, density=1400.0, specific_heat=1300.0, room=40.0),
        spindle=edge.spindle,
        mount=FORCE_AXIS,
        robot=replace(edge.robot, path_accuracy=0.3e-3),
        rules=edge.rules,
    )


def scattered(state: Any, sense: int) -> Any:
    """Conditions with a fifth more or less removal, and the friction of the device with or against the force."""
    return replace(
        state,
        abrasive=state.abrasive.scattered(0.2 * sense),
        mount=replace(state.mount, force_error=sense * state.mount.friction),
    )


@pytest.fixture(params=TOOLS)
def tool(request: pytest.FixtureRequest) -> AbrasiveTool:
    """Every kind of abrasive tool in turn."""
    return TOOLS[request.param]


@pytest.fixture
def tools() -> Mapping[str, AbrasiveTool]:
    return TOOLS


@pytest.fixture
def surface() -> SurfaceConditions:
    return surface_on(TOOLS["orbital"])


@pytest.fixture
def with_tool() -> Callable[[AbrasiveTool], SurfaceConditions]:
    return surface_on


@pytest.fixture
def scatter() -> Callable[[Any, int], Any]:
    return scattered


@pytest.fixture
def edge_under_abrasive() -> EdgeAbrasionConditions:
    edge, surface = edge_conditions(FORCE_AXIS), surface_on(TOOLS["roller"])
    belt = replace(surface.abrasive, speed_low=15.0, speed_high=30.0)
    steel = Thermal(conductivity=45.0, density=7500.0, specific_heat=500.0, room=300.0)
    return EdgeAbrasionConditions(edge.edge, belt, steel, edge.spindle, FORCE_AXIS, edge.robot, edge.rules)


@pytest.fixture
def gate(edge_under_abrasive: EdgeAbrasionConditions) -> BulkConditions:
    """A gate of 18 mm by 30 mm by 2 mm under the belt."""
    edge = edge_under_abrasive
    return BulkConditions(
        Stock(volume=1.08e-6, length=0.03, width=0.018),
        edge.abrasive, edge.thermal, edge.spindle, edge.mount, edge.robot, edge.rules,
    )  # fmt: skip
