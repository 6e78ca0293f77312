"""Dust: exposure limits, layers, classes and hydrogen against law, agencies and stoichiometry.

Origins: "law" is a figure of the regulation or directive named; "recomputed" follows from such figures.
"""

from __future__ import annotations

import pytest
from scipy import constants

from finishplan.physics.dust import (
    MILLIGRAM,
    WATER_REACTIONS,
    duct_concentration,
    exposure_limits,
    governing_limit,
    hydrogen_volume,
    layer_criterion,
    layer_trigger_area,
    lead_limit,
    st_class,
)
from finishplan.physics.ventilation import wheel_exhaust_flow

INCH = constants.inch
FOOT = constants.foot
POUND_PER_CUBIC_FOOT = constants.pound / FOOT**3
BAR = constants.bar
EXACT = 1e-9
"""Rounding of the conversions; figures of a regulation are exact."""


@pytest.mark.parametrize(
    ("hours", "micrograms"),
    [
        pytest.param(8, 50, id="8 h, 1910.1025(c)(1)"),
        pytest.param(10, 40, id="10 h, example of Appendix B"),
        pytest.param(12.5, 32, id="12.5 h, 400/h"),
    ],
)
def test_lead_over_a_long_shift(hours: float, micrograms: float) -> None:
    """29 CFR 1910.1025(c) and its Appendix B. Origin: law."""
    assert lead_limit(hours * constants.hour) * 1e9 == pytest.approx(micrograms, rel=EXACT)


@pytest.mark.parametrize(
    ("substance", "kind", "fraction", "milligrams"),
    [
        pytest.param("aluminium", "TWA", "total", 15, id="Z-1, aluminium metal, total dust"),
        pytest.param("aluminium", "TWA", "respirable", 5, id="Z-1, aluminium metal, respirable"),
        pytest.param("silicon carbide", "TWA", "respirable", 5, id="Z-1, silicon carbide, respirable"),
        pytest.param("iron oxide", "TWA", "fume", 10, id="Z-1, iron oxide fume"),
        pytest.param("nickel", "TWA", "total", 1, id="Z-1, nickel, metal"),
        pytest.param("chromium", "TWA", "total", 1, id="Z-1, chromium, metal"),
        pytest.param("chromium(VI)", "TWA", "total", 0.005, id="1910.1026(c)"),
        pytest.param("cobalt", "TWA", "total", 0.1, id="Z-1, cobalt"),
        pytest.param("copper", "TWA", "total", 1, id="Z-1, copper, dusts and mists"),
        pytest.param("lead", "TWA", "total", 0.05, id="1910.1025(c)(1)"),
        pytest.param("cadmium", "TWA", "total", 0.005, id="1910.1027(c)"),
        pytest.param("crystalline silica", "TWA", "respirable", 0.05, id="1910.1053(c)"),
    ],
)
def test_limits_of_29_cfr_1910(substance: str, kind: str, fraction: str, milligrams: float) -> None:
    """29 CFR 1910.1000, Table Z-1, and the substance standards named. Origin: law."""
    (row,) = (row for row in exposure_limits(substance, ("OSHA",)) if (row.kind, row.fraction) == (kind, fraction))
    assert row.value / MILLIGRAM == pytest.approx(milligrams, rel=EXACT)
    assert row.source.startswith("29 CFR 1910.")


def test_manganese_is_a_ceiling_not_an_average() -> None:
    """29 CFR 1910.1000, Table Z-1: manganese compounds, (C) 5 mg/m3. Origin: law."""
    (row,) = exposure_limits("manganese", ("OSHA",))
    assert row.kind == "ceiling"
    assert row.value / MILLIGRAM == pytest.approx(5, rel=EXACT)


def test_nickel_governs_stainless_steel() -> None:
    """NIOSH Pocket Guide: nickel 0.015 mg/m3; 8 % of it in steel with 18 % Cr: 0.1875 mg/m3 of dust.

    Origin: recomputed; 0.5 % for rounding.
    """
    found = governing_limit({"chromium": 0.18, "nickel": 0.08, "iron oxide": 0.74}, ("NIOSH",))
    assert found.limit.substance == "nickel"
    assert found.dust_concentration / MILLIGRAM == pytest.approx(0.1875, rel=5e-3)


@pytest.mark.parametrize("hardwood", [0.05, 0.5, 1.0])
def test_hardwood_limit_holds_for_the_whole_mixture(hardwood: float) -> None:
    """Directive 2004/37/EC, Annex III, note: hardwood mixed with other wood, 2 mg/m3 for all of it. Origin: law."""
    found = governing_limit({"hardwood": hardwood, "wood": 1.0}, ("EU",))
    assert found.dust_concentration / MILLIGRAM == pytest.approx(2, rel=EXACT)
    assert found.limit.fraction == "inhalable"


@pytest.mark.parametrize(
    ("kst", "expected"),
    [
        pytest.param(0, "St 0", id="no explosion"),
        pytest.param(116.6, "St 1", id="polyamide 12 of Polymers 15, 2023, 4203"),
        pytest.param(97.1, "St 1", id="UHMW polyethylene of Polymers 15, 2023, 4203"),
        pytest.param(200, "St 1", id="upper edge of St 1"),
        pytest.param(300, "St 2", id="upper edge of St 2"),
        pytest.param(301, "St 3", id="above"),
    ],
)
def test_classes_of_violence(kst: float, expected: str) -> None:
    """OSHA CPL 03-00-008, dust explosion classes: to 200, to 300 and above 300 bar m/s. Origin: agency."""
    assert st_class(kst * BAR) == expected


@pytest.mark.parametrize(("density", "inches"), [(75, 1 / 32), (37.5, 1 / 16), (25, 3 / 32)])
def test_layer_in_customary_units(density: float, inches: float) -> None:
    """NFPA 654, TIA 06-1, 6.1.1.2: 1/32 in at 75 lb/ft3, more for lighter dust. Origin: standard.

    1 %: the metric text rounds 1/32 in = 0.794 mm to 0.8 mm.
    """
    assert layer_criterion(density * POUND_PER_CUBIC_FOOT) / INCH == pytest.approx(inches, rel=0.01)


def test_layer_in_si_units() -> None:
    """NFPA 654:2013, 6.1: 0.8 mm at 1200 kg/m3, hence 3.0 mm at 320 kg/m3. Origin: recomputed; 1 % for rounding."""
    assert layer_criterion(320.0) * 1e3 == pytest.approx(3.0, rel=0.01)


@pytest.mark.parametrize(("floor", "trigger"), [(10_000, 500), (20_000, 1000), (30_000, 1000)])
def test_area_under_dust(floor: float, trigger: float) -> None:
    """OSHA memorandum of 21 April 2015 on NFPA 654:2013: 5 % of the floor, at most 1000 ft2. Origin: agency."""
    assert layer_trigger_area(floor * FOOT**2) / FOOT**2 == pytest.approx(trigger, rel=EXACT)


@pytest.mark.parametrize(("metal", "litres"), [("aluminium", 1.246), ("magnesium", 0.922), ("titanium", 0.937)])
def test_hydrogen_per_gram(metal: str, litres: float) -> None:
    """Stoichiometry with IUPAC atomic weights and 22.414 L/mol at 0 degC and 1 atm. Origin: recomputed.

    0.1 % for the digits given.
    """
    reaction = WATER_REACTIONS[metal]
    found = hydrogen_volume(1e-3, reaction.molar_mass, reaction.valence)
    assert found / constants.liter == pytest.approx(litres, rel=1e-3)


def test_hydrogen_of_ten_grams_of_aluminium() -> None:
    """2 Al + 6 H2O gives 3 H2: 15 mol per 10 mol of metal, times the molar volume. Origin: library."""
    molar_volume = constants.value("molar volume of ideal gas (273.15 K, 101.325 kPa)")
    # five digits of the atomic weight
    assert hydrogen_volume(0.01, 26.982e-3, 3) == pytest.approx(0.01 / 26.982e-3 * 1.5 * molar_volume, rel=1e-6)


def test_aluminium_in_the_smallest_wheel_exhaust() -> None:
    """29 CFR 1910.94(b), Table G-4: 10 g/min in 220 ft3/min are 1.605 g/m3. Origin: recomputed; 0.5 % for rounding."""
    flow = wheel_exhaust_flow("grinding wheel", 8 * INCH, 1 * INCH)
    assert duct_concentration(0.01 / constants.minute, flow) * 1e3 == pytest.approx(1.605, rel=5e-3)
