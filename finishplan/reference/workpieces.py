"""Workpiece materials: cutting law, bulk properties, and the kind of chip and dust they give."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value

GROUPS: Final = (
    "steel-unalloyed", "steel-alloy", "steel-hardened", "stainless", "cast-iron", "aluminium", "magnesium", "zinc",
    "brass", "titanium", "nickel", "thermoplastic", "foam", "gfrp", "cfrp", "hardwood", "softwood", "board",
)  # fmt: skip
"""Groups that cutters have windows for."""

DUSTS: Final = (
    "ferrous", "stainless-nickel", "light-metal", "magnesium", "titanium", "zinc", "copper-alloy", "plastic",
    "glass-fibre", "carbon-fibre", "wood",
)  # fmt: skip
CHIPS: Final = ("long", "short", "dust")


@dataclass(frozen=True)
class Kienzle:
    """Specific cutting force as a power of chip thickness, kc = kc11 (h/1 mm)^-mc.

    `kc11` [Pa] holds at `reference_rake` [rad], and the law from `chip_low` to `chip_high` [m].
    """

    kc11: Value
    mc: Value
    reference_rake: Value
    chip_low: Value
    chip_high: Value


@dataclass(frozen=True)
class Affine:
    """Cutting force per width rising in a straight line with chip thickness, kc = slope + intercept/h.

    `slope` [Pa], `intercept` [N/m]; the law holds from `chip_low` to `chip_high` [m].
    """

    slope: Value
    intercept: Value
    chip_low: Value
    chip_high: Value


CuttingLaw: TypeAlias = Kienzle | Affine


@dataclass(frozen=True)
class Workpiece:
    """One workpiece material. `hardness` [HB] is given for metals where it is usual to state it."""

    name: str
    title: str
    aliases: tuple[str, ...]
    group: str
    dust: str
    chip: str
    cutting: CuttingLaw
    density: Value
    tensile_strength: Value
    specific_heat: Value
    conductivity: Value
    temperature_limit: Value
    hardness: Value | None = None


_KINDS: Final = {
    "density": "density",
    "tensile_strength": "strength",
    "specific_heat": "specific heat",
    "conductivity": "conductivity",
    "temperature_limit": "temperature",
}
_CHIP_RANGE: Final = {"chip_low": "length", "chip_high": "length"}
_KIENZLE: Final = {"kc11": "strength", "mc": "number", "reference_rake": "angle"} | _CHIP_RANGE
_AFFINE: Final = {"slope": "strength", "intercept": "line force"} | _CHIP_RANGE


def _read(name: str, record: Record) -> Workpiece:
    return Workpiece(
        name=name,
        title=record.text("title"),
        aliases=record.texts("aliases"),
        group=record.choice("group", GROUPS),
        dust=record.choice("dust", DUSTS),
        chip=record.choice("chip", CHIPS),
        cutting=_read_law(record),
        **record.values(_KINDS),
        **record.values_if_held({"hardness": "hardness"}),
    )


def _read_law(record: Record) -> CuttingLaw:
    if record.holds("kc11") == record.holds("slope"):
        raise record.refuse("kc11", "wanted either kc11 with mc, or slope with intercept")
    if record.holds("kc11"):
        return Kienzle(**record.values(_KIENZLE))
    return Affine(**record.values(_AFFINE))


WORKPIECES: Final = Table("workpieces", "workpiece material", _read)
