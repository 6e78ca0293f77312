"""A cut of a contour as an operation to search: spindle speed and feed, in one or more layers."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Self

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_setup import abrasive_speed_range
from finishplan.planning.contour_desk import AbradedContourDesk, ContourDesk, TrimmingDesk
from finishplan.planning.contour_setup import AbradedContourSetup, ContourSetup, abraded_contour_setup, contour_setup
from finishplan.planning.edge_operation import SLOWEST_FEED, speed_range
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import Axis, Evaluation, Range, mesh
from finishplan.process.contour_abrasion import (
    AbradedContour,
    abraded_contour_limits,
    predict_abraded_contour,
)
from finishplan.process.contour_conditions import ContourConditions, ContourSetting, Trimming
from finishplan.process.contour_cutting import predict_contour
from finishplan.process.contour_limits import contour_limits
from finishplan.process.contour_load import TrimmedPrediction
from finishplan.units import MINUTE


@dataclass(frozen=True, eq=False)
class TrimmedContour(ABC):
    """One cut of a contour under a tool, ready to be searched. Its passes are layers."""

    setup: ContourSetup | AbradedContourSetup
    axes: Sequence[Axis]

    @property
    def desk(self) -> TrimmingDesk:
        return self.setup.desk

    @property
    def conditions(self) -> Trimming:
        return self.setup.nominal

    @property
    def pass_counts(self) -> Sequence[int]:
        return self.desk.cut.layer_counts

    @property
    def feature(self) -> str:
        return self.desk.contour.name

    @property
    def tool(self) -> str:
        return self.station

    @property
    def station(self) -> str:
        return self.desk.entry.name

    @property
    def diameter(self) -> float:
        """Diameter of the tool [m]."""
        return self.desk.entry.diameter

    @property
    def turning_radius(self) -> float:
        """Radius on which the tool's centre turns a sharp corner of the contour [m]."""
        return self.diameter / 2

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        layers = self.ledger.enter("setting.layers", "setting", passes, "number", "setting of the plan")
        setting = ContourSetting(settings["spindle_speed"], settings["feed"], layers)
        return self._evaluated(setting, settings, passes)

    @property
    def figures(self) -> Mapping[Any, Trimming]:
        """Conditions at every corner of the scatter."""
        return self.setup.corners

    def with_figures(self, figures: Mapping[Any, Any]) -> Self:
        """The same cut under other conditions."""
        setup: Any = self.setup  # of either kind, as the figures are
        return replace(self, setup=replace(setup, corners=figures))

    @abstractmethod
    def _evaluated(self, setting: ContourSetting, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """The evaluation at a setting."""

    @abstractmethod
    def loaded_at(self, setting: ContourSetting) -> Sequence[TrimmedPrediction]:
        """What another setting does to the states that load the cell most."""

    @abstractmethod
    def again(self, loaded: LoadedJob | None = None) -> TrimmedContour:
        """The same operation built anew, for a recording or under another cell."""

    def fastest_pace(self, passes: int) -> float:
        """The highest feed, spread over the layers [m/s]."""
        return self.axes[1].range.high / passes

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The feed raised by the ratio, spindle speed free."""
        speed, _ = self.axes
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (speed.range, Range(raised, raised)), (96, 1))


@dataclass(frozen=True, eq=False)
class ContourCutting(TrimmedContour):
    """One cut of a contour under a cutter."""

    setup: ContourSetup

    @property
    def desk(self) -> ContourDesk:
        return self.setup.desk

    @property
    def conditions(self) -> ContourConditions:
        return self.setup.nominal

    def _evaluated(self, setting: ContourSetting, settings: Mapping[str, Array], passes: int) -> Evaluation:
        predictions = {name: predict_contour(corner, setting) for name, corner in self.setup.corners.items()}
        limits = contour_limits(self.setup.nominal, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def loaded_at(self, setting: ContourSetting) -> Sequence[TrimmedPrediction]:
        """What another setting does to the states that load the cell most."""
        return [predict_contour(corner, setting) for name, corner in self.setup.corners.items() if name != "nominal"]

    def again(self, loaded: LoadedJob | None = None) -> ContourCutting:
        """The same operation built anew, for a recording or under another cell."""
        return contour_cutting(self.desk.anew(loaded))


@dataclass(frozen=True, eq=False)
class ContourAbrasion(TrimmedContour):
    """One cut of a contour under grain."""

    setup: AbradedContourSetup

    @property
    def desk(self) -> AbradedContourDesk:
        return self.setup.desk

    @property
    def tool(self) -> str:
        return self.desk.label

    @property
    def conditions(self) -> AbradedContour:
        return self.setup.nominal

    def _evaluated(self, setting: ContourSetting, settings: Mapping[str, Array], passes: int) -> Evaluation:
        predictions = {name: predict_abraded_contour(corner, setting) for name, corner in self.setup.corners.items()}
        limits = abraded_contour_limits(self.setup.nominal, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def loaded_at(self, setting: ContourSetting) -> Sequence[TrimmedPrediction]:
        """What another setting does to the states that load the cell most."""
        corners = self.setup.corners.items()
        return [predict_abraded_contour(corner, setting) for name, corner in corners if name != "nominal"]

    def again(self, loaded: LoadedJob | None = None) -> ContourAbrasion:
        """The same operation built anew, for a recording or under another cell."""
        return contour_abrasion(self.desk.anew(loaded))


def contour_cutting(desk: ContourDesk) -> ContourCutting:
    """The operation with its search ranges: nothing outside them can be feasible."""
    setup = contour_setup(desk)
    cutter, spindle = setup.nominal.cutter, setup.nominal.spindle
    return ContourCutting(setup, _axes(speed_range(cutter, spindle), setup.nominal))


def contour_abrasion(desk: AbradedContourDesk) -> ContourAbrasion:
    """The operation with its search ranges: nothing outside them can be feasible."""
    setup = abraded_contour_setup(desk)
    abrasive, spindle = setup.nominal.abrasive, setup.nominal.spindle
    return ContourAbrasion(setup, _axes(abrasive_speed_range(abrasive, spindle), setup.nominal))


def _axes(speeds: Range, conditions: Trimming) -> tuple[Axis, Axis]:
    return (
        Axis("spindle_speed", speeds, 16, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(conditions.robot.top_speed)), 24),
    )
