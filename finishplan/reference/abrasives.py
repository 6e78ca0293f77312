"""Families of abrasive products: grain, forces, speeds, and the window for every group of materials."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.errors import ReferenceDataError
from finishplan.reference.bands import product
from finishplan.reference.grits import GRITS, Grit
from finishplan.reference.removal import ABRADED_GROUPS, REMOVAL
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value

TOOLS: Final = ("belt", "disc", "orbital", "wheel", "brush", "buff", "cut-off", "grit router")


@dataclass(frozen=True)
class AbrasiveWindow:
    """Surface speeds [m/s] and contact forces [N] of a family on one group of materials.

    `half_life` [s] is the time of contact after which the removal rate has fallen to half, or a
    product without graded grain is worn out.
    """

    group: str
    speed_low: Value
    speed_high: Value
    force_low: Value
    force_high: Value
    half_life: Value


@dataclass(frozen=True)
class Grain:
    """Graded grain of a family.

    `step_ratio` is the largest ratio of grain sizes from one step of a sequence to the next,
    `removal_ratio` the removal coefficient and `roughness_ratio` the roughness left, each over those
    of a coated belt of the same grit on the same material.
    """

    coarsest: Grit
    finest: Grit
    step_ratio: Value
    removal_ratio: Value
    roughness_ratio: Value


@dataclass(frozen=True)
class Penetration:
    """How far a brush is fed into the surface beyond first touch [m]; `of_free_length` is the most that
    its filaments take, as a share of their free length."""

    low: Value
    high: Value
    of_free_length: Value


@dataclass(frozen=True)
class AbrasiveFamily:
    """Abrasive products of one kind.

    Forces are stated for the contact width of a belt or wheel, or the diameter of a disc, pad or
    brush, of `reference_size` [m]. `rated_speed_share` is the free-running speed over the speed marked
    on the product, which must not be exceeded; `marked_speed` [m/s] is the usual marking. A family has
    graded `grain`, or a `refinement`, the roughness Ra after it over that before. `force_ratio` is
    given where the family settles it; else it is that of the material. `youngs_modulus` [Pa] is that of
    the body of a tool that cuts to size, `grain_conductivity` [W/(m K)] that of grain other than the usual.
    """

    name: str
    title: str
    tool: str
    cautions: tuple[str, ...]
    reference_size: Value
    pressure_low: Value
    pressure_high: Value
    rated_speed_share: Value
    windows: Mapping[str, AbrasiveWindow]
    marked_speed: Value | None = None
    force_ratio: Value | None = None
    youngs_modulus: Value | None = None
    grain_conductivity: Value | None = None
    price: Value | None = None
    refinement: Value | None = None
    grain: Grain | None = None
    penetration: Penetration | None = None
    aliases: ClassVar[tuple[str, ...]] = ()

    @property
    def is_disc(self) -> bool:
        """Whether its tools cut in their own plane."""
        return self.tool == "cut-off"

    def window(self, group: str) -> AbrasiveWindow:
        """The window for a group of materials or coatings.

        Raises
        ------
        ReferenceDataError
            The family has no window for it.
        """
        if group not in self.windows:
            raise ReferenceDataError(
                f"abrasive family {self.name!r} has no window for the material group {group!r}; "
                f"it has {', '.join(self.windows)}"
            )
        return self.windows[group]

    def force_ratio_on(self, group: str) -> Value:
        """Tangential over normal force on a group of materials."""
        return self.force_ratio or REMOVAL.find(group).force_ratio

    def removal_coefficient(self, group: str, grain_size: float) -> Value:
        """Volume removed per force and sliding distance [1/Pa] by a fresh product of a grain size [m].

        Raises
        ------
        ReferenceDataError
            The family has no graded grain.
        """
        return product(REMOVAL.find(group).coefficient(grain_size), self._graded().removal_ratio)

    def roughness_factor(self, group: str) -> Value:
        """Mean roughness Ra left over the grain size.

        Raises
        ------
        ReferenceDataError
            The family has no graded grain.
        """
        return product(REMOVAL.find(group).roughness_factor, self._graded().roughness_ratio)

    def _graded(self) -> Grain:
        if self.grain is None:
            raise ReferenceDataError(f"abrasive family {self.name!r} has no graded grain; it refines a surface")
        return self.grain


_KINDS: Final = {
    "reference_size": "length",
    "pressure_low": "pressure",
    "pressure_high": "pressure",
    "rated_speed_share": "fraction",
}
_OPTIONAL: Final = {
    "marked_speed": "surface speed",
    "force_ratio": "number",
    "youngs_modulus": "strength",
    "grain_conductivity": "conductivity",
    "price": "price",
    "refinement": "number",
}
_FORCES: Final = {"force_low": "force", "force_high": "force"}
_WINDOW: Final = {"speed_low": "surface speed", "speed_high": "surface speed", "half_life": "time"}
_GRAIN: Final = {"step_ratio": "number", "removal_ratio": "number", "roughness_ratio": "number"}
_PENETRATION: Final = {"penetration_low": "length", "penetration_high": "length", "penetration_share": "fraction"}


def _read(name: str, record: Record) -> AbrasiveFamily:
    tool = record.choice("tool", TOOLS)
    family = AbrasiveFamily(
        name=name,
        title=record.text("title"),
        tool=tool,
        cautions=record.texts("cautions"),
        windows=dict(_read_windows(record)),
        grain=_read_grain(record),
        penetration=Penetration(*record.values(_PENETRATION).values()) if tool == "brush" else None,
        **record.values(_KINDS),
        **record.values_if_held(_OPTIONAL),
    )
    _refuse_crossed(record, family.pressure_low, family.pressure_high)
    if family.penetration is not None:
        _refuse_crossed(record, family.penetration.low, family.penetration.high)
    return family


def _read_windows(record: Record) -> Iterator[tuple[str, AbrasiveWindow]]:
    """One window per group; a window of the file serves every group it names, with forces of its own or the usual."""
    forces = record.values(_FORCES)
    served: set[str] = set()
    for window in record.records("windows").values():
        figures = {**forces, **window.values(_WINDOW), **window.values_if_held(_FORCES)}
        groups = window.texts("groups")
        window.nothing_else()
        _refuse_crossed(window, figures["speed_low"], figures["speed_high"])
        _refuse_crossed(window, figures["force_low"], figures["force_high"])
        for group in groups:
            if group not in ABRADED_GROUPS:
                raise window.refuse("groups", f"no such material group {group!r}; wanted {', '.join(ABRADED_GROUPS)}")
            if group in served:
                raise window.refuse("groups", f"{group!r} has a window already")
            served.add(group)
            yield group, AbrasiveWindow(group, **figures)


def _read_grain(record: Record) -> Grain | None:
    if record.holds("coarsest_grit") == record.holds("refinement"):
        raise record.refuse("coarsest_grit", "wanted either graded grain, or the refinement of a surface")
    if record.holds("refinement"):
        return None
    coarsest, finest = (GRITS.find(record.text(key)) for key in ("coarsest_grit", "finest_grit"))
    if coarsest.size.value <= finest.size.value:
        raise record.refuse("coarsest_grit", f"{coarsest.name} is not coarser than {finest.name}")
    return Grain(coarsest, finest, **record.values(_GRAIN))


def _refuse_crossed(record: Record, low: Value, high: Value) -> None:
    if low.value > high.value:
        raise ReferenceDataError(f"{record.file}: {low.path}: lies above {high.path}")


ABRASIVES: Final = Table("abrasives", "abrasive family", _read)
