"""What is shown of an edge under a cutter."""

from __future__ import annotations

from collections.abc import Iterator

from finishplan import physics
from finishplan.planning.edge_feature import EdgeDetail
from finishplan.planning.edge_operation import operating_point
from finishplan.planning.feature import Option, Step
from finishplan.process.edge_conditions import CompliantMount
from finishplan.process.edge_cutting import passes_to_clear
from finishplan.report.corner_rows import corner_figures, corner_notes
from finishplan.report.figures import Figure
from finishplan.report.process_rows import notes, process, result, settings


@process.register
def _(detail: EdgeDetail) -> str:
    return "edge cutting"


@settings.register
def _(detail: EdgeDetail, step: Step) -> Iterator[Figure]:
    found, setup = step.found, detail.operation.setup
    point, nominal = found.settings, found.evaluation.predictions["nominal"]
    mount = setup.nominal.mount
    yield Figure("tool", "tool", setup.tool.name)
    yield Figure("spindle", "spindle", setup.spindle.name)
    yield Figure("mount", "mount", setup.device.name if setup.device else "rigid")
    yield Figure("spindle_speed", "spindle speed", float(point["spindle_speed"]), "rotation")
    yield Figure("feed", "feed", float(point["feed"]), "feed")
    yield Figure("passes", "passes", found.passes)
    if isinstance(mount, CompliantMount):
        force, area = float(point["setting"]), mount.effective_area
        yield Figure("contact_force", "contact force", force, "force")
        pressure = None if area is None else float(physics.device_pressure(force, area))
        yield Figure("device_pressure", "device pressure", pressure, "pressure")
        yield Figure("aimed_depth", "aimed depth", None, "length")
        yield Figure("preload_offset", "preload offset", float(physics.preload_offset(mount.stroke)), "length")
        yield Figure("stroke_needed", "stroke needed, each way", float(mount.stroke_needed), "length")
        yield Figure("stroke_available", "stroke available, each way", float(mount.stroke) / 2, "length")
    else:
        yield Figure("contact_force", "contact force", float(nominal.normal_force), "force")
        yield Figure("device_pressure", "device pressure", None, "pressure")
        yield Figure("aimed_depth", "aimed depth", float(point["setting"]), "length")
        yield Figure("preload_offset", "preload offset", None, "length")
        yield Figure("stroke_needed", "stroke needed, each way", None, "length")
        yield Figure("stroke_available", "stroke available, each way", None, "length")
    yield Figure("approach_speed", "approach speed", step.time.approach_speed, "feed")
    yield Figure("direction", "direction of travel", "conventional")


@result.register
def _(detail: EdgeDetail, step: Step) -> Iterator[Figure]:
    edge, predictions = detail.operation.setup.nominal.edge, step.found.evaluation.predictions
    nominal, smallest = predictions["nominal"], predictions["smallest break"]
    yield Figure("surface_speed", "surface speed", float(nominal.surface_speed), "surface speed")
    yield Figure("feed_per_tooth", "feed per tooth", float(nominal.feed_per_tooth), "fine length")
    yield Figure("edge_break_lower_limit", "edge break wanted, from", float(edge.leg_lower), "length")
    yield Figure("edge_break_upper_limit", "edge break wanted, to", float(edge.leg_upper), "length")
    yield Figure("edge_break", "edge break, nominal", float(nominal.leg), "length")
    yield Figure("edge_break_smallest", "edge break, smallest", float(smallest.leg), "length")
    yield Figure("edge_break_largest", "edge break, largest", float(predictions["largest break"].leg), "length")
    yield Figure(
        "edge_break_radius", "same section as radius", _equivalent_radius(nominal.leg, edge.included_angle), "length"
    )
    yield Figure("edge_break_untuned_low", "before a trial, from", detail.untuned_break[0], "length")
    yield Figure("edge_break_untuned_high", "before a trial, to", detail.untuned_break[1], "length")
    left = max(0.0, 1 - float(smallest.section) / float(smallest.burr_section)) if smallest.burr_section else 0.0
    yield Figure("burr_left", "burr left, largest burr", left, "fraction")
    yield Figure("cutting_power", "cutting power, heaviest", float(predictions["heaviest load"].power), "power")
    against = float(nominal.feed_direction_force)
    yield Figure("feed_direction_force", "force against the feed", against, "force")
    yield Figure("length", "length", detail.outline.length, "long length")
    yield Figure("contact_time", "contact time", step.time.contact, "time")
    yield Figure("feature_time", "time with approaches", step.time.total, "time")
    yield from corner_figures(detail.corner)


@notes.register
def _(detail: EdgeDetail, chosen: Option) -> Iterator[str]:
    found = chosen.steps[0].found
    predictions = found.evaluation.predictions
    smallest = predictions["smallest break"]
    if float(smallest.section) < float(smallest.burr_section):
        needed = passes_to_clear(detail.operation.setup.corners["smallest break"], operating_point(found.settings, 1))
        told = "aim deeper or press harder" if needed is None else f"at this setting it would take {needed} passes"
        yield f"the largest burr is not gone; {told}"
    system = detail.operation.setup.desk.loaded.job.job.units
    yield from corner_notes(detail.corner, system, drawn=detail.outline.drawn)
    yield "conventional travel: the cut pushes against the feed, so a soft robot or mount is not pulled in"


def _equivalent_radius(leg: float, included_angle: float) -> float:
    """Radius of the round with the section of a chamfer [m]."""
    return float(physics.round_radius(physics.chamfer_area(leg, included_angle), included_angle))
