"""What is shown of surfaces, of edges under abrasives, and of stock taken off."""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from typing import Any

from finishplan import physics
from finishplan.planning.abrasive_feature import BulkDetail, EdgeAbrasionDetail
from finishplan.planning.abrasive_setup import AbrasiveDesk
from finishplan.planning.feature import Option, Step
from finishplan.planning.set_depth_operation import SetDepthAbrasion
from finishplan.planning.surface_feature import SurfaceDetail
from finishplan.process.edge_conditions import CompliantMount, Mount, RigidMount
from finishplan.report.corner_rows import corner_figures, corner_notes
from finishplan.report.figures import Figure
from finishplan.report.process_rows import notes, process, result, settings


def _pressed(desk: AbrasiveDesk, mount: Mount, step: Step, feed: float) -> Iterator[Figure]:
    """Settings that every abrasive shares."""
    point, device = step.found.settings, desk.device
    yield Figure("tool", "tool", desk.abrasive.name)
    yield Figure("grit", "grit", desk.grit.name if desk.grit else None)
    yield Figure("spindle", "spindle", desk.spindle.name)
    yield Figure("mount", "mount", device.name if device else "rigid")
    yield Figure("spindle_speed", "spindle speed", float(point["spindle_speed"]), "rotation")
    yield Figure("feed", "feed", feed, "feed")
    yield from _pressing(mount, step)
    yield Figure("approach_speed", "approach speed", step.time.approach_speed, "feed")


@singledispatch
def _pressing(mount: Mount, step: Step) -> Iterator[Figure]:
    """What presses the abrasive; every kind of mount has the same figures."""
    raise TypeError(f"no settings for {type(mount).__name__}")


@_pressing.register
def _(mount: CompliantMount, step: Step) -> Iterator[Figure]:
    force, area = float(step.found.settings["force"]), mount.effective_area
    pressure = None if area is None else float(physics.device_pressure(force, area))
    yield Figure("contact_force", "contact force", force, "force")
    yield Figure("device_pressure", "device pressure", pressure, "pressure")
    yield Figure("penetration", "penetration", None, "length")
    yield Figure("preload_offset", "preload offset", float(physics.preload_offset(mount.stroke)), "length")
    yield Figure("stroke_needed", "stroke needed, each way", float(mount.stroke_needed), "length")
    yield Figure("stroke_available", "stroke available, each way", float(mount.stroke) / 2, "length")


@_pressing.register
def _(mount: RigidMount, step: Step) -> Iterator[Figure]:
    expected = float(step.found.evaluation.predictions["nominal"].force)
    yield Figure("contact_force", "contact force", expected, "force")
    yield Figure("device_pressure", "device pressure", None, "pressure")
    yield Figure("penetration", "penetration", float(step.found.settings["depth"]), "length")
    yield Figure("preload_offset", "preload offset", None, "length")
    yield Figure("stroke_needed", "stroke needed, each way", None, "length")
    yield Figure("stroke_available", "stroke available, each way", None, "length")


def _speeds(nominal: Any, heaviest: Any) -> Iterator[Figure]:
    yield Figure("sliding_speed", "sliding speed", float(nominal.sliding_speed), "surface speed")
    yield Figure("cutting_power", "power, heaviest", float(heaviest.power), "power")
    yield Figure("temperature_rise", "rise at the surface", float(heaviest.temperature_rise), "temperature difference")


@process.register
def _(detail: SurfaceDetail) -> str:
    return "surface"


@settings.register
def _(detail: SurfaceDetail, step: Step) -> Iterator[Figure]:
    own = detail.of(step)
    operation, nominal = own.operation, step.found.evaluation.predictions["nominal"]
    yield from _pressed(operation.setup.desk, operation.conditions.mount, step, float(nominal.feed))
    yield Figure("step_over", "step of the raster", float(step.found.settings["step"]), "length")
    yield Figure("passes", "passes", step.found.passes)
    lanes = step.found.passes // len(own.rasters)
    shift = float(step.found.settings["step"]) / lanes if lanes > 1 else None
    yield Figure("shift", "shift from pass to pass", shift, "length")
    yield Figure("raster_direction", "direction of the lines", own.rasters[0].direction, "angle")
    crosswise = own.rasters[1].direction if len(own.rasters) > 1 else None
    yield Figure("cross_direction", "then crosswise", crosswise, "angle")


@result.register
def _(detail: SurfaceDetail, step: Step) -> Iterator[Figure]:
    own, predictions = detail.of(step), step.found.evaluation.predictions
    nominal, most = predictions["nominal"], predictions["most removal"]
    surface = own.operation.conditions.surface
    yield from _speeds(nominal, most)
    yield Figure("pressure", "pressure", float(nominal.pressure), "contact pressure")
    yield Figure("roughness_before", "roughness Ra before", float(surface.initial_roughness), "roughness")
    yield Figure("roughness", "roughness Ra after", float(nominal.roughness), "roughness")
    yield Figure("roughness_low", "before a trial, from", own.roughness_band[0], "roughness")
    yield Figure("roughness_high", "before a trial, to", own.roughness_band[1], "roughness")
    yield Figure("removal", "removal inside", float(nominal.mean_depth), "roughness")
    low, high = _untuned(float(nominal.mean_depth), own.coefficient_band)
    yield Figure("removal_untuned_low", "before a trial, from", low, "roughness")
    yield Figure("removal_untuned_high", "before a trial, to", high, "roughness")
    yield Figure("removal_map_mean", "mean of the map", own.map.statistics.mean, "roughness")
    yield Figure("removal_shallowest", "shallowest place of the map", own.map.statistics.minimum, "roughness")
    yield Figure("removal_5", "5 % of the surface below", own.map.statistics.low, "roughness")
    yield Figure("removal_95", "95 % of the surface below", own.map.statistics.high, "roughness")
    yield Figure("removal_deepest", "deepest place of the map", own.map.statistics.maximum, "roughness")
    yield Figure("unevenness", "unevenness inside", float(nominal.ripple), "fraction")
    yield Figure("edge_pressure", "pressure at the border", _finite(own.map.edge_pressure_ratio), "number")
    yield Figure("area", "area", detail.region.area, "large area")
    yield Figure("path_length", "path of one pass", own.rasters[0].path_length, "long length")
    yield Figure("turns", "turns", own.rasters[0].turns)
    yield Figure("lifts", "lifts", own.rasters[0].lifts)
    yield Figure("unreached_area", "out of the pad's reach", own.rasters[0].unreached_area, "area")
    yield Figure("contact_time", "contact time", step.time.contact, "time")
    yield Figure("feature_time", "time with approaches", step.time.total, "time")


def _untuned(depth: float, band: tuple[float, float] | None) -> tuple[float | None, float | None]:
    """Depth over the band of the coefficient; none where nothing is removed."""
    return (None, None) if band is None else (depth * band[0], depth * band[1])


def _finite(value: float) -> float | None:
    return value if value < 1e9 else None


@notes.register
def _(detail: SurfaceDetail, chosen: Option) -> Iterator[str]:
    if len(chosen.steps) > 1:
        yield "sequence: " + ", then ".join(step.tool for step in chosen.steps)
    for low, high in [own.coefficient_band for own in detail.steps if own.coefficient_band is not None][:1]:
        yield (
            f"removal is known to a factor of {1 / low:.1f} down and {high:.1f} up: one pass on a scrap part, "
            "weighed or measured, settles it (part.removal_factor)"
        )
    for own in detail.steps:
        if own.coefficient_band is None:
            low, high = (roughness / own.operation.setup.task.initial_roughness for roughness in own.roughness_band)
            yield (
                f"{own.operation.tool}: leaves {low:.0%} to {high:.0%} of the roughness before it, and takes no depth "
                "off worth counting; a trial tells the finish and how fast it may be fed"
            )
        if own.map.edge_pressure_ratio > 1e9:
            yield f"{own.operation.tool}: the pad tips at the border; allow less overhang"
        if own.rasters[0].unreached_area > 0.01 * detail.region.area:
            share = own.rasters[0].unreached_area / detail.region.area
            yield f"{own.operation.tool}: {share:.0%} of the area is out of the pad's reach"


@process.register
def _(detail: EdgeAbrasionDetail) -> str:
    return "edge abrasion"


@settings.register
def _(detail: EdgeAbrasionDetail, step: Step) -> Iterator[Figure]:
    operation = detail.operation
    yield from _pressed(operation.desk, operation.conditions.mount, step, float(step.found.settings["feed"]))
    yield Figure("passes", "passes", step.found.passes)


@result.register
def _(detail: EdgeAbrasionDetail, step: Step) -> Iterator[Figure]:
    edge, predictions = detail.operation.conditions.edge, step.found.evaluation.predictions
    nominal, smallest = predictions["nominal"], predictions["smallest break"]
    yield from _speeds(nominal, predictions["heaviest load"])
    yield Figure("contact_force_low", "contact force, least", float(smallest.force), "force")
    yield Figure("contact_force_high", "contact force, most", float(predictions["heaviest load"].force), "force")
    yield Figure("edge_break_lower_limit", "edge break wanted, from", float(edge.leg_lower), "length")
    yield Figure("edge_break_upper_limit", "edge break wanted, to", float(edge.leg_upper), "length")
    yield Figure("edge_break", "as a chamfer, nominal", float(nominal.leg), "length")
    yield Figure("edge_break_smallest", "as a chamfer, smallest", float(smallest.leg), "length")
    yield Figure("edge_break_largest", "as a chamfer, largest", float(predictions["largest break"].leg), "length")
    yield Figure("edge_break_radius", "radius, nominal", float(nominal.radius), "length")
    left = max(0.0, 1 - float(smallest.section) / float(smallest.burr_section)) if smallest.burr_section else 0.0
    yield Figure("burr_left", "burr left, largest burr", left, "fraction")
    yield Figure("length", "length", detail.outline.length, "long length")
    yield Figure("contact_time", "contact time", step.time.contact, "time")
    yield Figure("feature_time", "time with approaches", step.time.total, "time")
    yield from corner_figures(detail.corner)


@notes.register
def _(detail: EdgeAbrasionDetail, chosen: Option) -> Iterator[str]:
    low, high = detail.coefficient_band
    yield f"removal is known to a factor of {1 / low:.1f} down and {high:.1f} up until a trial settles it"
    system = detail.operation.desk.loaded.job.job.units
    yield from corner_notes(detail.corner, system, drawn=detail.outline.drawn)
    if isinstance(detail.operation, SetDepthAbrasion):
        yield "set depth: the force follows from how the tool yields; measure it in a trial"
        yield "the tool wears: find first touch anew and correct the depth, or the force falls"


@process.register
def _(detail: BulkDetail) -> str:
    return "stock removal"


@settings.register
def _(detail: BulkDetail, step: Step) -> Iterator[Figure]:
    operation = detail.operation
    yield from _pressed(operation.desk, operation.conditions.mount, step, float(step.found.settings["feed"]))


@result.register
def _(detail: BulkDetail, step: Step) -> Iterator[Figure]:
    predictions = step.found.evaluation.predictions
    nominal, most, least = (predictions[name] for name in ("nominal", "most removal", "least removal"))
    yield from _speeds(nominal, most)
    yield Figure("volume", "volume of each", float(detail.operation.conditions.stock.volume), "volume")
    yield Figure("removal_rate", "removal rate", float(nominal.removal_rate), "removal rate")
    yield Figure("depth_per_stroke", "depth per stroke", float(nominal.depth_per_stroke), "length")
    yield Figure("strokes", "strokes on each", int(nominal.strokes))
    yield Figure("strokes_most", "strokes, worst case", int(least.strokes))
    yield Figure("count", "pieces on a part", detail.operation.removal.count)
    yield Figure("contact_time", "contact time", step.time.contact, "time")
    yield Figure("feature_time", "time with approaches", step.time.total, "time")


@notes.register
def _(detail: BulkDetail, chosen: Option) -> Iterator[str]:
    low, high = detail.coefficient_band
    yield f"removal is known to a factor of {1 / low:.1f} down and {high:.1f} up until a trial settles it"
