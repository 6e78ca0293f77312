"""The abrasive as the model takes it: figures of the tables and the cell, each with its origin."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from finishplan import physics, reference
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_setup import (
    AbrasiveDesk,
    abrasive,
    abrasive_speed_range,
    coefficient_band,
    grits_of,
    open_abrasive_desk,
    roughness_band,
    thermal,
)
from finishplan.planning.plan import Plan
from finishplan.planning.surface_setup import Covering, StepTask, surface_setup
from finishplan.process.abrasive_tools import FlatDisc, OrbitalPad, Roller, TiltedDisc
from finishplan.process.surface_conditions import SurfaceConditions

Sanding = Callable[..., LoadedJob]
OVERHANG = 'overhang = "25 %"'
DISC = """
[[abrasive]]
name = "disc 125"
family = "fibre disc"
grits = ["P80"]
diameter = "125 mm"
rated_speed = "9000 rpm"
spindle = "belt drive"
"""


def desk_of(loaded: LoadedJob, tool: int = 0, name: str = "P120") -> AbrasiveDesk:
    surface, entry = loaded.job.surface[0], loaded.cell.abrasive[tool]
    return open_abrasive_desk(loaded, "surface", 0, surface, entry, reference.grit(name))


def state_of(loaded: LoadedJob, **task: float) -> SurfaceConditions:
    given = {"removal": 8e-6, "initial_roughness": 3e-6, "wanted_roughness": 2e-6, "taken_before": 0.0} | task
    return surface_setup(desk_of(loaded), Covering(0.24, 0.4, 3.0), StepTask(**given)).nominal


class TestTool:
    def test_kinds(self, sanding: Sanding) -> None:
        cell = [('[[spindle]]\nname = "grinder"', f'{DISC}\n[[spindle]]\nname = "grinder"')]
        tilted = [(cell[0][0], cell[0][1].replace('diameter = "125 mm"', 'diameter = "125 mm"\ntilt = "10 deg"'))]
        loaded = sanding()
        assert isinstance(abrasive(desk_of(loaded, 0)).tool, OrbitalPad)
        assert isinstance(abrasive(desk_of(loaded, 1)).tool, Roller)
        assert isinstance(abrasive(desk_of(sanding(cell=cell), 0, "P80")).tool, FlatDisc)
        assert isinstance(abrasive(desk_of(sanding(cell=tilted), 0, "P80")).tool, TiltedDisc)

    def test_dimensions_come_from_the_cell_and_say_so(self, panel: LoadedJob) -> None:
        desk = desk_of(panel)
        tool = abrasive(desk).tool
        assert isinstance(tool, OrbitalPad)
        assert (float(tool.diameter), float(tool.orbit)) == (pytest.approx(0.15), pytest.approx(5e-3))
        origin = desk.ledger.origin_of(tool.diameter)
        assert origin is not None
        assert "sanding_cell.toml:" in origin.text

    def test_a_backing_that_is_not_named_is_assumed(self, sanding: Sanding) -> None:
        desk = desk_of(sanding(cell=[('backing = "medium foam pad"\n', "")]))
        modulus = abrasive(desk).tool.modulus
        assert "medium foam pad" in {origin.title for origin in desk.ledger.assumptions()} or any(
            "backing" in origin.title for origin in desk.ledger.assumptions()
        )
        assert float(modulus) == pytest.approx(float(abrasive(desk_of(sanding())).tool.modulus))

    def test_forces_grow_with_the_size_of_the_tool(self, sanding: Sanding) -> None:
        small = abrasive(desk_of(sanding(cell=[('diameter = "150 mm"', 'diameter = "75 mm"')])))
        large = abrasive(desk_of(sanding()))
        for name in ("force_low", "force_high", "life_volume"):
            assert float(getattr(large, name)) == pytest.approx(2 * float(getattr(small, name)), rel=1e-12)
        family = reference.abrasive("orbital disc")
        window = family.window("steel-unalloyed")
        wanted = window.force_high.value * 0.15 / family.reference_size.value
        assert float(large.force_high) == pytest.approx(wanted, rel=1e-12)


class TestCoefficient:
    def test_a_measured_factor_scales_it_and_is_told(self, sanding: Sanding) -> None:
        tables, desk = (
            abrasive(desk_of(sanding())),
            desk_of(sanding(job=[("S235JR", 'S235JR"\nremoval_factor = 1.5#')])),
        )
        measured = abrasive(desk)
        assert float(measured.coefficient) == pytest.approx(1.5 * float(tables.coefficient), rel=1e-12)
        assert "removal_factor" in desk.ledger.by_field["abrasive.fresh_coefficient"].text

    def test_the_band_is_that_of_the_table_over_its_value(self, panel: LoadedJob) -> None:
        desk = desk_of(panel)
        entry = desk.family.removal_coefficient(desk.group, reference.grit("P120").size.value)
        low, high = coefficient_band(desk)
        assert low < 1 < high
        assert (low * entry.value, high * entry.value) == (pytest.approx(entry.low), pytest.approx(entry.high))

    def test_the_floor_lies_in_its_band_and_follows_the_grain(self, panel: LoadedJob) -> None:
        floors = [float(abrasive(desk_of(panel, name=name)).floor_roughness) for name in ("P80", "P120", "P180")]
        assert floors == sorted(floors, reverse=True)
        low, high = roughness_band(desk_of(panel, name="P80"))
        assert low <= floors[0] <= high


class TestGrits:
    def test_coarse_to_fine_whatever_the_order_in_the_file(self, sanding: Sanding) -> None:
        loaded = sanding(cell=[('["P80", "P120", "P180"]', '["P180", "P80", "P120"]')])
        assert [grit.name for grit in grits_of(loaded, loaded.cell.abrasive[0], None)] == ["P80", "P120", "P180"]

    def test_only_those_allowed(self, panel: LoadedJob) -> None:
        found = grits_of(panel, panel.cell.abrasive[0], ["P120", "P40"])
        assert [grit.name for grit in found] == ["P120"]


class TestSpeeds:
    def test_within_spindle_marking_and_window(self, panel: LoadedJob) -> None:
        state = state_of(panel)
        span = abrasive_speed_range(state.abrasive, state.spindle)
        assert span.low >= 4000 / 60 - 1e-9
        assert span.high <= 12000 / 60 + 1e-9
        assert np.pi * 5e-3 * span.low >= float(state.abrasive.speed_low) * (1 - 1e-9)

    def test_where_they_do_not_meet_the_range_of_the_spindle(self, sanding: Sanding) -> None:
        state = state_of(sanding(cell=[('orbit = "5 mm"', 'orbit = "0.5 mm"')]))
        span = abrasive_speed_range(state.abrasive, state.spindle)
        assert (span.low, span.high) == (pytest.approx(4000 / 60), pytest.approx(200.0))


class TestHeat:
    def test_the_room_is_up_to_the_limit_of_the_material(self, panel: LoadedJob) -> None:
        desk = desk_of(panel)
        room = reference.default("workshop_temperature").value
        assert float(thermal(desk, None).room) == pytest.approx(desk.workpiece.temperature_limit.value - room)
        found, steel = thermal(desk, None), desk.workpiece
        assert float(found.conductivity) == steel.conductivity.value
        assert (float(found.density), float(found.specific_heat)) == (steel.density.value, steel.specific_heat.value)

    def test_a_coating_bears_less_and_conducts_less(self, panel: LoadedJob) -> None:
        coated, bare = thermal(desk_of(panel), reference.coating("clearcoat")), thermal(desk_of(panel), None)
        assert coated.room < bare.room
        assert coated.conductivity < bare.conductivity
        assert float(coated.density) == reference.coating("clearcoat").density.value


class TestLayer:
    def given(self, sanding: Sanding, lines: str) -> Any:
        return state_of(sanding(job=[(OVERHANG, f"{OVERHANG}\n{lines}")])).surface

    def test_the_part_itself_has_none(self, panel: LoadedJob) -> None:
        surface = state_of(panel).surface
        assert (float(surface.layer), float(surface.keep)) == (np.inf, 0.0)

    def test_least_thickness_and_what_must_survive(self, sanding: Sanding) -> None:
        lines = 'layer_thickness = "70 um"\nlayer_thickness_scatter = "15 um"\nlayer_keep = "30 um"'
        surface = self.given(sanding, lines)
        assert (float(surface.layer), float(surface.keep)) == (pytest.approx(55e-6), pytest.approx(30e-6))

    def test_a_coating_that_says_nothing_is_taken_at_its_thinnest(self, sanding: Sanding) -> None:
        surface = self.given(sanding, 'coating = "industrial primer"')
        coating = reference.coating("industrial primer")
        assert float(surface.layer) == pytest.approx(coating.thickness.low or coating.thickness.value)
        assert float(surface.keep) == pytest.approx(float(surface.layer) * (1 - coating.removable_share.value))

    def test_a_layer_without_a_share_to_keep_takes_the_default(self, sanding: Sanding) -> None:
        surface = self.given(sanding, 'layer_thickness = "50 um"')
        share = reference.default("removable_share").value
        assert float(surface.keep) == pytest.approx(50e-6 * (1 - share))


def test_the_border_presses_harder_with_the_overhang(sanding: Sanding) -> None:
    factors = [
        float(state_of(sanding(job=[(OVERHANG, f'overhang = "{share} %"')])).surface.edge_factor)
        for share in (0, 10, 25, 40)
    ]
    assert factors[0] == 1.0
    assert factors == sorted(factors)
    assert factors[2] == pytest.approx(float(physics.overhang_pressure_ratio(0.25)))


def test_the_corners_are_the_scatter_of_removal_and_force(panel: LoadedJob) -> None:
    setup = surface_setup(desk_of(panel), Covering(0.24, 0.4, 3.0), StepTask(8e-6, 3e-6, 2e-6, 0.0))
    scatter = reference.default("removal_scatter").value
    for name, sense in (("least removal", -1), ("nominal", 0), ("most removal", 1)):
        corner: Any = setup.corners[name]  # type: ignore[index]
        assert float(corner.abrasive.coefficient_factor) == pytest.approx(1 + sense * scatter)
        assert float(corner.mount.force_error) == pytest.approx(sense * float(corner.mount.friction))


def test_a_spring_presses_more_where_the_part_stands_closer(example_plan: Callable[[str], Plan]) -> None:
    """The belt slide of the carried bracket has no loop: 0.5 N/mm, the default, over its position errors."""
    plan = example_plan("carried_bracket.toml")
    operation = next(
        step.found.operation for feature in plan.features for step in feature.chosen.steps if step.station == "belt 75"
    )
    cell, mount = plan.loaded.cell, operation.conditions.mount
    budget, amplitude = cell.error_budget, reference.default("waviness_amplitude").value
    given = [cell.robot.path_accuracy, amplitude, budget.part, budget.fixture, budget.tool_point, budget.wear]
    names = (None, None, "part_error", "fixture_error", "tool_point_error", "wear_error")
    errors = [
        reference.default(name).value if own is None and name else own for own, name in zip(given, names, strict=True)
    ]
    off = 2.0 * np.sqrt(sum((error / np.sqrt(3)) ** 2 for error in errors))
    assert mount.stiffness == 500.0
    assert mount.force_scatter == pytest.approx(1.5 + 500.0 * off)
    assert operation.figures["most removal"].mount.force_error == mount.force_scatter
    assert operation.figures["least removal"].mount.force_error == -mount.force_scatter
