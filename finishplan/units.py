"""Text with a unit in, SI floats out, and SI floats back to text in metric or inch units.

Every kind of quantity has a closed list of units. The number in front of the unit must be
written plainly (``0.4``, ``1e-3``, ``1/16``): a decimal comma, a space inside the number, a bare
``nan`` or an unknown unit is answered with what to write, never guessed at.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from finishplan.errors import UnitError, nearest
from finishplan.number_styles import plain_readings
from finishplan.rounding import Toward, written

System = Literal["metric", "inch"]

INCH: Final = 0.0254
POUND: Final = 0.45359237
POUND_FORCE: Final = POUND * 9.80665
MINUTE: Final = 60.0
HOUR: Final = 3600.0
YEAR: Final = 365.25 * 24 * HOUR
DEGREE: Final = math.pi / 180
ZERO_CELSIUS: Final = 273.15
DEGREE_FAHRENHEIT: Final = 5 / 9
ZERO_FAHRENHEIT: Final = 459.67 * DEGREE_FAHRENHEIT

_OFFSETS: Final[Mapping[str, float]] = {
    "degC": ZERO_CELSIUS, "°C": ZERO_CELSIUS, "degF": ZERO_FAHRENHEIT, "°F": ZERO_FAHRENHEIT,
}  # fmt: skip


@dataclass(frozen=True)
class Shown:
    """How a kind is printed in one system of units: the unit, the suffix it gives a key, the decimals.

    What spans many powers of ten has significant `digits` instead, and is printed in its `coarse` unit from
    one of that on; a key keeps the suffix.
    """

    unit: str
    suffix: str
    decimals: int = 0
    digits: int | None = None
    coarse: str | None = None


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: accepted units with their SI factors, and how it is shown."""

    name: str
    si: str
    factors: Mapping[str, float]
    metric: Shown
    inch: Shown
    example: str

    @property
    def phrase(self) -> str:
        """The name as it stands in a sentence."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    def shown(self, system: System) -> Shown:
        return self.inch if system == "inch" else self.metric

    def factor(self, unit: str) -> float:
        return self.factors[unit]


_LENGTH = {
    "mm": 1e-3, "um": 1e-6, "µm": 1e-6, "μm": 1e-6, "cm": 1e-2, "m": 1.0,
    "in": INCH, "inch": INCH, '"': INCH, "mil": INCH / 1000, "ft": 12 * INCH,
}  # fmt: skip
_ROUGHNESS = {
    "um": 1e-6, "µm": 1e-6, "μm": 1e-6, "nm": 1e-9,
    "uin": INCH * 1e-6, "µin": INCH * 1e-6, "μin": INCH * 1e-6, "mil": INCH / 1000,
}  # fmt: skip
_AREA = {
    "mm2": 1e-6, "mm^2": 1e-6, "cm2": 1e-4, "cm^2": 1e-4, "m2": 1.0, "m^2": 1.0,
    "in2": INCH**2, "in^2": INCH**2, "ft2": (12 * INCH) ** 2, "ft^2": (12 * INCH) ** 2,
}  # fmt: skip
_SPEED = {
    "m/s": 1.0, "mm/s": 1e-3, "m/min": 1 / MINUTE, "mm/min": 1e-3 / MINUTE,
    "in/s": INCH, "ips": INCH, "in/min": INCH / MINUTE, "ipm": INCH / MINUTE,
    "ft/min": 12 * INCH / MINUTE, "fpm": 12 * INCH / MINUTE, "sfpm": 12 * INCH / MINUTE, "sfm": 12 * INCH / MINUTE,
}  # fmt: skip
_STRESS = {
    "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "bar": 1e5, "mbar": 1e2,
    "N/mm2": 1e6, "N/mm^2": 1e6, "J/mm3": 1e9, "psi": POUND_FORCE / INCH**2, "ksi": 1e3 * POUND_FORCE / INCH**2,
}  # fmt: skip
_DUSTINESS = {"mg/m3": 1e-6, "ug/m3": 1e-9, "g/m3": 1e-3}


def _kind(
    name: str, si: str, factors: Mapping[str, float], metric: Shown, inch: Shown | None = None, example: str = ""
) -> Kind:
    return Kind(name, si, dict(factors), metric, inch or metric, example or f"1 {metric.unit}")


KINDS: Final[Mapping[str, Kind]] = {
    kind.name: kind
    for kind in (
        _kind("length", "m", _LENGTH, Shown("mm", "mm", 2), Shown("in", "in", 4), "0.4 mm"),
        _kind("fine length", "m", _LENGTH, Shown("mm", "mm", 4), Shown("in", "in", 5), "0.01 mm"),
        _kind("long length", "m", _LENGTH, Shown("m", "m", digits=3), Shown("ft", "ft", digits=3), "1.2 m"),
        _kind("roughness", "m", _ROUGHNESS, Shown("um", "um", 2), Shown("uin", "uin", 0), "0.8 um"),
        _kind("area", "m^2", _AREA, Shown("mm2", "mm2", digits=4), Shown("in2", "in2", digits=4), "2.5 cm2"),
        _kind("force", "N", {"N": 1.0, "kN": 1e3, "lbf": POUND_FORCE, "ozf": POUND_FORCE / 16},
              Shown("N", "N", 1), Shown("lbf", "lbf", 2), "12 N"),
        _kind("mass", "kg", {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": POUND, "oz": POUND / 16},
              Shown("kg", "kg", 2), Shown("lb", "lb", 2), "2.5 kg"),
        _kind("rotation", "1/s", {"rpm": 1 / MINUTE, "1/min": 1 / MINUTE, "rev/min": 1 / MINUTE,
                                  "rev/s": 1.0, "1/s": 1.0},
              Shown("rpm", "rpm", 0), example="18000 rpm"),
        _kind("surface speed", "m/s", _SPEED, Shown("m/s", "m_s", 1), Shown("sfpm", "sfpm", 0), "15 m/s"),
        _kind("feed", "m/s", _SPEED, Shown("mm/s", "mm_s", 1), Shown("in/min", "in_min", 1), "40 mm/s"),
        _kind("acceleration", "m/s^2", {"m/s2": 1.0, "m/s^2": 1.0, "mm/s2": 1e-3, "mm/s^2": 1e-3,
                                        "ft/s2": 12 * INCH, "ft/s^2": 12 * INCH, "gn": 9.80665},
              Shown("m/s2", "m_s2", 2), Shown("ft/s2", "ft_s2", 2), "2 m/s2"),
        _kind("vibration", "m/s^2", {"m/s2": 1.0, "m/s^2": 1.0}, Shown("m/s2", "m_s2", 2), example="5 m/s2"),
        _kind("angle", "rad", {"deg": DEGREE, "°": DEGREE, "rad": 1.0}, Shown("deg", "deg", 1), example="90 deg"),
        _kind("time", "s", {"s": 1.0, "ms": 1e-3, "min": MINUTE, "h": 3600.0}, Shown("s", "s", 1), example="6 s"),
        _kind("long time", "s", {"s": 1.0, "min": MINUTE, "h": 3600.0}, Shown("min", "min", 1), example="90 min"),
        _kind("power", "W", {"W": 1.0, "kW": 1e3, "hp": 550 * 12 * INCH * POUND_FORCE},
              Shown("W", "W", 0), Shown("hp", "hp", 3), "800 W"),
        _kind("torque", "N m", {"N m": 1.0, "Nm": 1.0, "N mm": 1e-3, "Nmm": 1e-3, "in lbf": INCH * POUND_FORCE,
                                "ft lbf": 12 * INCH * POUND_FORCE},
              Shown("N m", "N_m", digits=3), Shown("in lbf", "in_lbf", digits=3), "0.4 N m"),
        _kind("stiffness", "N/m", {"N/m": 1.0, "N/mm": 1e3, "kN/mm": 1e6, "N/um": 1e6, "N/µm": 1e6,
                                   "lbf/in": POUND_FORCE / INCH},
              Shown("N/mm", "N_mm", digits=3), Shown("lbf/in", "lbf_in", digits=3), "500 N/mm"),
        _kind("pressure", "Pa", _STRESS, Shown("bar", "bar", 2), Shown("psi", "psi", 1), "3 bar"),
        _kind("contact pressure", "Pa", _STRESS, Shown("kPa", "kPa", 2), Shown("psi", "psi", 2), "2.4 kPa"),
        _kind("large area", "m^2", _AREA, Shown("m2", "m2", 3), Shown("ft2", "ft2", 2), "0.24 m2"),
        _kind("strength", "Pa", _STRESS, Shown("N/mm2", "N_mm2", digits=3), Shown("ksi", "ksi", digits=3), "650 N/mm2"),
        _kind("line force", "N/m", {"N/m": 1.0, "N/mm": 1e3, "lbf/in": POUND_FORCE / INCH},
              Shown("N/mm", "N_mm", 3), Shown("lbf/in", "lbf_in", 2), "3.4 N/mm"),
        _kind("frequency", "1/s", {"Hz": 1.0, "kHz": 1e3}, Shown("Hz", "Hz", 1), example="10 Hz"),
        _kind("density", "kg/m^3", {"kg/m3": 1.0, "kg/m^3": 1.0, "g/cm3": 1e3, "g/cm^3": 1e3,
                                    "lb/in3": POUND / INCH**3, "lb/ft3": POUND / (12 * INCH) ** 3},
              Shown("kg/m3", "kg_m3", 0), Shown("lb/in3", "lb_in3", 4), "2700 kg/m3"),
        _kind("volume", "m^3", {"mm3": 1e-9, "mm^3": 1e-9, "cm3": 1e-6, "m3": 1.0, "in3": INCH**3},
              Shown("mm3", "mm3", 1), Shown("in3", "in3", 5), "40 mm3"),
        _kind("removal rate", "m^3/s", {"mm3/s": 1e-9, "mm3/min": 1e-9 / MINUTE, "cm3/min": 1e-6 / MINUTE,
                                        "in3/min": INCH**3 / MINUTE},
              Shown("mm3/s", "mm3_s", 2), Shown("in3/min", "in3_min", 4), "3 mm3/s"),
        _kind("removal coefficient", "1/Pa", {"mm3/(N m)": 1e-9, "mm^3/(N m)": 1e-9},
              Shown("mm3/(N m)", "mm3_Nm", 4), example="0.03 mm3/(N m)"),
        _kind("specific energy", "J/m^3", {"J/mm3": 1e9, "J/mm^3": 1e9, "J/cm3": 1e6, "J/m3": 1.0,
                                           "hp min/in3": 550 * 12 * POUND_FORCE * MINUTE / INCH**2},
              Shown("J/mm3", "J_mm3", 2), Shown("hp min/in3", "hp_min_in3", 2), "12 J/mm3"),
        _kind("price", "EUR", {"EUR": 1.0}, Shown("EUR", "EUR", 2), example="3.50 EUR"),
        _kind("conductivity", "W/(m K)", {"W/(m K)": 1.0, "W/mK": 1.0}, Shown("W/(m K)", "W_mK", 2)),
        _kind("specific heat", "J/(kg K)", {"J/(kg K)": 1.0, "J/kgK": 1.0}, Shown("J/(kg K)", "J_kgK", 0)),
        _kind("temperature", "K", {"degC": 1.0, "°C": 1.0, "K": 1.0,
                                     "degF": DEGREE_FAHRENHEIT, "°F": DEGREE_FAHRENHEIT},
              Shown("degC", "degC", 0), Shown("degF", "degF", 0), "120 degC"),
        _kind("temperature difference", "K", {"K": 1.0}, Shown("K", "K", 0), example="40 K"),
        _kind("diffusivity", "m^2/s", {"m2/s": 1.0, "mm2/s": 1e-6}, Shown("mm2/s", "mm2_s", 3), example="0.1 mm2/s"),
        _kind("hardness", "HB", {"HB": 1.0}, Shown("HB", "HB", 0), example="200 HB"),
        _kind("air flow", "m^3/s", {"m3/h": 1 / HOUR, "m3/min": 1 / MINUTE, "m3/s": 1.0, "L/s": 1e-3,
                                    "cfm": (12 * INCH) ** 3 / MINUTE},
              Shown("m3/h", "m3_h", 0), Shown("cfm", "cfm", 0), "800 m3/h"),
        _kind("air speed", "m/s", _SPEED, Shown("m/s", "m_s", 2), Shown("fpm", "fpm", 0), "20 m/s"),
        _kind("mass rate", "kg/s", {"g/min": 1e-3 / MINUTE, "kg/h": 1 / HOUR, "kg/s": 1.0, "lb/h": POUND / HOUR},
              Shown("g/min", "g_min", digits=3), Shown("lb/h", "lb_h", digits=3), "2.5 g/min"),
        _kind("dust mass", "kg", {"g": 1e-3, "kg": 1.0, "lb": POUND, "oz": POUND / 16},
              Shown("g", "g", digits=3, coarse="kg"), Shown("oz", "oz", digits=3, coarse="lb"), "250 g"),
        _kind("fibre count", "1/m^3", {"f/cm3": 1e6}, Shown("f/cm3", "f_cm3", digits=3), example="0.5 f/cm3"),
        _kind("exposure", "kg/m^3", _DUSTINESS, Shown("mg/m3", "mg_m3", digits=3), example="0.5 mg/m3"),
        _kind("dust concentration", "kg/m^3", _DUSTINESS, Shown("g/m3", "g_m3", digits=3), example="7.5 g/m3"),
        _kind("duration", "s", {"h": HOUR, "min": MINUTE, "s": 1.0}, Shown("h", "h", 2), example="8 h"),
        _kind("calendar time", "s", {"years": YEAR, "months": YEAR / 12}, Shown("years", "years", 1)),
        _kind("short time", "s", {"s": 1.0, "ms": 1e-3}, Shown("s", "s", 2), example="0.5 s"),
        _kind("energy", "J", {"J": 1.0, "mJ": 1e-3, "kJ": 1e3, "ft lbf": 12 * INCH * POUND_FORCE},
              Shown("J", "J", 0), Shown("ft lbf", "ft_lbf", 0), "250 J"),
        _kind("ignition energy", "J", {"mJ": 1e-3, "J": 1.0}, Shown("mJ", "mJ", digits=3), example="30 mJ"),
        _kind("gas volume", "m^3", {"L": 1e-3, "m3": 1.0}, Shown("L", "L", digits=3, coarse="m3"), example="12 L"),
        _kind("explosion pressure", "Pa", _STRESS, Shown("bar", "bar", 1), example="8 bar"),
        _kind("explosion index", "Pa m/s", {"bar m/s": 1e5}, Shown("bar m/s", "bar_m_s", 0), example="200 bar m/s"),
        _kind("sound level", "dB", {"dB(A)": 1.0}, Shown("dB(A)", "dB_A", 1), example="84 dB(A)"),
        _kind("level difference", "dB", {"dB": 1.0}, Shown("dB", "dB", 1), example="12 dB"),
        _kind("small share", "1", {"%": 0.01, "1": 1.0}, Shown("%", "percent", digits=3), example="0.5 %"),
        _kind("fraction", "1", {"%": 0.01, "1": 1.0}, Shown("%", "percent", 0), example="20 %"),
        _kind("money", "1", {"": 1.0}, Shown("", "", 4), example="0.25"),
        _kind("number", "1", {"": 1.0, "1": 1.0}, Shown("", "", 2), example="0.25"),
    )
}  # fmt: skip

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
# A unit starts with a letter or a sign of its own, so that no digit is ever left over for it ("12 000 rpm").
_UNIT = r"(?:[^\W\d_]|[\"°%]).*"
_PLAIN: Final = re.compile(
    rf"(?P<number>{_NUMBER})(?:/(?P<divisor>[0-9]{{1,6}}))?(?:\s*(?P<unit>{_UNIT})|\s+(?P<per>1/[a-z].*))?"
)
LONGEST_QUOTED: Final = 60
_PLUS_MINUS: Final = re.compile(r"^(?:±|\+/-|\+-)\s*")


def quoted(text: str) -> str:
    """Text between double quotes as a job file has it, cut short, with nothing a terminal would act on."""
    short = text if len(text) <= LONGEST_QUOTED else f"{text[: LONGEST_QUOTED - 3]}..."
    escaped = short.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in escaped) + '"'


def parse(text: str, kind: str) -> float:
    """Read a quantity such as ``"0.4 mm"`` and return it in SI units.

    Parameters
    ----------
    text : str
        Number and unit. A fraction such as ``"1/16 in"`` is a number.
    kind : str
        Key of `KINDS`; its unit list is the only one accepted.

    Returns
    -------
    float
        The value in the kind's SI unit; temperatures in kelvin.

    Raises
    ------
    UnitError
        Anything that is not plainly a finite number followed by an accepted unit.
    """
    entry = KINDS[kind]
    value = _read(text, entry)
    if value is None:
        raise UnitError(quoted(text), _wanted(entry), _suggestion(text, entry))
    return value


def parse_plus_minus(text: str, kind: str) -> float:
    """Read half of a symmetric tolerance, ``"0.3 mm"`` or ``"±0.3 mm"``, in SI units."""
    amount = _PLUS_MINUS.sub("", text.strip())
    try:
        value = parse(amount, kind)
    except UnitError as error:
        raise UnitError(quoted(text), error.wanted, error.write) from None
    if value < 0:
        raise UnitError(quoted(text), "half of a symmetric tolerance, not negative", quoted(amount.removeprefix("-")))
    return value


def unit_of(text: str, kind: str) -> str:
    """The unit that readable text of this kind is written in, without the number."""
    parts = _parts(_PLUS_MINUS.sub("", text.strip()))
    if parts is None or parts[1] not in KINDS[kind].factors:
        raise UnitError(quoted(text), _wanted(KINDS[kind]))
    return parts[1]


def to_si(value: float, unit: str) -> float:
    """Convert a number in any unit this module knows; the unit alone must settle the factor."""
    for kind in KINDS.values():
        if unit in kind.factors:
            return value * kind.factors[unit] + _OFFSETS.get(unit, 0.0)
    raise UnitError(quoted(unit), "a known unit")


def from_si(value: float, unit: str) -> float:
    """Express an SI value in a unit this module knows; the inverse of `to_si`."""
    zero, one = to_si(0.0, unit), to_si(1.0, unit)
    return (value - zero) / (one - zero)


def shown_value(value: float, kind: str, system: System = "metric") -> float:
    """The SI value expressed in the unit its kind is shown in."""
    entry = KINDS[kind]
    unit = entry.shown(system).unit
    return (value - _OFFSETS.get(unit, 0.0)) / entry.factors[unit]


def show(value: float, kind: str, system: System = "metric", toward: Toward = "nearest", finer: int = 0) -> str:
    """Text of an SI value in the chosen system, rounded as its kind is usually read.

    `toward` is where to round to, `finer` adds decimals.
    """
    entry = KINDS[kind]
    shown = entry.shown(system)
    if not math.isfinite(value):
        return "unlimited" if value > 0 else "-"
    large = shown.coarse is not None and abs(value) >= entry.factors[shown.coarse]
    unit = shown.coarse if shown.coarse is not None and large else shown.unit
    number = (value - _OFFSETS.get(unit, 0.0)) / entry.factors[unit]
    return f"{written(number, shown.decimals, shown.digits, toward, finer)} {unit}".rstrip()


def _parts(text: str) -> tuple[float, str] | None:
    """Number and unit of text written plainly, the unit not yet looked at."""
    match = _PLAIN.fullmatch(" ".join(text.split()))
    if match is None:
        return None
    divisor = float(match["divisor"] or 1)
    number = float(match["number"]) / divisor if divisor else math.inf
    return number, match["unit"] or match["per"] or ""


def _read(text: str, kind: Kind) -> float | None:
    parts = _parts(text)
    if parts is None or parts[1] not in kind.factors:
        return None
    number, unit = parts
    value = number * kind.factors[unit] + _OFFSETS.get(unit, 0.0)
    return value if math.isfinite(number) and math.isfinite(value) else None


def _wanted(kind: Kind) -> str:
    # A bare "1" is a unit of the reference tables; nobody writes it by hand.
    units = [unit for unit in kind.factors if unit.isascii() and "^" not in unit and unit not in {'"', "1", ""}]
    return f"{kind.phrase} in {', '.join(units)}" if units else "a number without a unit"


def _suggestion(text: str, kind: Kind) -> str:
    """What the user most likely meant, for the 'write' part of a fault; never used as a value."""
    readings = [reading for reading in _mended(" ".join(text.split()), kind) if _read(reading, kind) is not None]
    return " or ".join(quoted(reading) for reading in readings) or quoted(kind.example)


def _mended(text: str, kind: Kind) -> list[str]:
    match = _PLAIN.fullmatch(text)
    if match is not None:
        unit = _likely_unit(match["unit"] or match["per"] or "", kind)
        amount = match["number"] + (f"/{match['divisor']}" if match["divisor"] else "")
        return [f"{amount} {unit}".strip()] if unit is not None else [unicodedata.normalize("NFKC", text)]
    return plain_readings(text) or [unicodedata.normalize("NFKC", text).replace("\N{MINUS SIGN}", "-")]


def _likely_unit(unit: str, kind: Kind) -> str | None:
    """The usual unit where none is written, the closest where it is misspelt, none where it measures something else."""
    if not unit:
        return kind.example.partition(" ")[2]
    if any(unit in other.factors for other in KINDS.values()):
        return None
    close = nearest(unit, filter(str.isascii, kind.factors), 1)
    return close[0] if close and len(unit) <= len(close[0]) + 2 else None
