"""Physical sense of the tables: relations that a slip of the pen would break."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from finishplan import reference
from finishplan.reference import Affine, CutterFamily, Kienzle, Workpiece

MATERIALS = [reference.workpiece(name) for name in reference.names("workpieces")]
FAMILIES = [reference.cutter(name) for name in reference.names("cutters")]

DENSITY = {
    "steel-unalloyed": (7700, 7900),
    "steel-alloy": (7700, 7900),
    "steel-hardened": (7600, 8200),
    "stainless": (7600, 8100),
    "cast-iron": (6900, 7500),
    "aluminium": (2600, 2900),
    "magnesium": (1700, 1900),
    "zinc": (6500, 7200),
    "brass": (8300, 8800),
    "titanium": (4300, 4700),
    "nickel": (8000, 8900),
    "thermoplastic": (880, 1450),
    "foam": (15, 300),
    "gfrp": (1500, 2200),
    "cfrp": (1400, 1700),
    "hardwood": (500, 1000),
    "softwood": (350, 600),
    "board": (600, 900),
}
"""Bounds that keep the groups apart [kg/m3]; common practice, no published source."""


def by_name(material: Workpiece) -> str:
    return material.name


@pytest.mark.parametrize("material", MATERIALS, ids=by_name)
def test_density_suits_the_group(material: Workpiece) -> None:
    low, high = DENSITY[material.group]
    assert low <= material.density.value <= high


@pytest.mark.parametrize("material", MATERIALS, ids=by_name)
def test_heat_flows_in_the_order_of_the_material(material: Workpiece) -> None:
    diffusivity = material.conductivity.value / (material.density.value * material.specific_heat.value)
    if isinstance(material.cutting, Kienzle):
        assert 2e-6 < diffusivity < 1e-4
    else:
        assert 5e-8 < diffusivity < 1e-6
    assert 330 < material.temperature_limit.value < 950


@pytest.mark.parametrize("material", MATERIALS, ids=by_name)
def test_dust_and_chip_suit_the_group(material: Workpiece) -> None:
    dust = {
        "stainless": "stainless-nickel",
        "nickel": "stainless-nickel",
        "aluminium": "light-metal",
        "brass": "copper-alloy",
        "thermoplastic": "plastic",
        "foam": "plastic",
        "gfrp": "glass-fibre",
        "cfrp": "carbon-fibre",
        "hardwood": "wood",
        "softwood": "wood",
        "board": "wood",
    }
    ferrous = material.group.startswith("steel") or material.group == "cast-iron"
    assert material.dust == ("ferrous" if ferrous else dust.get(material.group, material.group))


@pytest.mark.parametrize("material", MATERIALS, ids=by_name)
def test_thin_chips_take_more_force_per_section(material: Workpiece) -> None:
    law = material.cutting
    assert law.chip_low.value < law.chip_high.value
    assert 0.1 <= law.mc.value <= 0.4 if isinstance(law, Kienzle) else law.intercept.value > 0


def test_metals_rank_by_specific_cutting_force() -> None:
    order = ["AZ91", "EN AW-6082", "EN AW-7075", "EN-GJL-250", "S235JR", "C45E", "42CrMo4", "steel 55 HRC"]
    laws = [reference.workpiece(name).cutting for name in order]
    forces = [law.kc11.value for law in laws if isinstance(law, Kienzle)]
    assert len(forces) == len(order)
    assert all(lighter < harder for lighter, harder in pairwise(forces))


def test_other_materials_rank_by_specific_force_at_a_twentieth_of_a_millimetre() -> None:
    order = ["PUR foam", "spruce", "MDF", "PP", "ABS", "PA6", "PC", "GFRP", "CFRP"]
    laws = [reference.workpiece(name).cutting for name in order]
    forces = [law.slope.value + law.intercept.value / 50e-6 for law in laws if isinstance(law, Affine)]
    assert len(forces) == len(order)
    assert all(lighter < harder for lighter, harder in pairwise(forces))


@pytest.mark.parametrize(
    "material", [m for m in MATERIALS if m.group in {"steel-unalloyed", "steel-alloy"}], ids=by_name
)
def test_tensile_strength_of_steel_goes_with_brinell_hardness(material: Workpiece) -> None:
    """About 3.4 N/mm2 per Brinell unit, common practice, no published source."""
    assert material.hardness is not None
    assert material.tensile_strength.value / 1e6 / material.hardness.value == pytest.approx(3.4, rel=0.1)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_force_ratio_follows_from_rake_and_friction(family: CutterFamily) -> None:
    """Normal over tangential force is the tangent of the friction angle less the rake (Merchant 1945)."""
    expected = math.tan(math.atan(family.friction_coefficient.value) - family.effective_rake.value)
    assert family.force_ratio.value == pytest.approx(expected, rel=0.1)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_fed_teeth_can_lift_a_chip(family: CutterFamily) -> None:
    """The largest feed per tooth must exceed the least chip the rounded edge can form."""
    least_chip = family.minimum_chip_ratio.value * family.edge_radius.value
    for window in family.windows.values():
        assert window.feed_high.value > least_chip
        assert window.feed_high.value < 0.1 * family.reference_diameter.value


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_taylor_pair_gives_half_an_hour_at_the_top_of_the_window(family: CutterFamily) -> None:
    for window in family.windows.values():
        if window.taylor_c is None or window.taylor_n is None:
            assert window.life_length is not None
            continue
        minutes = (window.taylor_c.value / window.speed_high.value) ** (1 / window.taylor_n.value)
        assert minutes == pytest.approx(30, rel=0.05)


def test_harder_groups_are_cut_slower() -> None:
    order = ["nickel", "titanium", "steel-hardened", "steel-alloy", "steel-unalloyed", "aluminium"]
    windows = reference.cutter("carbide end mill").windows
    assert all(windows[slow].speed_high.value < windows[fast].speed_high.value for slow, fast in pairwise(order))


def test_robot_classes_rank_by_stiffness_and_quickness() -> None:
    kinds = ["collaborative", "delta", "scara", "articulated", "gantry"]
    assert all(
        reference.robot_class(soft).stiffness.value < reference.robot_class(stiff).stiffness.value
        for soft, stiff in pairwise(kinds)
    )
    quick = ["collaborative", "articulated", "scara", "delta"]
    assert all(
        reference.robot_class(slow).acceleration.value < reference.robot_class(fast).acceleration.value
        for slow, fast in pairwise(quick)
    )
