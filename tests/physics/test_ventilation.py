"""Exhaust tables at their edges, hoods, ducts and their inverses."""

from __future__ import annotations

import re
from itertools import pairwise

import numpy as np
import pytest

from finishplan.physics import ventilation
from finishplan.physics.sourced import INCH, Governed, Sourced
from finishplan.physics.ventilation import (
    CAPTURE_VELOCITIES,
    CUBIC_FOOT_PER_MINUTE,
    DUCT_VELOCITIES,
    FACE_VELOCITIES,
    LIGHT_METAL_VELOCITY,
    WHEEL_EXHAUST_TABLES,
    ExhaustRow,
    booth_flow,
    capture_reach,
    dilution_flow,
    duct_diameter,
    duct_velocity,
    hood_flow,
    hood_static_pressure,
    slot_hood_flow,
    velocity_pressure,
    wheel_exhaust,
    wheel_exhaust_flow,
)


class TestWheelExhaust:
    @pytest.mark.parametrize("kind", WHEEL_EXHAUST_TABLES)
    def test_rows_join_without_gap_and_rise(self, kind: str) -> None:
        rows = WHEEL_EXHAUST_TABLES[kind].rows
        assert rows[0].over == 0
        for row, following in pairwise(rows):
            assert row.up_to == following.over
            assert row.flow < following.flow

    @pytest.mark.parametrize("kind", WHEEL_EXHAUST_TABLES)
    def test_an_edge_belongs_to_the_row_it_ends(self, kind: str) -> None:
        table = WHEEL_EXHAUST_TABLES[kind]
        for row, following in pairwise(table.rows):
            assert table.row(row.up_to) is row
            assert table.row(row.up_to + 1e-6) is following

    def test_an_edge_survives_rounding_of_the_unit(self) -> None:
        assert wheel_exhaust("horizontal single-spindle disc", 0.4826).row.up_to == 19 * INCH
        assert wheel_exhaust("horizontal single-spindle disc", 0.3048 + 1e-13).row.up_to == 12 * INCH

    def test_wider_wheel_scales_the_row(self) -> None:
        ordinary = wheel_exhaust("grinding wheel", 20 * INCH, 4 * INCH)
        wide = wheel_exhaust("grinding wheel", 20 * INCH, 6 * INCH)
        assert wide.flow == pytest.approx(1.5 * ordinary.flow, rel=1e-14)
        assert wide.widened
        assert not ordinary.widened

    def test_narrower_wheel_gets_no_reduction(self) -> None:
        assert wheel_exhaust_flow("buffing wheel", 12 * INCH, 1 * INCH) == wheel_exhaust_flow(
            "buffing wheel", 12 * INCH, 3 * INCH
        )

    def test_disc_needs_no_width_and_belt_no_diameter(self) -> None:
        assert wheel_exhaust_flow("horizontal double-spindle disc", 0.5) > 0
        assert wheel_exhaust_flow("belt", None, 0.1) == wheel_exhaust_flow("belt", 0.3, 0.1)

    def test_names_table_clause_and_outlets(self) -> None:
        found = wheel_exhaust("vertical-spindle disc covered", 25 * INCH)
        assert found.table.name == "G-8"
        assert "1910.94(b)(3)(vi)" in found.table.source
        assert found.row.outlets == 2

    @pytest.mark.parametrize("kind", WHEEL_EXHAUST_TABLES)
    def test_outside_the_table_names_its_range(self, kind: str) -> None:
        table = WHEEL_EXHAUST_TABLES[kind]
        beyond = table.rows[-1].up_to + 1e-3
        wanted = f"at most {table.rows[-1].up_to:g} [m]"
        with pytest.raises(ValueError, match=re.escape(wanted)):
            wheel_exhaust_flow(kind, beyond, beyond)  # type: ignore[arg-type]

    @pytest.mark.parametrize(("diameter", "width"), [(0.0, 0.05), (-0.1, 0.05), (0.3, None), (None, 0.05), (0.3, 0.0)])
    def test_refuses_missing_and_zero_sizes(self, diameter: float | None, width: float | None) -> None:
        with pytest.raises(ValueError, match=r"must be above 0 \[m\]"):
            wheel_exhaust_flow("grinding wheel", diameter, width)

    def test_refuses_an_unknown_kind(self) -> None:
        with pytest.raises(ValueError, match="kind must be one of grinding wheel"):
            wheel_exhaust_flow("lathe", 0.3, 0.05)  # type: ignore[arg-type]

    def test_rows_known_from_memory_say_so(self) -> None:
        def grades(kind: str) -> list[str]:
            return [row.grade for row in WHEEL_EXHAUST_TABLES[kind].rows]

        assert grades("belt") == ["published"] * 4 + ["from memory"] * 2
        assert set(grades("grinding wheel")) == {"published"}

    def test_rows_cannot_be_changed(self) -> None:
        row = WHEEL_EXHAUST_TABLES["belt"].rows[0]
        assert isinstance(row, ExhaustRow)
        with pytest.raises(AttributeError):
            row.flow = 0.0  # type: ignore[misc]

    def test_flow_is_the_row_in_si(self) -> None:
        assert pytest.approx(0.4719474e-3, rel=1e-6) == CUBIC_FOOT_PER_MINUTE


class TestHoods:
    def test_flange_saves_a_quarter(self) -> None:
        assert hood_flow(1.0, 0.3, 0.02, True) == pytest.approx(0.75 * hood_flow(1.0, 0.3, 0.02), rel=1e-14)

    def test_twice_as_far_needs_four_times_as_much_at_a_small_opening(self) -> None:
        assert hood_flow(1.0, 0.4, 0.0) == pytest.approx(4 * hood_flow(1.0, 0.2, 0.0), rel=1e-14)

    def test_in_the_opening_the_flow_is_velocity_times_area(self) -> None:
        assert hood_flow(2.5, 0.0, 0.03) == pytest.approx(booth_flow(2.5, 0.03), rel=1e-14)

    def test_scalars_stay_scalars_and_arrays_broadcast(self) -> None:
        assert np.ndim(hood_flow(1.0, 0.3, 0.02)) == 0
        assert hood_flow(np.ones(3), 0.3, 0.02, np.array([[True], [False]])).shape == (2, 3)

    @pytest.mark.parametrize("flanged", [False, True])
    def test_reach_inverts_the_flow(self, flanged: bool) -> None:
        distance = np.array([0.0, 0.05, 0.3])
        flow = hood_flow(1.5, distance, 0.02, flanged)
        assert capture_reach(flow, 1.5, 0.02, flanged) == pytest.approx(distance, rel=1e-9, abs=1e-8)

    def test_a_weak_fan_reaches_nowhere(self) -> None:
        assert capture_reach(0.001, 1.0, 0.02) == 0

    def test_slot_is_linear_in_distance_and_length(self) -> None:
        assert slot_hood_flow(0.5, 0.2, 1.0) == pytest.approx(3.7 * 0.1, rel=1e-14)
        assert slot_hood_flow(0.5, 0.4, 2.0, True) == pytest.approx(2.6 * 0.4, rel=1e-14)

    def test_dilution_holds_the_share(self) -> None:
        flow = dilution_flow(2e-3, 0.03)
        assert 2e-3 / flow == pytest.approx(0.25 * 0.03, rel=1e-14)

    def test_refuses_a_share_of_zero(self) -> None:
        with pytest.raises(ValueError, match="share must be between"):
            dilution_flow(2e-3, 0.03, 0.0)


class TestDucts:
    def test_velocity_inverts_the_diameter(self) -> None:
        flow = np.array([0.05, 0.2, 1.0])
        assert duct_velocity(flow, duct_diameter(flow, 20.0)) == pytest.approx([20.0] * 3, rel=1e-14)

    def test_hood_suction_is_velocity_pressure_and_loss(self) -> None:
        pressure = velocity_pressure(20.0)
        assert pressure == pytest.approx(240.8, rel=1e-14)
        assert hood_static_pressure(pressure, 0.45) == pytest.approx(1.45 * pressure, rel=1e-14)

    def test_refuses_still_air(self) -> None:
        with pytest.raises(ValueError, match="duct_diameter: velocity"):
            duct_diameter(0.1, 0.0)


class TestTables:
    @pytest.mark.parametrize("table", [CAPTURE_VELOCITIES, DUCT_VELOCITIES, FACE_VELOCITIES])
    def test_bands_are_ordered_and_sourced(self, table: dict[str, ventilation.CaptureVelocity]) -> None:
        for row in table.values():
            assert 0 < row.low <= row.high
            assert len(row.source) > 10

    def test_grinding_needs_at_least_two_and_a_half_metres_per_second(self) -> None:
        assert CAPTURE_VELOCITIES["high-speed"].low == pytest.approx(2.54, rel=1e-12)

    def test_light_metal_keeps_both_figures_and_takes_the_higher(self) -> None:
        assert [figure.value for figure in LIGHT_METAL_VELOCITY.figures] == pytest.approx([22.86, 20.0])
        assert LIGHT_METAL_VELOCITY.governing.value == pytest.approx(22.86)
        assert LIGHT_METAL_VELOCITY.disagree

    def test_of_equal_figures_the_first_governs(self) -> None:
        figures = (Sourced(1.0, "one"), Sourced(1.0, "other"))
        assert Governed("gap [m]", "highest", figures).governing.source == "one"
        assert Governed("gap [m]", "lowest", figures).governing.source == "one"
        assert not Governed("gap [m]", "lowest", figures).disagree
