"""The facts that hazard rules look at: what a plan does, with what, and what the cell has against it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from finishplan import physics
from finishplan.job import Installed
from finishplan.physics.dust import DustFamily, dust_mass_rate
from finishplan.reference import Value


@dataclass(frozen=True)
class Device:
    """A compliance device [SI]."""

    name: str
    kind: str
    force_max: float
    stroke: float
    pneumatic: bool


_TOOTHED: Final = ("cutter", "saw blade")
_DISCS: Final = ("saw blade", "cut-off")


@dataclass(frozen=True)
class TurningTool:
    """A tool with the spindle that turns it [m, rev/s].

    `kind` is "cutter", "saw blade" or the kind of tool an abrasive family runs on. `free_rotation` is the
    highest speed of the spindle running free, which a control fault may reach whatever the plan says.
    """

    name: str
    kind: str
    family: str
    diameter: float
    width: float | None
    overhang: float | None
    free_rotation: float
    planned_rotation: float
    rated_rotation: float
    marked_speed: Value | None = None
    cautions: tuple[str, ...] = ()

    @property
    def abrasive(self) -> bool:
        return self.kind not in _TOOTHED

    @property
    def disc(self) -> bool:
        """Whether it cuts in its own plane."""
        return self.kind in _DISCS

    @property
    def free_surface_speed(self) -> float:
        """Speed of the rim at the free-running speed [m/s]."""
        return float(physics.surface_speed(self.diameter, self.free_rotation))


@dataclass(frozen=True)
class Work:
    """One step on a feature [SI].

    `volume` is what a part loses to it, `most_volume` the same at the corner of the scatter that loses
    most; `abrasive_share` the dust of the abrasive over that of the part, by mass.
    """

    feature: str
    process: str
    tool: TurningTool
    group: str
    dust: str
    coating: str | None
    volume: float
    most_volume: float
    density: float
    abrasive_share: float
    contact: float
    power: float
    force: float
    feed: float
    device: Device | None

    @property
    def mass(self) -> float:
        """Dust of a part, the abrasive's own included [kg]."""
        return self._rate(self.volume) * self.contact

    @property
    def most_mass(self) -> float:
        return self._rate(self.most_volume) * self.contact

    @property
    def rate(self) -> float:
        """Dust made per time in contact [kg/s]."""
        return self._rate(self.most_volume)

    def _rate(self, volume: float) -> float:
        if self.contact <= 0:
            return 0.0
        return float(dust_mass_rate(volume / self.contact, self.density, self.abrasive_share))


@dataclass(frozen=True)
class Context:
    """Everything the rules may look at [SI].

    `group` is the material group of the part; `compositions` holds mass shares by group worked,
    `certified` whether the job states those of the part. `part_carried` says whether the robot carries
    the part to the tool, `holding` by what the part is held where the cell states it. `families` are the
    families of combustible dust by dust; `cell_file` is None where the job holds the cell.
    `parts_per_shift` are those of the plan, `most_parts_per_shift` those of a shift in which no time is
    lost between parts: dust and access are counted by them, so that exposure errs high.
    """

    title: str
    cell: str
    material: str
    group: str
    works: tuple[Work, ...]
    cycle: float
    tool_changes: int
    tools_per_part: float
    shift: float
    parts_per_shift: float
    most_parts_per_shift: float
    robot: str
    top_speed: float
    air_speed: float
    carried_mass: float
    part_carried: bool
    part_mass: float | None
    holding: str | None
    margin: float
    installed: Installed
    compositions: Mapping[str, Mapping[str, float]]
    certified: bool
    coating_content: tuple[str, ...] | None
    families: Mapping[str, DustFamily]
    assumed_shift: bool
    cell_file: str | None

    @property
    def dusts(self) -> tuple[str, ...]:
        """Dusts made, each once, in the order of the plan."""
        return tuple(dict.fromkeys(work.dust for work in self.works if work.most_mass > 0))

    @property
    def burning(self) -> tuple[DustFamily, ...]:
        """Families of the dusts made that can explode, each once."""
        found = [self.families[dust] for dust in self.dusts if dust in self.families]
        return tuple({family.name: family for family in found}.values())

    @property
    def tools(self) -> tuple[TurningTool, ...]:
        """Tools in use, each once."""
        return tuple({work.tool.name: work.tool for work in self.works}.values())

    @property
    def devices(self) -> tuple[Device, ...]:
        """Compliance devices in use, each once."""
        return tuple({work.device.name: work.device for work in self.works if work.device}.values())

    @property
    def shift_mass(self) -> float:
        """Dust of a shift of most parts [kg]."""
        return sum(work.mass for work in self.works) * self.most_parts_per_shift

    @property
    def most_shift_mass(self) -> float:
        return sum(work.most_mass for work in self.works) * self.most_parts_per_shift

    @property
    def peak_rate(self) -> float:
        """Dust per time of the dustiest step while in contact [kg/s]."""
        return max((work.rate for work in self.works), default=0.0)

    @property
    def dustiest(self) -> tuple[str, ...]:
        """The feature of that step; none where nothing is made dust of."""
        most = max(self.works, key=lambda work: work.rate, default=None)
        return (most.feature,) if most is not None and most.rate > 0 else ()

    def features_with(self, dust: str) -> tuple[str, ...]:
        """Features whose working makes a dust."""
        return tuple(dict.fromkeys(work.feature for work in self.works if work.dust == dust))
