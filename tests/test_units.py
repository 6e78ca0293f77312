"""Units at the door: every factor against a general unit library, and every trap of engineers' writing."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishplan import units
from finishplan.errors import UnitError
from finishplan.rounding import Toward

# How pint spells what it does not know by our spelling. Library pint, the independent reference here.
PINT_SPELLING = {
    '"': "inch", "mil": "thou", "ips": "inch/s", "in/s": "inch/s", "in/min": "inch/min", "ipm": "inch/min",
    "fpm": "ft/min", "sfpm": "ft/min", "sfm": "ft/min", "t": "metric_ton", "gn": "standard_gravity",
    "rpm": "revolution/min", "rev/min": "revolution/min", "rev/s": "revolution/s", "°": "degree",
    "N/mm2": "N/mm**2", "J/mm3": "J/mm**3", "in lbf": "inch*lbf", "ft lbf": "ft*lbf", "N m": "N*m", "Nm": "N*m",
    "N mm": "N*mm", "Nmm": "N*mm", "lbf/in": "lbf/inch", "lb/in3": "lb/inch**3", "lb/ft3": "lb/ft**3",
    "W/(m K)": "W/(m*K)", "W/mK": "W/(m*K)", "J/(kg K)": "J/(kg*K)", "J/kgK": "J/(kg*K)", "%": "percent",
    "": "dimensionless", "°C": "degC", "°F": "degF", "hp": "horsepower", "ozf": "force_ounce",
    "cfm": "ft**3/min", "bar m/s": "bar*m/s",
}  # fmt: skip
PINT_SI = {
    "1/s": "1/s",
    "rad": "rad",
    "1": "dimensionless",
    "N m": "N*m",
    "W/(m K)": "W/(m*K)",
    "J/(kg K)": "J/(kg*K)",
    "Pa m/s": "Pa*m/s",
}
FACTORS = [
    pytest.param(kind, unit, id=f"{kind.name}-{unit}")
    for kind in units.KINDS.values()
    for unit in kind.factors
    if kind.name not in {"rotation", "hardness", "price", "sound level", "fibre count"} and unit != "1"
]
REGISTRY = pint.UnitRegistry()


def in_pint(unit: str) -> str:
    spelled = PINT_SPELLING.get(unit)
    if spelled is None:
        spelled = unit
        for name in ("mm", "cm", "m", "in", "ft", "s"):
            for power in "23":
                spelled = spelled.replace(f"{name}{power}", f"{name}**{power}")
        spelled = spelled.replace("in**", "inch**").replace("in3", "inch**3")
    return {"1": "dimensionless", "in": "inch"}.get(spelled, spelled)


@pytest.mark.parametrize(("kind", "unit"), FACTORS)
def test_factor_agrees_with_a_unit_library(kind: units.Kind, unit: str) -> None:
    expected = REGISTRY.Quantity(2.5, in_pint(unit)).to(PINT_SI.get(kind.si, kind.si)).magnitude
    assert units.parse(f"2.5 {unit}", kind.name) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("unit", list(units.KINDS["rotation"].factors))
def test_rotation_is_in_revolutions_and_never_in_radians(unit: str) -> None:
    turns = {"1/min": "revolution/min", "1/s": "revolution/s"}.get(unit) or PINT_SPELLING[unit]
    expected = REGISTRY.Quantity(18000, turns).to("revolution/s").magnitude
    assert units.parse(f"18000 {unit}", "rotation") == pytest.approx(expected, rel=1e-12)
    assert units.parse("18000 rpm", "rotation") == 300


@pytest.mark.parametrize("name", units.KINDS)
def test_the_example_of_a_kind_is_accepted(name: str) -> None:
    assert units.parse(units.KINDS[name].example, name) > 0


def test_a_unit_means_the_same_in_every_kind() -> None:
    factors: dict[str, set[float]] = {}
    for kind in units.KINDS.values():
        for unit, factor in kind.factors.items():
            factors.setdefault(unit, set()).add(factor)
    assert {unit for unit, values in factors.items() if len(values) > 1} == set()


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("0.4 mm", "length", 0.4e-3),
        ("0.4mm", "length", 0.4e-3),
        ("  .4   mm ", "length", 0.4e-3),
        ("4.e-1 mm", "length", 0.4e-3),
        ("+0.4 mm", "length", 0.4e-3),
        ("1/16 in", "length", 0.0254 / 16),
        ("3/8in", "length", 0.0254 * 3 / 8),
        ('0.5"', "length", 0.0127),
        ("0.4\u00a0mm", "length", 0.4e-3),
        ("5 \u00b5m", "length", 5e-6),
        ("5 \u03bcm", "length", 5e-6),
        ("18000 1/min", "rotation", 300),
        ("90°", "angle", math.pi / 2),
        ("20%", "fraction", 0.2),
        ("0.25", "number", 0.25),
        ("212 degF", "temperature", 373.15),
        ("-40 °C", "temperature", 233.15),
    ],
)
def test_plain_writing_is_read(text: str, kind: str, value: float) -> None:
    assert units.parse(text, kind) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "write"),
    [
        ("12,5 N", "force", '"12.5 N"'),
        ("1,5 mm", "length", '"1.5 mm"'),
        ("0,250 mm", "length", '"0.250 mm"'),
        ("1,234 mm", "length", '"1.234 mm" or "1234 mm"'),
        ("1,234.5 mm", "length", '"1234.5 mm"'),
        ("1.234,5 mm", "length", '"1234.5 mm"'),
        ("1,234,567 mm", "length", '"1234567 mm"'),
        ("12 000 rpm", "rotation", '"12000 rpm"'),
        ("12\u202f000 rpm", "rotation", '"12000 rpm"'),
        ("12'000 rpm", "rotation", '"12000 rpm"'),
        ("12_000 rpm", "rotation", '"12000 rpm"'),
        ("12 000.5 rpm", "rotation", '"12000.5 rpm"'),
        ("1 1/2 in", "length", '"1.5 in"'),
        ("\u22125 mm", "length", '"-5 mm"'),
        ("2.5 cm\u00b2", "area", '"2.5 cm2"'),
        ("\uff11\uff12 N", "force", '"12 N"'),
        ("0.5", "length", '"0.5 mm"'),
        ("1/16", "length", '"1/16 mm"'),
        ("20", "fraction", '"20 %"'),
        ("12000 RPM", "rotation", '"12000 rpm"'),
        ("1/16 inn", "length", '"1/16 in"'),
        ("5 MM", "length", '"5 mm"'),
        # What gives no hint of what was meant is answered with the example of the kind.
        ("5 N", "length", '"0.4 mm"'),
        ("0.5 millimetre", "length", '"0.4 mm"'),
        ("0x10", "length", '"0.4 mm"'),
        ("0x10 mm", "length", '"0.4 mm"'),
        ("nan", "length", '"0.4 mm"'),
        ("nan mm", "length", '"0.4 mm"'),
        ("inf mm", "length", '"0.4 mm"'),
        ("-inf N", "force", '"12 N"'),
        ("1e999 mm", "length", '"0.4 mm"'),
        ("1e999 degC", "temperature", '"120 degC"'),
        ("1e308 t", "mass", '"2.5 kg"'),
        ("1/0 in", "length", '"0.4 mm"'),
        ("1/" + "9" * 5000 + " in", "length", '"0.4 mm"'),
        ("\u0661\u0662 mm", "length", '"0.4 mm"'),
        ("1\u0662 mm", "length", '"0.4 mm"'),
        ("0.5 5 mm", "length", '"0.4 mm"'),
        ("5 mm 3", "length", '"5 mm"'),
        ("mm", "length", '"0.4 mm"'),
        ("", "length", '"0.4 mm"'),
        ("2**3 mm", "length", '"0.4 mm"'),
        ("5 mm", "number", '"0.25"'),
    ],
)
def test_doubtful_writing_is_refused_with_what_to_write(text: str, kind: str, write: str) -> None:
    with pytest.raises(UnitError) as caught:
        units.parse(text, kind)
    assert caught.value.write == write
    for suggestion in write.strip('"').split('" or "'):
        units.parse(suggestion, kind)


def test_a_refusal_tells_what_was_given_and_which_units_are_wanted() -> None:
    with pytest.raises(UnitError) as caught:
        units.parse("12 lb", "force")
    assert str(caught.value) == 'given "12 lb"; wanted a force in N, kN, lbf, ozf; write "12 N"'
    with pytest.raises(UnitError) as caught:
        units.parse("x" * 5000, "angle")
    assert caught.value.given == '"' + "x" * 57 + '..."'
    assert caught.value.wanted == "an angle in deg, rad"


@pytest.mark.parametrize("text", ["0.3 mm", "±0.3 mm", "± 0.3 mm", "+/-0.3 mm", "+- 0.3 mm"])
def test_half_a_tolerance(text: str) -> None:
    assert units.parse_plus_minus(text, "length") == pytest.approx(0.3e-3)
    assert units.unit_of(text, "length") == "mm"


def test_half_a_tolerance_is_not_negative_and_is_quoted_whole() -> None:
    with pytest.raises(UnitError, match=r'not negative; write "0.3 mm"'):
        units.parse_plus_minus("-0.3 mm", "length")
    with pytest.raises(UnitError, match=r'given "±0,3 mm".*write "0.3 mm"'):
        units.parse_plus_minus("±0,3 mm", "length")


def test_unit_of_refuses_what_is_no_quantity_of_its_kind() -> None:
    with pytest.raises(UnitError, match="a length in mm"):
        units.unit_of("5 N", "length")


def test_numbers_with_a_unit_of_any_kind() -> None:
    assert units.to_si(650, "N/mm2") == pytest.approx(650e6)
    assert units.to_si(120, "degC") == pytest.approx(393.15)
    assert units.to_si(0.25, "1") == 0.25
    with pytest.raises(UnitError, match="a known unit"):
        units.to_si(1, "furlong")


def test_quoted_text_is_one_harmless_line() -> None:
    assert units.quoted('a"b\\c') == r'"a\"b\\c"'
    assert units.quoted("\x1b[31m\nnew") == r'"\x1b[31m\nnew"'
    assert units.quoted("\u202eabc") == r'"\u202eabc"'
    assert units.quoted("µ 5°") == '"µ 5°"'


MAGNITUDES = st.floats(1e-6, 1e6) | st.floats(-1e6, -1e-6)


@given(MAGNITUDES, st.sampled_from(sorted(units.KINDS)), st.sampled_from(["metric", "inch"]))
def test_shown_text_reads_back_within_its_rounding(value: float, kind: str, system: units.System) -> None:
    shown = units.KINDS[kind].shown(system)
    back = units.parse(units.show(value, kind, system), kind)
    step = 10.0**-shown.decimals * units.KINDS[kind].factor(shown.unit)
    if shown.digits is not None:
        step = 10.0 ** (1 - shown.digits) * abs(value)
    assert back == pytest.approx(value, abs=0.5001 * step, rel=1e-9)


@given(MAGNITUDES, st.sampled_from(sorted(units.KINDS)))
def test_shown_value_undoes_the_factor(value: float, kind: str) -> None:
    for system in ("metric", "inch"):
        unit = units.KINDS[kind].shown(system).unit
        assert units.to_si(units.shown_value(value, kind, system), unit) == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_shown_figures() -> None:
    assert units.show(0.0004, "length") == "0.40 mm"
    assert units.show(0.0254, "length", "inch") == "1.0000 in"
    assert units.show(0.8e-6, "roughness") == "0.80 um"
    assert units.show(0.8e-6, "roughness", "inch") == "31 uin"
    assert units.show(300, "rotation") == "18000 rpm"
    assert units.show(0.25, "number") == "0.25"
    assert units.show(393.15, "temperature") == "120 degC"
    assert units.show(373.15, "temperature", "inch") == "212 degF"
    assert units.show(-1e-9, "length") == "0.00 mm"
    assert units.show(math.inf, "force") == "unlimited"
    assert units.show(math.nan, "force") == "-"


@pytest.mark.parametrize(
    ("value", "kind", "system", "text"),
    [
        (203.1919, "dust mass", "metric", "203 kg"),
        (1.5137, "dust mass", "metric", "1.51 kg"),
        (0.99951, "dust mass", "metric", "1000 g"),
        (0.782, "dust mass", "metric", "782 g"),
        (3.4e-5, "dust mass", "metric", "0.0340 g"),
        (203.1919, "dust mass", "inch", "448 lb"),
        (2.5333, "gas volume", "metric", "2.53 m3"),
        (0.0002e-6, "exposure", "metric", "0.000200 mg/m3"),
        (0.03, "dust concentration", "metric", "30.0 g/m3"),
        (2e-6, "ignition energy", "metric", "0.00200 mJ"),
        (0.0, "dust mass", "metric", "0 g"),
        (1237.35e3, "stiffness", "metric", "1240 N/mm"),
        (400.0, "stiffness", "metric", "0.400 N/mm"),
        (1492.45, "long length", "metric", "1490 m"),
        (0.281, "long length", "metric", "0.281 m"),
        (39.268, "torque", "metric", "39.3 N m"),
    ],
)
def test_what_spans_powers_of_ten_keeps_its_digits(value: float, kind: str, system: units.System, text: str) -> None:
    assert units.show(value, kind, system) == text


@given(MAGNITUDES, st.sampled_from(sorted(units.KINDS)), st.sampled_from(["metric", "inch"]), st.integers(0, 3))
def test_a_bound_is_shown_no_laxer_than_it_is(value: float, kind: str, system: units.System, finer: int) -> None:
    low, high = (units.parse(units.show(value, kind, system, side, finer), kind) for side in ("down", "up"))
    noise = 1e-9 * max(abs(value), 500.0 if kind == "temperature" else 0.0)
    assert low - noise <= value <= high + noise
    shown = units.KINDS[kind].shown(system)
    factor = units.KINDS[kind].factor(shown.unit)
    step = 10.0 ** (1 - shown.digits) * abs(value) if shown.digits else 10.0**-shown.decimals * factor
    assert high - low <= (step + 2 * noise) * 1.001


@pytest.mark.parametrize(
    ("value", "kind", "side", "text"),
    [
        (0.20258e-3, "length", "down", "0.20 mm"),
        (0.08536e-3, "length", "down", "0.085 mm"),
        (0.0004e-3, "length", "down", "0.00040 mm"),
        (0.30e-3, "length", "down", "0.30 mm"),
        (222123.0, "stiffness", "up", "223 N/mm"),
        (3025530.3, "stiffness", "up", "3030 N/mm"),
        (999500.0, "stiffness", "up", "1000 N/mm"),
        (18500 / 60, "rotation", "up", "18500 rpm"),
        (18500.001 / 60, "rotation", "up", "18501 rpm"),
        (0.0, "length", "down", "0.00 mm"),
        (math.inf, "stiffness", "up", "unlimited"),
    ],
)
def test_a_bound_is_rounded_to_its_strict_side_and_keeps_two_digits(
    value: float, kind: str, side: Toward, text: str
) -> None:
    assert units.show(value, kind, toward=side) == text


@given(st.text(max_size=30), st.sampled_from(sorted(units.KINDS)))
def test_any_text_is_a_finite_number_or_refused(text: str, kind: str) -> None:
    assert is_finite_or_explained(text, kind)


def is_finite_or_explained(text: str, kind: str) -> bool:
    try:
        return math.isfinite(units.parse(text, kind))
    except UnitError as error:
        return bool(error.wanted and error.write)
