"""Taking off stock as an operation to search: spindle speed, feed and force."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Self

import numpy as np

from finishplan.formula import Array
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import LoadedJob, Removal
from finishplan.planning import abrasive_setup, surroundings
from finishplan.planning.abrasive_setup import AbrasiveDesk, abrasive_speed_range, open_abrasive_desk
from finishplan.planning.edge_operation import SLOWEST_FEED
from finishplan.planning.ledger import Ledger
from finishplan.planning.mounting import compliant_mount, position_errors, with_force_error
from finishplan.planning.operation import Axis, Evaluation, Range, mesh
from finishplan.process.bulk_abrasion import BulkConditions, BulkCorner, BulkSetting, Stock, bulk_limits, predict_bulk
from finishplan.reference import Grit
from finishplan.units import MINUTE

WIDTH_POWER: Final[Mapping[str, float]] = {"rectangular": 0.0, "triangular": 1.0, "segment": 0.5}
"""The width of a section over that at its foot is this power of the depth below its top over its height.

A flat segment of a circle is taken as a parabola.
"""


@dataclass(frozen=True, eq=False)
class BulkAbrasion:
    """One kind of stock under an abrasive, ready to be searched."""

    desk: AbrasiveDesk
    removal: Removal
    corners: Mapping[BulkCorner, BulkConditions]
    axes: Sequence[Axis]
    pass_counts: Sequence[int] = (1,)

    @property
    def feature(self) -> str:
        return self.removal.name

    @property
    def tool(self) -> str:
        return self.desk.label

    @property
    def station(self) -> str:
        return self.desk.abrasive.name

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    @property
    def conditions(self) -> BulkConditions:
        return self.corners["nominal"]

    @property
    def figures(self) -> Mapping[BulkCorner, BulkConditions]:
        """Conditions at every corner of the scatter."""
        return self.corners

    def with_figures(self, figures: Mapping[BulkCorner, BulkConditions]) -> Self:
        """The same stock under the same abrasive, under other conditions."""
        return replace(self, corners=figures)

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter. The strokes follow from the volume."""
        setting = BulkSetting(settings["spindle_speed"], settings["feed"], settings["force"])
        predictions = {name: predict_bulk(corner, setting) for name, corner in self.corners.items()}
        limits = bulk_limits(self.conditions, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, 1 / predictions["nominal"].contact_time)

    def fastest_pace(self, passes: int) -> float:
        """No bound of its own."""
        return np.inf

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """Every setting; those that are not faster are left out by their pace."""
        return mesh(self.axes, [axis.range for axis in self.axes], (8, 12, 16))

    def again(self, loaded: LoadedJob | None = None) -> BulkAbrasion:
        """The same operation built anew, for a recording or under another cell."""
        return _operation(self.desk.anew(loaded), self.removal)


def bulk_abrasion(loaded: LoadedJob, index: int, entry: AbrasiveEntry, grit: Grit) -> BulkAbrasion:
    """Removal number `index` under an abrasive of the cell."""
    removal = loaded.job.removal[index]
    return _operation(open_abrasive_desk(loaded, "removal", index, removal, entry, grit), removal)


def _operation(desk: AbrasiveDesk, removal: Removal) -> BulkAbrasion:
    assert desk.device is not None
    robot, amplitude = surroundings.robot(desk), surroundings.waviness(desk)[0]
    nominal = BulkConditions(
        stock=_STOCKS.get(desk.family.tool, _ground_off)(desk, removal, 0.0),
        abrasive=abrasive_setup.abrasive(desk),
        thermal=abrasive_setup.thermal(desk, None),
        spindle=surroundings.spindle(desk),
        mount=compliant_mount(desk, desk.device, position_errors(desk, amplitude, robot)),
        robot=robot,
        rules=surroundings.rules(desk),
    )
    axes = (
        Axis("spindle_speed", abrasive_speed_range(nominal.abrasive, nominal.spindle), 12, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(robot.top_speed)), 20),
        Axis("force", Range(float(nominal.mount.force_min), float(nominal.mount.force_max)), 20),
    )
    return BulkAbrasion(desk, removal, _corners(desk, removal, nominal), axes)


def _corners(desk: AbrasiveDesk, removal: Removal, nominal: BulkConditions) -> dict[BulkCorner, BulkConditions]:
    scatter = float(desk.ledger.assumed("abrasive.removal_scatter", "removal_scatter", "fraction"))
    height = removal.height_scatter or 0.0
    stock = _STOCKS.get(desk.family.tool, _ground_off)

    def varied(sense: int) -> BulkConditions:
        return replace(
            nominal,
            stock=stock(desk, removal, -sense * height),
            abrasive=replace(nominal.abrasive, coefficient_factor=np.float64(1 + sense * scatter)),
            mount=with_force_error(nominal.mount, sense),
        )

    return {"least removal": varied(-1), "most removal": varied(1), "nominal": nominal}


def _ground_off(desk: AbrasiveDesk, removal: Removal, higher: float) -> Stock:
    """The whole stock above what may stay, worked over its width."""
    height = removal.height + higher
    share, power = max(height - removal.left, 0.0) / height if height else 0.0, WIDTH_POWER[removal.section]
    volume = removal.length * removal.width * height * share ** (1 + power) / (1 + power)
    ledger = desk.ledger
    return Stock(
        volume=ledger.derived("stock.volume", volume, "volume", f"section times length, {_place(desk)}"),
        length=ledger.derived("stock.length", removal.length, "length", _place(desk)),
        width=ledger.derived("stock.width", removal.width, "length", _place(desk)),
    )


def _cut_off(desk: AbrasiveDesk, removal: Removal, higher: float) -> Stock:
    """The kerf of a wheel through the foot of the stock."""
    kerf = desk.abrasive.width or 0.0
    ledger = desk.ledger
    return Stock(
        volume=ledger.derived(
            "stock.volume", kerf * removal.width * removal.length, "volume", f"kerf through the foot, {_place(desk)}"
        ),
        length=ledger.derived("stock.length", removal.length, "length", _place(desk)),
        width=ledger.derived("stock.width", removal.width, "length", _place(desk)),
    )


_STOCKS: Final[Mapping[str, Callable[[AbrasiveDesk, Removal, float], Stock]]] = {"cut-off": _cut_off}


def _place(desk: AbrasiveDesk) -> str:
    return desk.place("removal", desk.index)
