"""From the files to the conditions: what is taken from where, and that every bound can be traced."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from finishplan.job import LoadedJob
from finishplan.physics import chamfer_area, chamfer_leg, round_area
from finishplan.planning.edge_operation import edge_cutting
from finishplan.planning.edge_setup import EdgeSetup, target_depth
from finishplan.planning.search import Found
from finishplan.process.chip_law import AffineLaw, PowerLaw
from finishplan.reference import cutter, default, workpiece

Load = Callable[..., LoadedJob]
SetupOf = Callable[..., EdgeSetup]


@pytest.fixture
def setup_of(searched: Callable[..., Found]) -> SetupOf:
    """The setup of one edge of a job under one tool of its cell, both by number."""
    return lambda loaded, edge=0, tool=0: searched(loaded, edge, tool).operation.setup


@pytest.mark.parametrize("tool", [0, 1, 2])
def test_every_bound_names_a_figure_of_the_ledger(tool: int, load: Load, setup_of: SetupOf) -> None:
    operation = edge_cutting(setup_of(load(), tool=tool))
    middle = {axis.name: np.float64((axis.range.low * axis.range.high) ** 0.5) for axis in operation.axes}
    for limit in operation.evaluate(middle, 1).limits:
        assert limit.source in operation.ledger.by_field, limit.name


def test_figures_of_the_files_name_their_line(load: Load, setup_of: SetupOf) -> None:
    loaded = load()
    ledger = setup_of(loaded).ledger
    for field, word in (
        ("edge.burr_height", "burr"),
        ("edge.leg_upper", "edge_break"),
        ("cutter.diameter", "diameter"),
    ):
        text = ledger.by_field[field].text
        file, line = text.split(" ")[0].rsplit(":", 1)
        assert word in text
        written = (loaded.folder / file.rsplit("/", 1)[-1]).read_text().splitlines()[int(line) - 1]
        assert word in written


def test_what_the_job_leaves_out_is_assumed_and_listed(load: Load, setup_of: SetupOf) -> None:
    def assumed(edge: int) -> dict[str, float]:
        return {origin.title: origin.value for origin in setup_of(load(), edge=edge).ledger.assumptions()}

    names = ("included_angle", "waviness_amplitude", "waviness_wavelength")
    left_out = assumed(1)
    assert {name: left_out[default(name).title] for name in names} == {name: default(name).value for name in names}
    assert not {default(name).title for name in names} & assumed(0).keys()


def test_scatter_of_a_burr_is_assumed_as_a_share_of_its_size(load: Load, setup_of: SetupOf) -> None:
    fields = setup_of(load(), edge=1).ledger.by_field
    share = default("burr_scatter").value
    assert fields["edge.burr_height_scatter"].value == pytest.approx(0.2e-3 * share)
    assert fields["edge.burr_height_scatter"].kind == "assumption"
    given = setup_of(load(), edge=0).ledger.by_field["edge.burr_height_scatter"]
    assert (given.kind, given.value) == ("job", pytest.approx(0.2e-3))


def test_a_break_given_as_radius_is_held_to_the_chamfer_of_its_section(load: Load, setup_of: SetupOf) -> None:
    wanted = 'edge_break = { measure = "radius", lower = "0.3 mm", upper = "1.0 mm" }'
    state = setup_of(load(job=[('edge_break = { lower = "0.3 mm", upper = "1.0 mm" }', wanted)])).nominal.edge
    for leg, radius in ((state.leg_lower, 0.3e-3), (state.leg_upper, 1e-3)):
        assert chamfer_area(leg, np.pi / 2) == pytest.approx(round_area(radius, np.pi / 2), rel=1e-12)
        assert leg == pytest.approx(chamfer_leg(round_area(radius, np.pi / 2), np.pi / 2), rel=1e-12)


def test_an_angle_of_the_edges_own(load: Load, setup_of: SetupOf) -> None:
    state = setup_of(load(job=[('included_angle = "90 deg"', 'included_angle = "120 deg"')])).nominal.edge
    assert state.included_angle == pytest.approx(2 * np.pi / 3, rel=1e-12)


def test_mounts_follow_the_spindle_of_the_tool(load: Load, setup_of: SetupOf) -> None:
    loaded = load()
    loop, spring, rigid = (setup_of(loaded, tool=tool).nominal.mount for tool in range(3))
    assert (loop.stiffness, loop.open_loop_stiffness, loop.bandwidth) == (0.0, 2000.0, 20.0)
    assert (spring.stiffness, spring.bandwidth) == (300.0, None)
    # 6 mm steel would be stiffer than this robot; in series they are softer than either
    assert 0 < rigid.stiffness < 800e3


def test_friction_is_half_the_hysteresis_each_way(load: Load, setup_of: SetupOf) -> None:
    mount = setup_of(load(), tool=1).nominal.mount
    assert mount.friction == pytest.approx(0.8)
    assert mount.smallest_usable_force == pytest.approx(default("friction_multiple").value * 0.8)


def test_the_stroke_needed_sums_every_error(load: Load, setup_of: SetupOf) -> None:
    mount = setup_of(load()).nominal.mount
    sideways = 0.15 + 0.3 + 0.25 + 0.1 + 0.11
    wanted = (sideways + 0.05) / (1 - default("end_stop_reserve").value)
    assert mount.stroke_needed == pytest.approx(wanted * 1e-3, rel=1e-12)
    assert mount.other_errors == pytest.approx((sideways + 0.05 - 0.15) * 1e-3, rel=1e-12)


def test_the_path_is_laid_on_the_middle_of_the_band_with_the_burr(load: Load, setup_of: SetupOf) -> None:
    setup = setup_of(load())
    middle = chamfer_area(0.65e-3, np.pi / 2) + 0.5 * 0.4e-3 * 0.12e-3
    assert target_depth(setup.nominal) == pytest.approx(np.sqrt(middle), rel=1e-12)
    assert setup.nominal.mount.reference_depth == pytest.approx(np.sqrt(middle), rel=1e-12)


def test_metals_cut_by_the_power_law_half_worn_and_compressed(load: Load, setup_of: SetupOf) -> None:
    law = setup_of(load()).nominal.chip_law
    assert isinstance(law, PowerLaw)
    entry, family = workpiece("EN AC-46000").cutting, cutter("carbide burr double cut")
    assert law.kc11 == pytest.approx(default("chip_compression").value * entry.kc11.value, rel=1e-12)
    assert law.wear_factor == pytest.approx((1 + family.wear_factor.value) / 2, rel=1e-12)


def test_a_measured_force_factor_scales_the_table(load: Load, setup_of: SetupOf) -> None:
    table = setup_of(load()).nominal.chip_law
    own = setup_of(load(job=[('material = "EN AC-46000"', 'material = "EN AC-46000"\ncutting_force_factor = 1.3')]))
    assert own.nominal.chip_law.kc11 == pytest.approx(1.3 * table.kc11, rel=1e-12)
    assert "1.3" in own.ledger.by_field["chip_law.kc11_turning"].text


def test_wood_cuts_by_the_affine_law(load: Load, setup_of: SetupOf) -> None:
    loaded = load(
        job=[
            ('material = "EN AC-46000"', 'material = "MDF"'),
            ('included_angle = "90 deg"\ntools = ["burr 10"]', 'included_angle = "90 deg"\ntools = ["mill 10"]'),
            ('length = "310 mm"\ntools = ["burr 10"]', 'length = "310 mm"\ntools = ["mill 10"]'),
        ],
        cell=[('family = "carbide chamfer mill"', 'family = "carbide end mill"')],
    )
    assert isinstance(setup_of(loaded, tool=2).nominal.chip_law, AffineLaw)


def test_worse_coefficients_leave_smaller_breaks(load: Load, setup_of: SetupOf) -> None:
    corners = setup_of(load()).coefficient_corners
    smallest, largest = corners["smallest break"], corners["largest break"]
    assert smallest.cutter.force_ratio > largest.cutter.force_ratio
    assert smallest.chip_law.kc11 > largest.chip_law.kc11


def test_ranges_stay_inside_spindle_tool_and_device(load: Load, setup_of: SetupOf) -> None:
    speed, feed, setting = edge_cutting(setup_of(load())).axes
    # 500 m/min and 900 m/min at 10 mm bound the window of the family more closely than the spindle
    window = cutter("carbide burr double cut").window("aluminium")
    assert speed.range.low == pytest.approx(window.speed_low.value / (np.pi * 10e-3), rel=1e-12)
    assert speed.range.high == pytest.approx(min(500.0, window.speed_high.value / (np.pi * 10e-3)), rel=1e-12)
    assert feed.range.high == 1.0
    assert (setting.range.low, setting.range.high) == (2.7, 120.0)


def test_speeds_that_never_meet_leave_the_spindles_own_range(load: Load, setup_of: SetupOf) -> None:
    slow = [('name = "servo spindle"\nspeed_min = "6000 rpm"\nspeed_max = "30000 rpm"',
             'name = "servo spindle"\nspeed_min = "600 rpm"\nspeed_max = "9000 rpm"'),
            ('  { speed = "6000 rpm", power = "200 W" },\n  { speed = "15000 rpm", power = "500 W" },\n'
             '  { speed = "30000 rpm", power = "500 W" },', '  { speed = "600 rpm", power = "200 W" },')]  # fmt: skip
    speed, _, _ = edge_cutting(setup_of(load(cell=slow))).axes
    assert (speed.range.low, speed.range.high) == (10.0, 150.0)


def test_an_unknown_figure_is_none_of_the_setups(load: Load, setup_of: SetupOf) -> None:
    setup = setup_of(load())
    assert setup.ledger.by_field.get("edge.colour") is None
    known: Any = setup.ledger.origin_of(setup.nominal.edge.burr_height)
    assert known.field == "edge.burr_height"
