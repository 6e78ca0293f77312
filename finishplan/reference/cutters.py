"""Cutter families: edge geometry, force behaviour, and the window for every group of materials."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.errors import ReferenceDataError
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value
from finishplan.reference.workpieces import GROUPS

DISCS: Final = ("saw blade",)
"""Geometries without a shank, which cut in their own plane."""

GEOMETRIES: Final = ("burr", "chamfer mill", "end mill", "router", *DISCS)


@dataclass(frozen=True)
class CutterWindow:
    """Surface speeds [m/s] and feeds per tooth [m] a family works at in one group of materials.

    Tool life is either a Taylor pair, v T^n = C with `taylor_c` [m/s] the speed for one minute of
    life, or `life_length` [m], the length of edge one tool cuts.
    """

    group: str
    speed_low: Value
    speed_high: Value
    feed_low: Value
    feed_high: Value
    taylor_c: Value | None = None
    taylor_n: Value | None = None
    life_length: Value | None = None


@dataclass(frozen=True)
class CutterFamily:
    """Cutters of one kind. Feeds of the windows are stated at `reference_diameter` [m]; they go with the
    diameter up to `largest_scaled_diameter` [m].

    `minimum_chip_ratio` is the least chip thickness over `edge_radius`, `force_ratio` the normal
    over the tangential force, `wear_factor` the cutting force at the end of life over that of a
    sharp tool, `conductivity` that of heat in the edge, `width_share` what one tooth covers of the
    width of the cut.
    """

    name: str
    title: str
    geometry: str
    reference_diameter: Value
    largest_scaled_diameter: Value
    edge_radius: Value
    effective_rake: Value
    friction_coefficient: Value
    force_ratio: Value
    minimum_chip_ratio: Value
    youngs_modulus: Value
    conductivity: Value
    width_share: Value
    wear_factor: Value
    windows: Mapping[str, CutterWindow]
    aliases: ClassVar[tuple[str, ...]] = ()

    @property
    def is_disc(self) -> bool:
        """Whether its tools cut in their own plane."""
        return self.geometry in DISCS

    def window(self, group: str) -> CutterWindow:
        """The window for a group of workpiece materials.

        Raises
        ------
        ReferenceDataError
            The family has no window for it.
        """
        if group not in self.windows:
            raise ReferenceDataError(
                f"cutter family {self.name!r} has no window for the material group {group!r}; "
                f"it has {', '.join(self.windows)}"
            )
        return self.windows[group]


_KINDS: Final = {
    "reference_diameter": "length",
    "largest_scaled_diameter": "length",
    "edge_radius": "length",
    "effective_rake": "angle",
    "friction_coefficient": "number",
    "force_ratio": "number",
    "minimum_chip_ratio": "number",
    "youngs_modulus": "strength",
    "conductivity": "conductivity",
    "width_share": "fraction",
    "wear_factor": "number",
}
_WINDOW: Final = {
    "speed_low": "surface speed",
    "speed_high": "surface speed",
    "feed_low": "length",
    "feed_high": "length",
}
_TAYLOR: Final = {"taylor_c": "surface speed", "taylor_n": "number"}


def _read(name: str, record: Record) -> CutterFamily:
    return CutterFamily(
        name=name,
        title=record.text("title"),
        geometry=record.choice("geometry", GEOMETRIES),
        windows={group: _read_window(group, window) for group, window in record.records("windows").items()},
        **record.values(_KINDS),
    )


def _read_window(group: str, record: Record) -> CutterWindow:
    if group not in GROUPS:
        raise ReferenceDataError(f"{record.file}: {record.path}: no such material group; wanted {', '.join(GROUPS)}")
    if record.holds("taylor_c") == record.holds("life_length"):
        raise record.refuse("taylor_c", "wanted either taylor_c with taylor_n, or life_length")
    life = {"life_length": "length"} if record.holds("life_length") else _TAYLOR
    window = CutterWindow(group, **record.values(_WINDOW), **record.values(life))
    record.nothing_else()
    for low, high in ((window.speed_low, window.speed_high), (window.feed_low, window.feed_high)):
        if low.value > high.value:
            raise ReferenceDataError(f"{record.file}: {low.path}: lies above {high.path}")
    return window


CUTTERS: Final = Table("cutters", "cutter family", _read)
