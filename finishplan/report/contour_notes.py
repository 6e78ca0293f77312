"""What to mind of a contour that is trimmed, in words."""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from typing import Final

import numpy as np

from finishplan import units
from finishplan.geometry import sharp_turns
from finishplan.planning.abrasive_setup import coefficient_band
from finishplan.planning.contour_ends import chord_of, entry_of, trimming_of
from finishplan.planning.contour_feature import ContourDetail
from finishplan.planning.contour_operation import ContourAbrasion, ContourCutting, TrimmedContour
from finishplan.planning.feature import Option, Step
from finishplan.planning.fibres import WORST, meeting_angle, worst_stretch
from finishplan.process.contour_conditions import ContourConditions
from finishplan.process.contour_engagement import Engagement, Milled, Sawn
from finishplan.report.process_rows import notes

HEAT_THAT_MATTERS: Final = 0.5
"""Share of the heat limit from which on it is told what it rests on."""


@notes.register
def _(detail: ContourDetail, chosen: Option) -> Iterator[str]:
    first = chosen.steps[0]
    operation = trimming_of(first.found)
    engagement, system = operation.conditions.engagement, operation.desk.loaded.job.job.units
    for step in chosen.steps:
        cut = f"{trimming_of(step.found).desk.cut.name}: " if len(chosen.steps) > 1 else ""
        own = (
            *_direction_notes(engagement, step, system),
            *_material_notes(trimming_of(step.found), step, system),
            *_rubbing_notes(engagement, detail, step, system),
        )
        yield from (cut + note for note in own)
    yield from _geometry_notes(engagement, detail, operation, system)


@singledispatch
def _direction_notes(engagement: Engagement, step: Step, system: units.System) -> Iterator[str]:
    """What either direction of travel does."""
    raise TypeError(f"no notes for {type(engagement).__name__}")


@_direction_notes.register
def _(engagement: Milled, step: Step, system: units.System) -> Iterator[str]:
    conditions, nominal = trimming_of(step.found).conditions, step.found.evaluation.predictions["nominal"]
    climb, wall = float(nominal.climb_force), float(nominal.wall_force)
    pull, drawn = (units.show(abs(force), "force", system) for force in (climb, wall))
    jump = units.show(abs(climb) / float(conditions.arm.stiffness), "length", system)
    if climb >= 0:
        side = "into" if wall < 0 else "off"
        yield (
            "neither direction of travel pulls the tool along the feed in so deep a cut; "
            f"{conditions.contour.direction} travel draws it {side} the wall with {drawn}"
        )
    elif conditions.contour.direction == "climb":
        yield (
            f"climb travel pulls the tool along the feed with {pull}, by which this arm yields {jump}: "
            "check for jerks on scrap, and go conventional where fibres and edge allow"
        )
    else:
        yield (
            "conventional travel: the cut pushes against the feed; climb, which thin or fraying edges may need, "
            f"would pull with {pull} and let this arm jump by {jump}"
        )


@_direction_notes.register
def _(engagement: Sawn, step: Step, system: units.System) -> Iterator[str]:
    conditions, predictions = trimming_of(step.found).conditions, step.found.evaluation.predictions
    climb = float(predictions["nominal"].climb_force)
    lift = max(float(each.lift_force) for each in predictions.values())
    pull, lifted = (units.show(abs(force), "force", system) for force in (climb, lift))
    holds = f"lifts it with up to {lifted}: hold it down beside the kerf" if lift > 0 else "presses on it"
    if conditions.contour.direction == "conventional":
        yield f"conventional travel: the rim comes up through the part and {holds}; the near face frays first"
        return
    jump = units.show(abs(climb) / float(conditions.arm.stiffness), "length", system)
    pulls = f", pulls the disc along with {pull} and lets this arm jump by {jump}" if climb < 0 else ""
    yield (
        f"climb travel: the rim goes down through the part and {holds}{pulls}; the far face frays first. A disc that "
        "climbs out of its kerf is thrown at the robot: go conventional unless the face forbids it"
    )


@singledispatch
def _material_notes(operation: TrimmedContour, step: Step, system: units.System) -> Iterator[str]:
    """How well the material's figures are known at this point."""
    raise TypeError(f"no notes for {type(operation).__name__}")


@_material_notes.register
def _(operation: ContourAbrasion, step: Step, system: units.System) -> Iterator[str]:
    least, most = coefficient_band(operation.desk)
    nominal = step.found.evaluation.predictions["nominal"]
    energy, power = float(nominal.specific_force), units.show(float(nominal.power), "power", system)
    low, high = (units.show(energy / share, "specific energy", system) for share in (most, least))
    yield (
        f"the energy per volume is known from {low} to {high}: measure on scrap what the cut takes of the spindle's "
        f"power, {power} planned with half-worn grain, and write planned over measured as removal_factor of the part"
    )


@_material_notes.register
def _(operation: ContourCutting, step: Step, system: units.System) -> Iterator[str]:
    nominal, desk = step.found.evaluation.predictions["nominal"], operation.desk
    chip, law = float(nominal.mean_chip_thickness), desk.workpiece.cutting
    if not law.chip_low.value <= chip <= law.chip_high.value:
        low, high = (units.show(end.value, "fine length", system) for end in (law.chip_low, law.chip_high))
        yield (
            f"the mean chip of {units.show(chip, 'fine length', system)} lies outside the {low} to {high} that the "
            "cutting force is known for: measure the spindle's power on scrap"
        )


@singledispatch
def _rubbing_notes(engagement: Engagement, detail: ContourDetail, step: Step, system: units.System) -> Iterator[str]:
    """What rests on rubbing that nobody has measured; a tool on its axis rubs with its edge alone."""
    yield from ()


@_rubbing_notes.register
def _(engagement: Sawn, detail: ContourDetail, step: Step, system: units.System) -> Iterator[str]:
    heat = next(limit for limit in step.found.evaluation.limits if limit.name == "heat at the cut edge")
    worn = trimming_of(step.found).setup.corners["heaviest load"].engagement
    if float(heat.utilisation) > HEAT_THAT_MATTERS and isinstance(worn, Sawn):
        force = units.show(float(worn.rubbing_force), "force", system)
        yield f"the heat at the cut edge rests on worn sides that rub with {force}, from memory: look at it on scrap"
    entry, conditions = entry_of(step.found, detail.outline), trimming_of(step.found).conditions
    if entry.kind == "plunge" and isinstance(conditions, ContourConditions):
        cutter, least = conditions.cutter, float(conditions.chip_law.minimum_chip_thickness)
        per_tooth = entry.feed / (float(step.found.settings["spindle_speed"]) * float(cutter.teeth))
        if per_tooth < least:
            thin, wanted = (units.show(each, "fine length", system) for each in (per_tooth, least))
            yield (
                f"at the feed that the spindle leaves to the plunge a tooth takes {thin}, thinner than the {wanted} of "
                "which chips form: come in from an edge or a drilled row, or take a disc with fewer teeth"
            )


def _fibre_notes(detail: ContourDetail, operation: TrimmedContour, system: units.System) -> Iterator[str]:
    """Where the path meets the fibres at their worst."""
    fibres = operation.desk.contour.fibre_angle
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


@singledispatch
def _geometry_notes(
    engagement: Engagement, detail: ContourDetail, operation: TrimmedContour, system: units.System
) -> Iterator[str]:
    """What the path asks of the tool."""
    raise TypeError(f"no notes for {type(engagement).__name__}")


@_geometry_notes.register
def _(engagement: Milled, detail: ContourDetail, operation: TrimmedContour, system: units.System) -> Iterator[str]:
    yield from _fibre_notes(detail, operation, system)
    radius = operation.diameter / 2
    if detail.outline.smallest_radius < radius:
        smallest, own = (units.show(each, "length", system) for each in (detail.outline.smallest_radius, radius))
        yield f"a radius of {smallest} is drawn: a tool of radius {own} goes round it outside, but not inside"
    tabs = operation.desk.contour.tabs
    if tabs is not None:
        height = tabs.height if tabs.height is not None else operation.desk.contour.thickness
        width, high = (units.show(each, "length", system) for each in (tabs.width, height))
        yield (
            f"{tabs.count} tabs of {width}, {high} high: lift the tool over each in the last layers at the same "
            "feed; cut them by hand or saw afterwards, and dress the stumps"
        )
    elif float(engagement.radial_depth) >= 2 * radius:
        yield "the offcut comes loose at the end of the slot: hold it, or leave tabs, so that it is not thrown or jams"


@_geometry_notes.register
def _(engagement: Sawn, detail: ContourDetail, operation: TrimmedContour, system: units.System) -> Iterator[str]:
    past = units.show(chord_of(engagement, operation) / 2, "length", system)
    left, right = (sum(each) for each in zip(*map(sharp_turns, detail.outline.chains), strict=True))
    if left or right:
        yield (
            f"a disc cannot turn: {len(detail.followed.chains)} runs, each {past} past the corner at either end. As "
            f"drawn, {left} corners turn left and {right} right: with the part on the left the runs cut into it at "
            "those that turn right, and the other way round; stop short there and finish with another tool"
        )
    elif any(not chain.closed for chain in detail.followed.chains):
        yield f"the disc runs {past} past either end: keep fixture and part clear of it there"
    if 0 < engagement.overcut <= engagement.side_play:
        overcut = units.show(float(engagement.overcut), "length", system)
        yield f"in the tightest curve the chord of the disc takes {overcut} more off the outer side"
    yield _offcut_note(engagement, operation)


def _offcut_note(disc: Sawn, operation: TrimmedContour) -> str:
    """What becomes of the material beside the kerf."""
    if disc.width < disc.kerf:
        return "the stock is narrower than the kerf: one side of the disc runs free, and it is pushed that way"
    if operation.desk.contour.tabs is not None:
        return "a disc leaves no tabs shorter than its chord: hold the offcut otherwise, so that it does not pinch it"
    return "support both sides so that the kerf opens: an offcut that sinks pinches the disc"
