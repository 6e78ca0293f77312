"""A cut of a contour as an operation to search: spindle speed and feed, in one or more layers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Self

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.contour_setup import ContourSetup, contour_setup
from finishplan.planning.edge_operation import SLOWEST_FEED, speed_range
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import Axis, Evaluation, Range, mesh
from finishplan.process.contour_conditions import ContourConditions, ContourSetting
from finishplan.process.contour_cutting import Corner, predict_contour
from finishplan.process.contour_limits import contour_limits
from finishplan.units import MINUTE


@dataclass(frozen=True, eq=False)
class ContourCutting:
    """One cut of a contour under a cutter, ready to be searched. Its passes are layers."""

    setup: ContourSetup
    axes: Sequence[Axis]

    @property
    def pass_counts(self) -> Sequence[int]:
        return self.setup.desk.cut.layer_counts

    @property
    def conditions(self) -> ContourConditions:
        return self.setup.nominal

    @property
    def feature(self) -> str:
        return self.setup.desk.contour.name

    @property
    def tool(self) -> str:
        return self.setup.desk.tool.name

    @property
    def station(self) -> str:
        return self.setup.desk.tool.name

    @property
    def turning_radius(self) -> float:
        """Radius on which the tool's centre turns a sharp corner of the contour [m]."""
        return float(self.conditions.cutter.diameter) / 2

    @property
    def ledger(self) -> Ledger:
        return self.setup.desk.ledger

    @property
    def figures(self) -> Mapping[Corner, ContourConditions]:
        """Conditions at every corner of the scatter."""
        return self.setup.corners

    def with_figures(self, figures: Mapping[Corner, ContourConditions]) -> Self:
        """The same cut under other conditions."""
        return replace(self, setup=replace(self.setup, corners=figures))

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        layers = self.ledger.enter("setting.layers", "setting", passes, "number", "setting of the plan")
        setting = ContourSetting(settings["spindle_speed"], settings["feed"], layers)
        predictions = {name: predict_contour(corner, setting) for name, corner in self.setup.corners.items()}
        limits = contour_limits(self.setup.nominal, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def fastest_pace(self, passes: int) -> float:
        """The highest feed, spread over the layers [m/s]."""
        return self.axes[1].range.high / passes

    def again(self, loaded: LoadedJob | None = None) -> ContourCutting:
        """The same operation built anew, for a recording or under another cell."""
        return contour_cutting(contour_setup(self.setup.desk.anew(loaded)))

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The feed raised by the ratio, spindle speed free."""
        speed, _ = self.axes
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (speed.range, Range(raised, raised)), (96, 1))


def contour_cutting(setup: ContourSetup) -> ContourCutting:
    """The operation with its search ranges: nothing outside them can be feasible."""
    conditions = setup.nominal
    axes = (
        Axis("spindle_speed", speed_range(conditions.cutter, conditions.spindle), 16, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(conditions.robot.top_speed)), 24),
    )
    return ContourCutting(setup, axes)
