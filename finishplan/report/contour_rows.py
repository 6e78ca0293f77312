"""What is shown of a contour that is trimmed."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from finishplan import units
from finishplan.planning.contour_feature import ContourDetail, cutting_of, entry_of
from finishplan.planning.feature import Option, Step
from finishplan.planning.fibres import WORST, meeting_angle, worst_stretch
from finishplan.planning.toolife import wear_of
from finishplan.planning.travel import slowed
from finishplan.report.figures import Figure
from finishplan.report.process_rows import notes, process, result, settings


@process.register
def _(detail: ContourDetail) -> str:
    return "contour trimming"


@settings.register
def _(detail: ContourDetail, step: Step) -> Iterator[Figure]:
    operation, point = cutting_of(step.found), step.found.settings
    desk, conditions = operation.setup.desk, operation.conditions
    entry = entry_of(operation, detail.outline, step.found.passes)
    yield Figure("tool", "tool", desk.tool.name)
    yield Figure("cut", "cut", desk.cut.name)
    yield Figure("spindle", "spindle", desk.spindle.name)
    yield Figure("mount", "mount", "rigid")
    yield Figure("spindle_speed", "spindle speed", float(point["spindle_speed"]), "rotation")
    yield Figure("feed", "feed", float(point["feed"]), "feed")
    yield Figure("layers", "layers", step.found.passes)
    yield Figure("axial_depth", "depth per layer", float(conditions.contour.thickness) / step.found.passes, "length")
    yield Figure("radial_depth", "radial depth", float(conditions.contour.radial_depth), "length")
    yield Figure("direction", "direction of travel", conditions.contour.direction)
    yield Figure("entry", "entry", entry.kind)
    yield Figure("entry_length", "length of the entry", entry.length, "length")


@result.register
def _(detail: ContourDetail, step: Step) -> Iterator[Figure]:
    operation, predictions = cutting_of(step.found), step.found.evaluation.predictions
    nominal, heaviest = predictions["nominal"], predictions["heaviest load"]
    contour = operation.conditions.contour
    yield Figure("surface_speed", "surface speed", float(nominal.surface_speed), "surface speed")
    yield Figure("feed_per_tooth", "feed per tooth", float(nominal.feed_per_tooth), "fine length")
    yield Figure("chip_thickness", "mean chip", float(nominal.mean_chip_thickness), "fine length")
    yield Figure("teeth_in_cut", "teeth in the cut", float(nominal.teeth_in_cut), "number")
    yield Figure("tangential_force", "tangential force, mean", float(nominal.tangential_force), "force")
    yield Figure("wall_force", "force off the wall, mean", float(nominal.wall_force), "force")
    yield Figure("peak_force", "peak force, heaviest", float(heaviest.peak_force), "force")
    yield Figure("feed_direction_force", "force against the feed", float(_against(nominal, contour.direction)), "force")
    yield Figure("path_error_room", "path error wanted, up to", float(contour.room), "length")
    yield from _path_error(step, float(contour.position_error))
    yield Figure("cusp_height", "waves on the wall", float(nominal.cusp_height), "roughness")
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


def _path_error(step: Step, position_error: float) -> Iterator[Figure]:
    predictions = step.found.evaluation.predictions
    worst = max((predictions[name] for name in ("heaviest load", "drawn in")), key=lambda one: float(one.path_error))
    yield Figure("path_error", "path error, worst", float(worst.path_error), "length")
    yield Figure("deflection", "of it arm and tool", float(worst.deflection), "length")
    yield Figure("position_error", "of it position", position_error, "length")


def _against(nominal: object, direction: str) -> float:
    return float(getattr(nominal, f"{direction}_force"))


def _life_length(detail: ContourDetail, step: Step) -> float | None:
    """Length of this contour that one tool finishes, this step alone [m]."""
    share = wear_of(step.found.operation, step).share
    return None if share is None else detail.outline.length / share


@notes.register
def _(detail: ContourDetail, chosen: Option) -> Iterator[str]:
    first = chosen.steps[0]
    system = cutting_of(first.found).setup.desk.loaded.job.job.units
    for step in chosen.steps:
        cut = f"{cutting_of(step.found).setup.desk.cut.name}: " if len(chosen.steps) > 1 else ""
        yield from (cut + note for note in (*_direction_notes(step, system), *_material_notes(step, system)))
    yield from _fibre_notes(detail, first, system)
    yield from _geometry_notes(detail, first, system)


def _direction_notes(step: Step, system: units.System) -> Iterator[str]:
    operation, nominal = cutting_of(step.found), step.found.evaluation.predictions["nominal"]
    conditions = operation.conditions
    climb, wall = float(nominal.climb_force), float(nominal.wall_force)
    pull, drawn = (units.show(abs(force), "force", system) for force in (climb, wall))
    jump = units.show(abs(climb) / float(conditions.arm.stiffness), "length", system)
    if climb >= 0:
        side = "into" if wall < 0 else "off"
        yield (
            "neither direction of travel pulls the cutter along the feed in so deep a cut; "
            f"{conditions.contour.direction} travel draws it {side} the wall with {drawn}"
        )
    elif conditions.contour.direction == "climb":
        yield (
            f"climb travel pulls the cutter along the feed with {pull}, by which this arm yields {jump}: "
            "check for jerks on scrap, and go conventional where fibres and edge allow"
        )
    else:
        yield (
            "conventional travel: the cut pushes against the feed; climb, which thin or fraying edges may need, "
            f"would pull with {pull} and let this arm jump by {jump}"
        )


def _material_notes(step: Step, system: units.System) -> Iterator[str]:
    desk = cutting_of(step.found).setup.desk
    chip, law = float(step.found.evaluation.predictions["nominal"].mean_chip_thickness), desk.workpiece.cutting
    if not law.chip_low.value <= chip <= law.chip_high.value:
        low, high = (units.show(end.value, "fine length", system) for end in (law.chip_low, law.chip_high))
        yield (
            f"the mean chip of {units.show(chip, 'fine length', system)} lies outside the {low} to {high} that the "
            "cutting force is known for: measure the spindle's power on scrap"
        )


def _fibre_notes(detail: ContourDetail, step: Step, system: units.System) -> Iterator[str]:
    """Where the path meets the fibres at their worst."""
    fibres = cutting_of(step.found).setup.desk.contour.fibre_angle
    if fibres is None:
        return
    angle, low, high = (units.show(each, "angle", system) for each in (fibres, *WORST))
    worst = f"{low} to {high} from the motion of a tooth along the wall, into the part"
    effect = "there forces may rise two- to fourfold (from memory) and the edge frays"
    stretch = worst_stretch(detail.outline, fibres)
    if not detail.outline.drawn:
        met = units.show(float(meeting_angle(fibres, np.array(0.0))), "angle", system)
        standing = "among the worst" if stretch.share else "not among the worst"
        yield f"fibres are met at {met}, {standing}, which are {worst}; {effect}"
    elif stretch.share == 0:
        yield f"fibres at {angle} are nowhere met at their worst, {worst}"
    else:
        share = units.show(stretch.share, "fraction", system)
        length = units.show(stretch.length, "length", system)
        x, y = (units.show(each, "length", system) for each in stretch.middle)
        yield (
            f"fibres at {angle} are met at their worst, {worst}, on {share} of the path; {effect}. The longest such "
            f"stretch, {length}, has its middle at x {x}, y {y}: try it first, the drawing seen from the spindle"
        )


def _geometry_notes(detail: ContourDetail, step: Step, system: units.System) -> Iterator[str]:
    conditions, desk = cutting_of(step.found).conditions, cutting_of(step.found).setup.desk
    radius = float(conditions.cutter.diameter) / 2
    if detail.outline.smallest_radius < radius:
        smallest, own = (units.show(each, "length", system) for each in (detail.outline.smallest_radius, radius))
        yield f"a radius of {smallest} is drawn: a cutter of radius {own} goes round it outside, but not inside"
    tabs = desk.contour.tabs
    if tabs is not None:
        height = tabs.height if tabs.height is not None else desk.contour.thickness
        width, high = (units.show(each, "length", system) for each in (tabs.width, height))
        yield (
            f"{tabs.count} tabs of {width}, {high} high: lift the cutter over each in the last layers at the same "
            "feed; cut them by hand or saw afterwards, and dress the stumps"
        )
    elif float(conditions.contour.radial_depth) >= 2 * radius:
        yield "the offcut comes loose at the end of the slot: hold it, or leave tabs, so that it is not thrown or jams"
