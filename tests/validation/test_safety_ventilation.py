"""Exhaust volumes, ducts and hoods against the regulations that set them.

Origins: "law" is a figure of the regulation; "recomputed" follows from figures of the regulation by the
definition of their units; "library" takes constants from scipy.constants.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import constants

from finishplan.physics.ventilation import (
    BRANCH_VELOCITY,
    HOOD_ENTRY_LOSSES,
    MAIN_VELOCITY,
    WHEEL_EXHAUST_TABLES,
    WheelKind,
    dilution_flow,
    duct_diameter,
    hood_flow,
    hood_static_pressure,
    velocity_pressure,
    wheel_exhaust,
    wheel_exhaust_flow,
)

INCH = constants.inch
CFM = constants.foot**3 / constants.minute
FPM = constants.foot / constants.minute
EXACT = 1e-9
"""Rounding of the conversions; figures of a regulation are exact."""


@pytest.mark.parametrize(
    ("kind", "diameter", "width", "flow"),
    [
        pytest.param("grinding wheel", 8, 1.0, 220, id="G-4, 8 in, narrower than the table's wheel"),
        pytest.param("cutting-off wheel", 16, 2.0, 390, id="G-4, 16 in"),
        pytest.param("grinding wheel", 16.01, 3.0, 500, id="G-4, just over 16 in"),
        pytest.param("grinding wheel", 36, 6.0, 1200, id="G-4, 36 in"),
        pytest.param("buffing wheel", 12, 3.0, 500, id="G-5, 12 in"),
        pytest.param("polishing wheel", 24, 5.0, 740, id="G-5, 24 in"),
        pytest.param("scratch-brush wheel", 9, 2.0, 300, id="G-5, 9 in"),
        pytest.param("horizontal single-spindle disc", 19, None, 390, id="G-6, 19 in"),
        pytest.param("horizontal single-spindle disc", 19.01, None, 610, id="G-6, just over 19 in"),
        pytest.param("horizontal double-spindle disc", 26, None, 1200, id="G-7, 26 in"),
    ],
)
def test_tables_of_1910_94(kind: WheelKind, diameter: float, width: float | None, flow: float) -> None:
    """29 CFR 1910.94(b)(3), Tables G-4 to G-7. Origin: law."""
    found = wheel_exhaust_flow(kind, diameter * INCH, None if width is None else width * INCH)
    assert found / CFM == pytest.approx(flow, rel=EXACT)


@pytest.mark.parametrize(
    ("kind", "size", "flow", "outlets"),
    [
        pytest.param("vertical-spindle disc not covered", 40, 3530, 4, id="V-4, 40 in bare"),
        pytest.param("vertical-spindle disc covered", 40, 1770, 2, id="V-4, 40 in covered"),
        pytest.param("vertical-spindle disc covered", 20, 500, 1, id="V-4, 20 in covered"),
        pytest.param("horizontal double-spindle disc", 72, 6280, 1, id="V-3, 72 in"),
        pytest.param("belt", 4, 300, 1, id="V-5, belt of 4 in"),
        pytest.param("belt", 9, 500, 1, id="V-5, belt of 9 in"),
    ],
)
def test_tables_of_8_ccr_5152(kind: WheelKind, size: float, flow: float, outlets: int) -> None:
    """8 CCR 5152, Tables V-3 to V-5. Origin: law."""
    found = wheel_exhaust(kind, size * INCH, size * INCH)
    assert found.flow / CFM == pytest.approx(flow, rel=EXACT)
    assert found.row.outlets == outlets


def test_belt_of_four_inches_in_metric_units() -> None:
    """8 CCR 5152, Table V-5: 300 ft3/min are 509.7 m3/h. Origin: recomputed; 0.1 % for the digits given."""
    assert wheel_exhaust_flow("belt", None, 4 * INCH) * constants.hour == pytest.approx(509.7, rel=1e-3)


def test_wheel_wider_than_the_table() -> None:
    """29 CFR 1910.94(b)(3)(ii), example: 4 1/2 in wide, 19 to 24 in, 4.5/4 of 610 = 686, printed as 690.

    Origin: law.
    """
    found = wheel_exhaust("grinding wheel", 20 * INCH, 4.5 * INCH)
    # the example's own figure is rounded to a whole number
    assert found.flow / CFM == pytest.approx(686, abs=0.5)
    assert round(found.flow / CFM, -1) == 690
    assert found.widened


@pytest.mark.parametrize(
    ("kind", "size"),
    [("grinding wheel", 37), ("buffing wheel", 36.1), ("horizontal single-spindle disc", 37)],
)
def test_no_extrapolation(kind: WheelKind, size: float) -> None:
    """29 CFR 1910.94(b)(3): Tables G-4, G-5 and G-6 end at 36 in. Origin: law."""
    with pytest.raises(ValueError, match="not extrapolated"):
        wheel_exhaust_flow(kind, size * INCH, size * INCH)


def test_recommended_velocities() -> None:
    """29 CFR 1910.94(b)(3): 4500 ft/min in branches, 3500 ft/min in mains. Origin: law."""
    assert BRANCH_VELOCITY.value / FPM == pytest.approx(4500, rel=EXACT)
    assert MAIN_VELOCITY.value / FPM == pytest.approx(3500, rel=EXACT)


@pytest.mark.parametrize("row", WHEEL_EXHAUST_TABLES["grinding wheel"].rows, ids=lambda row: f"{row.up_to:.3f} m")
def test_table_flows_fill_common_ducts(row: object) -> None:
    """29 CFR 1910.94(b): its flows at its 4500 ft/min fill ducts of whole and half inches. Origin: law against law.

    The flows are printed to two or three digits: 1 % of the diameter.
    """
    inches = duct_diameter(row.flow, BRANCH_VELOCITY.value) / INCH  # type: ignore[attr-defined]
    assert inches == pytest.approx(round(2 * inches) / 2, rel=0.01)


def test_duct_of_a_wheel() -> None:
    """390 ft3/min at 4500 ft/min: 3.986 in, 101.25 mm. Origin: recomputed; 0.2 % for the digits given."""
    found = duct_diameter(390 * CFM, 4500 * FPM)
    assert found / INCH == pytest.approx(3.986, rel=2e-3)
    assert found * 1e3 == pytest.approx(101.25, rel=2e-3)


def air_density() -> float:
    """Dry air of 20 degC and one atmosphere as an ideal gas of 28.965 g/mol."""
    return constants.atm * 28.965e-3 / (constants.R * constants.convert_temperature(20, "Celsius", "Kelvin"))


@pytest.mark.parametrize(("take_off", "entry_loss"), [("straight", 0.65), ("tapered", 0.45)])
def test_suction_behind_a_hood(take_off: str, entry_loss: float) -> None:
    """29 CFR 1910.94(b)(3): entry losses 0.65 and 0.45. Origin: law, and library for the air.

    0.3 % for the three digits of the density.
    """
    assert HOOD_ENTRY_LOSSES[take_off].value == entry_loss
    pressure = velocity_pressure(BRANCH_VELOCITY.value)
    dynamic = air_density() * (4500 * FPM) ** 2 / 2
    assert pressure == pytest.approx(dynamic, rel=3e-3)
    found = hood_static_pressure(pressure, HOOD_ENTRY_LOSSES[take_off].value)
    assert found == pytest.approx(dynamic * (1 + entry_loss), rel=3e-3)


@pytest.mark.parametrize(("flanged", "flow"), [(False, 1348), (True, 1011)])
def test_hood_in_customary_units(flanged: bool, flow: float) -> None:
    """DallaValle's equation with 500 ft/min, 0.5 ft and a 6 in duct. Origin: recomputed in feet; 0.2 % for rounding."""
    area = np.pi / 4 * (6 * INCH) ** 2
    found = hood_flow(500 * FPM, 0.5 * constants.foot, area, flanged)
    assert found / CFM == pytest.approx(flow, rel=2e-3)


def test_hood_in_si_units() -> None:
    """The same hood in metres: 0.6363 m3/s. Origin: recomputed; 0.2 % for rounding."""
    assert hood_flow(2.54, 0.1524, np.pi / 4 * 0.1524**2) == pytest.approx(0.6363, rel=2e-3)


def test_dilution_below_a_quarter_of_the_explosible_concentration() -> None:
    """NFPA 480:1998, 4-2.6.2: 100 g/min and 30 g/m3 need 800 m3/h. Origin: recomputed; 0.1 % for rounding."""
    found = dilution_flow(0.1 / constants.minute, 0.03)
    assert found * constants.hour == pytest.approx(800, rel=1e-3)
    assert found / CFM == pytest.approx(470.9, rel=1e-3)
