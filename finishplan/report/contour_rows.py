"""What is shown of a contour that is trimmed: by a tool on its axis or a disc on edge, with teeth or with grain."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from finishplan.planning.contour_ends import entry_of, exit_of, trimming_of
from finishplan.planning.contour_feature import ContourDetail
from finishplan.planning.contour_operation import ContourAbrasion, TrimmedContour
from finishplan.planning.feature import Step
from finishplan.planning.toolife import wear_of
from finishplan.planning.travel import slowed
from finishplan.process.contour_engagement import Milled, Sawn
from finishplan.process.contour_load import TrimmedPrediction
from finishplan.report.figures import Figure
from finishplan.report.process_rows import process, result, settings


@process.register
def _(detail: ContourDetail) -> str:
    return "contour trimming"


@settings.register
def _(detail: ContourDetail, step: Step) -> Iterator[Figure]:
    operation, point = trimming_of(step.found), step.found.settings
    desk, conditions = operation.desk, operation.conditions
    entry, leaving = entry_of(step.found, detail.outline), exit_of(step.found, detail.outline)
    yield Figure("tool", "tool", operation.station)
    yield Figure("grit", "grit", _grit(operation))
    yield Figure("cut", "cut", desk.cut.name)
    yield Figure("spindle", "spindle", desk.spindle.name)
    yield Figure("mount", "mount", "rigid")
    yield Figure("spindle_speed", "spindle speed", float(point["spindle_speed"]), "rotation")
    yield Figure("feed", "feed", float(point["feed"]), "feed")
    yield Figure("layers", "layers", step.found.passes)
    yield Figure("axial_depth", "depth per layer", float(conditions.contour.thickness) / step.found.passes, "length")
    yield from _engagement(operation)
    yield Figure("direction", "direction of travel", conditions.contour.direction)
    yield Figure("entry", "entry", entry.kind)
    yield Figure("entry_length", "length of the entry", entry.length, "length")
    yield Figure("entry_feed", "feed of the entry", entry.feed, "feed")
    yield Figure("exit", "exit", leaving.kind)
    yield Figure("exit_length", "length of the exit", leaving.length, "length")


def _grit(operation: TrimmedContour) -> str | None:
    if isinstance(operation, ContourAbrasion) and operation.desk.grit is not None:
        return operation.desk.grit.name
    return None


def _engagement(operation: TrimmedContour) -> Iterator[Figure]:
    """What is set of the tool in the material; either way of standing leaves out what it has not."""
    engagement = operation.conditions.engagement
    on_axis = engagement if isinstance(engagement, Milled) else None
    on_edge = engagement if isinstance(engagement, Sawn) else None
    yield Figure("radial_depth", "radial depth", None if on_axis is None else float(on_axis.radial_depth), "length")
    yield Figure("kerf", "width taken out", None if on_edge is None else float(on_edge.width), "length")
    yield Figure("protrusion", "beyond the part", None if on_edge is None else float(on_edge.protrusion), "length")


@result.register
def _(detail: ContourDetail, step: Step) -> Iterator[Figure]:
    operation, predictions = trimming_of(step.found), step.found.evaluation.predictions
    nominal, heaviest = predictions["nominal"], predictions["heaviest load"]
    contour, on_edge = operation.conditions.contour, isinstance(operation.conditions.engagement, Sawn)
    against, across = float(getattr(nominal, f"{contour.direction}_force")), float(nominal.wall_force)
    yield Figure("surface_speed", "surface speed", float(nominal.surface_speed), "surface speed")
    yield from _chips(nominal)
    yield from _grain(operation, nominal)
    yield Figure("tangential_force", "tangential force, mean", float(nominal.tangential_force), "force")
    yield Figure("wall_force", "force off the wall, mean", None if on_edge else across, "force")
    yield Figure("side_force", "force to either side, mean", across if on_edge else None, "force")
    yield from _lift(predictions.values())
    yield Figure("peak_force", "peak force, heaviest", float(heaviest.peak_force), "force")
    yield Figure("feed_direction_force", "force against the feed", against, "force")
    yield Figure("path_error_room", "path error wanted, up to", float(contour.room), "length")
    yield from _path_error(step, float(contour.position_error))
    yield Figure("cusp_height", "waves on the wall", None if on_edge else _of(nominal, "cusp_height"), "roughness")
    yield Figure("cutting_power", "cutting power, heaviest", float(heaviest.power), "power")
    yield Figure("temperature_rise", "rise at the cut edge", float(heaviest.temperature_rise), "temperature difference")
    yield Figure("length", "length", detail.outline.length, "long length")
    yield Figure("tool_life_length", "edge length per tool", _life_length(detail, step), "long length")
    yield Figure("contact_time", "contact time", step.time.contact, "time")
    yield Figure("feature_time", "time with approaches", step.time.total, "time")
    feed = float(step.found.settings["feed"])
    yield Figure(
        "corner_feed", "slowest corner", step.time.slowest if slowed(step.time.slowest, feed) else None, "feed"
    )


def _lift(predictions: Iterable[TrimmedPrediction]) -> Iterator[Figure]:
    """Between what forces the part has to be held on its support; a tool on its axis has none."""
    lifts = [float(each.lift_force) for each in predictions if each.lift_force is not None]
    up, down = (max([sense * lift for lift in lifts if sense * lift > 0], default=None) for sense in (1, -1))
    yield Figure("lift_force_most", "force lifting the part, up to", up, "force")
    yield Figure("press_force_most", "force pressing on it, up to", down, "force")


def _chips(nominal: TrimmedPrediction) -> Iterator[Figure]:
    """What the teeth take; grain has none."""
    yield Figure("feed_per_tooth", "feed per tooth", _of(nominal, "feed_per_tooth"), "fine length")
    yield Figure("chip_thickness", "mean chip", _of(nominal, "mean_chip_thickness"), "fine length")
    yield Figure("teeth_in_cut", "teeth in the cut", _of(nominal, "teeth_in_cut"), "number")


def _grain(operation: TrimmedContour, nominal: TrimmedPrediction) -> Iterator[Figure]:
    """What the grain does; teeth have none."""
    energy = float(nominal.specific_force) if isinstance(operation, ContourAbrasion) else None
    yield Figure("specific_energy", "energy per volume", energy, "specific energy")
    yield Figure("pressure", "mean pressure", _of(nominal, "pressure"), "contact pressure")
    yield Figure("roughness", "roughness Ra of the cut", _of(nominal, "roughness"), "roughness")


def _of(prediction: TrimmedPrediction, name: str) -> float | None:
    """A figure of a prediction; None where its kind has none of that name."""
    value = getattr(prediction, name, None)
    return None if value is None else float(value)


def _path_error(step: Step, position_error: float) -> Iterator[Figure]:
    predictions = step.found.evaluation.predictions
    loaded = [prediction for name, prediction in predictions.items() if name != "nominal"]
    worst = max(loaded, key=lambda one: float(one.path_error))
    yield Figure("path_error", "path error, worst", float(worst.path_error), "length")
    yield Figure("deflection", "of it arm and tool", float(worst.deflection), "length")
    yield Figure("position_error", "of it position", position_error, "length")


def _life_length(detail: ContourDetail, step: Step) -> float | None:
    """Length of this contour that one tool finishes, this step alone [m]."""
    share = wear_of(step.found.operation, step).share
    return None if share is None else detail.outline.length / share
