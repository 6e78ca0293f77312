"""Speeds, hardnesses and removal coefficients of abrasives against handbooks and measurements.

Origins: "printed" is a figure read off the printed page, columns put back in order where a table was
flattened; "published" is read in an open paper.
"""

from __future__ import annotations

import math

import pytest

from finishplan import reference
from finishplan.reference import Value

FOOT_PER_MINUTE = 0.3048 / 60


def band(figure: Value | None) -> tuple[float, float]:
    assert figure is not None
    assert figure.low is not None
    assert figure.high is not None
    return figure.low, figure.high


# Machinery's Handbook, 31st edition, Table 1, abrasive belts: least and largest speed of roughing,
# polishing and fine polishing [ft/min]; printed. The fine polishing of copper alloys was not seen.
@pytest.mark.parametrize(
    ("group", "operations"),
    [
        ("steel-unalloyed", [(4000, 6500), (4500, 7000), (4500, 7000)]),
        ("stainless", [(3500, 5000), (4000, 5500), (4500, 5500)]),
        ("aluminium", [(5000, 6500), (4500, 6500), (4500, 6500)]),
        ("brass", [(2200, 4500), (4000, 6500)]),
    ],
)
def test_belt_speeds_span_the_operations(group: str, operations: list[tuple[float, float]]) -> None:
    window = reference.abrasive("coated belt").window(group)
    lows, highs = zip(*operations, strict=True)
    assert window.speed_low.value == pytest.approx(min(lows) * FOOT_PER_MINUTE)
    assert window.speed_high.value == pytest.approx(max(highs) * FOOT_PER_MINUTE)
    assert band(window.speed_low)[1] == pytest.approx(max(lows) * FOOT_PER_MINUTE)


# The same table, wheel durometer by operation; printed.
@pytest.mark.parametrize(
    ("wheel", "durometer"),
    [
        ("hard serrated contact wheel", (70, 90)),  # hot and cold rolled steel, rough
        ("hard contact wheel", (70, 90)),  # stainless, aluminium, brass, rough
        ("soft contact wheel", (30, 60)),  # stainless, polish
        ("very soft contact wheel", (20, 40)),  # steel, fine
    ],
)
def test_contact_wheels_by_operation(wheel: str, durometer: tuple[float, float]) -> None:
    assert band(reference.backing(wheel).shore_a) == durometer


def test_grinding_wheel_speed() -> None:
    """Machinery's Handbook, 31st edition, page 1329: surface grinding at 5500 to 6500 sfpm; printed."""
    window = reference.abrasive("bonded wheel").window("steel-unalloyed")
    speeds = (window.speed_low.value, window.speed_high.value)
    assert speeds == pytest.approx((5500 * FOOT_PER_MINUTE, 6500 * FOOT_PER_MINUTE))


def test_wire_brush_speeds() -> None:
    """Machinery's Handbook, 31st edition, pages 1634 to 1637; printed.

    Radial, short trim, dense wire 6500 sfpm; radial, wide face, metallic fill 2000 to 4000 sfpm.
    """
    window = reference.abrasive("wire brush").window("steel-unalloyed")
    assert window.speed_low.value == pytest.approx(2000 * FOOT_PER_MINUTE)
    assert band(window.speed_high) == pytest.approx((4000 * FOOT_PER_MINUTE, 6500 * FOOT_PER_MINUTE))


def test_what_brushing_does_to_roughness() -> None:
    """Machinery's Handbook, 31st edition, page 1636: 24 uin brought to 15 to 10 uin; printed.

    A second pair, 10 to 12 uin brought to 7 to 4 uin, overlaps: 0.33 to 0.7. 2 % for two figures.
    """
    refinement = reference.abrasive("wire brush").refinement
    assert band(refinement) == pytest.approx((10 / 24, 15 / 24), rel=0.02)
    assert refinement is not None
    assert 4 / 12 < refinement.value < 7 / 10


def test_buffing_speed_of_stainless_steel() -> None:
    """Metal Finishing, Surface Finishing Guidebook 2011-2012, page 30: 6000 sfm paste, 7000 sfm bright; printed."""
    window = reference.abrasive("buff").window("stainless")
    speeds = (window.speed_low.value, window.speed_high.value)
    assert speeds == pytest.approx((6000 * FOOT_PER_MINUTE, 7000 * FOOT_PER_MINUTE))


def test_primer_from_a_robot_grinding_test() -> None:
    """Technologies 13 (2025), article 498: 20 N, 40 mm/s, 2000 rpm, grit 80: depth 27.5 um, Ra 1.897 um; published.

    A flat disc under uniform pressure has the mean speed (2/3) omega R; spread over the width 2 R it
    leaves the depth K F (2/3) omega R/(2 R feed), and the disc cancels: K = h feed/((2/3) pi n F).
    Three figures are tabulated, so 0.2 % for the coefficient and 1 % for the two of the roughness.
    """
    primer = reference.removal("primer")
    expected = 27.5e-6 * 40e-3 / (2 / 3 * math.pi * (2000 / 60) * 20)
    assert primer.coefficients["coarse"].value == pytest.approx(expected, rel=2e-3)
    of_disc = reference.abrasive("coated disc").removal_coefficient("primer", reference.grit("P80").size.value)
    assert band(of_disc)[0] < expected < band(of_disc)[1]
    assert primer.roughness_factor.value == pytest.approx(1.897e-6 / reference.grit("P80").size.value, rel=0.01)


def test_softwood_from_times_to_sand_a_sample() -> None:
    """Applied Sciences 11 (2021), article 2860: 87 s with P60, 150 s with P120, 188 s with P180; published.

    Equal pressure and speed, so coefficients go inversely with the times. 10 % for times read to a
    second of an end point judged by eye, and for bands that stand for two grits each.
    """
    softwood = reference.removal("softwood")
    coarse, medium, fine = (
        softwood.coefficient(reference.grit(name).size.value).value for name in ("P60", "P120", "P180")
    )
    assert medium / coarse == pytest.approx(87 / 150, rel=0.1)
    assert fine / coarse == pytest.approx(87 / 188, rel=0.1)


def test_power_of_the_grain_size_of_the_same_test() -> None:
    """The same times over the grain sizes of ISO 6344-2: least squares through three points; published.

    Tabulated to 0.01 in 0.65, and the slopes of the two legs differ by more: 5 %.
    """
    sizes = [math.log(reference.grit(name).size.value) for name in ("P60", "P120", "P180")]
    rates = [-math.log(seconds) for seconds in (87, 150, 188)]
    mean_size, mean_rate = sum(sizes) / 3, sum(rates) / 3
    slope = sum((s - mean_size) * (r - mean_rate) for s, r in zip(sizes, rates, strict=True)) / sum(
        (s - mean_size) ** 2 for s in sizes
    )
    assert reference.default("removal_size_exponent").value == pytest.approx(slope, rel=0.05)


# Carvill, Mechanical Engineer's Data Handbook, page 188, machining: volume per power [mm3/(kW min)]; printed.
# Groover, Fundamentals of Modern Manufacturing, chapter 24: grinding takes about ten times the energy of
# cutting; extract. Specific energy of the tables is force ratio over removal coefficient, for a wheel of F60.
# "About ten" and coefficients known to a factor of two to three: a factor of three.
@pytest.mark.parametrize(
    ("group", "volume_per_power"),
    [
        ("steel-unalloyed", 18_900),
        ("steel-alloy", 10_500),
        ("stainless", 8_400),
        ("cast-iron", 12_600),
        ("brass", 18_900),
        ("aluminium", 42_000),
        ("titanium", 10_500),
    ],
)
def test_specific_energy_of_grinding_is_ten_times_that_of_cutting(group: str, volume_per_power: float) -> None:
    wheel = reference.abrasive("bonded wheel")
    coefficient = wheel.removal_coefficient(group, reference.grit("F60").size.value).value
    energy = wheel.force_ratio_on(group).value / coefficient
    expected = 10 * 60e3 / (volume_per_power * 1e-9)
    assert 1 / 3 < energy / expected < 3


def test_energy_of_grinding_mild_steel() -> None:
    """Dieter, Mechanical Metallurgy, chapter 21, example: 40 J/mm3; recomputed by a second party.

    Force ratio over coefficient, wheel of F60; the coefficient is known to a factor of two.
    """
    wheel = reference.abrasive("bonded wheel")
    coefficient = wheel.removal_coefficient("steel-unalloyed", reference.grit("F60").size.value).value
    assert 20e9 < wheel.force_ratio_on("steel-unalloyed").value / coefficient < 80e9
