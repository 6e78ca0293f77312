"""What must hold for the example jobs: order of the corners of the scatter, and units that change nothing."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from finishplan.job import load_job
from finishplan.planning.edge_feature import edge_features
from finishplan.planning.edge_operation import EdgeCutting
from finishplan.planning.edge_setup import EdgeSetup
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.together import answered
from finishplan.process.edge_conditions import RigidMount

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ["cast_cover.toml", "steel_bracket.toml"]
ROUNDING = 1 + 1e-9

INCH, POUND = 25.4, 0.45359237
POUND_FORCE = POUND * 9.80665
HORSEPOWER = 550 * 12 * 0.0254 * POUND_FORCE
INCH_UNITS = {
    "mm": ("in", 1 / INCH),
    "um": ("mil", 1 / INCH),
    "mm/s": ("in/min", 60 / INCH),
    "m/s": ("ft/min", 60 / 0.3048),
    "m/s2": ("ft/s2", 1 / 0.3048),
    "cm2": ("in2", 100 / INCH**2),
    "N": ("lbf", 1 / POUND_FORCE),
    "kg": ("lb", 1 / POUND),
    "W": ("hp", 1 / HORSEPOWER),
    "N/mm": ("lbf/in", INCH / POUND_FORCE),
    "N/m": ("lbf/in", INCH / 1e3 / POUND_FORCE),
}


def in_inches(text: str) -> str:
    """A job or cell file with every quantity in inch units."""

    def converted(found: re.Match[str]) -> str:
        number, unit = found.groups()
        if unit not in INCH_UNITS:
            return found[0]
        inch, factor = INCH_UNITS[unit]
        return f'"{float(number) * factor!r} {inch}"'

    text = re.sub(r'"([0-9.]+) ([A-Za-z/%]+[0-9]?)"', converted, text)
    return text.replace('units = "metric"', 'units = "inch"')


@cache
def operations(name: str) -> list[EdgeCutting]:
    """Every edge of an example under every cutter that suits."""
    options = [
        option for feature in edge_features(load_job(EXAMPLES / name)) for option in answered(feature.options(), 0.2)
    ]
    steps = [step.found.operation for option in options for step in option.steps]
    return [operation for operation in steps if isinstance(operation, EdgeCutting)]


def scattered(operation: EdgeCutting, count: int) -> dict[str, np.ndarray]:
    """Settings all over the ranges of a search."""
    random = np.random.default_rng(11)
    return {
        axis.name: np.exp(random.uniform(np.log(axis.range.low), np.log(axis.range.high), count))
        for axis in operation.axes
    }


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("passes", [1, 3])
def test_the_corners_enclose_the_nominal_edge(name: str, passes: int) -> None:
    for operation in operations(name):
        found = operation.evaluate(scattered(operation, 300), passes).predictions
        smallest, nominal, largest = (found[corner].leg for corner in ("smallest break", "nominal", "largest break"))
        assert np.all(smallest <= nominal * ROUNDING)
        assert np.all(nominal <= largest * ROUNDING)
        assert np.any(smallest < largest)
        heaviest = found["heaviest load"]
        assert all(np.all(other.power <= heaviest.power * ROUNDING) for other in found.values())
        if isinstance(operation.conditions.mount, RigidMount):
            # a spring presses a little harder where the cut stays shallower; the band of the force ratio
            # is taken for the drive there, and for the arm under a rigid mount alone
            assert all(np.all(other.normal_force <= heaviest.normal_force * ROUNDING) for other in found.values())


def enclosed(setup: EdgeSetup) -> Iterator[tuple[float, float, float]]:
    """Lowest, nominal and highest value of every figure that scatters."""
    low, mid, high = (setup.corners[corner] for corner in ("largest break", "nominal", "smallest break"))
    yield low.edge.burr_height, mid.edge.burr_height, high.edge.burr_height
    yield low.edge.burr_root_thickness, mid.edge.burr_root_thickness, high.edge.burr_root_thickness
    yield high.edge.path_error, mid.edge.path_error, low.edge.path_error
    yield low.chip_law.wear_factor, mid.chip_law.wear_factor, high.chip_law.wear_factor
    yield tuple(state.chip_law.specific_force(5e-5) for state in (low, mid, high))  # type: ignore[misc]


@pytest.mark.parametrize("name", JOBS)
def test_the_scatter_lies_about_the_nominal_edge(name: str) -> None:
    for operation in operations(name):
        for low, mid, high in enclosed(operation.setup):
            assert 0 <= low <= mid <= high or low < mid == 0 < high


def test_the_conversion_to_inches_meets_every_quantity() -> None:
    for path in EXAMPLES.glob("*.toml"):
        text = path.read_text()
        assert not re.search(r'"[0-9.]+ (mm|kg|N|W|m/s|N/mm|N/m|m/s2)"', in_inches(text))
    assert float(in_inches('"50.8 mm"').strip('" in')) == pytest.approx(2.0, rel=1e-15)
    assert in_inches('a = "90 deg"') == 'a = "90 deg"'


def written(name: str, folder: Path, change: Callable[[str], str]) -> Path:
    """The example in a folder of its own, its files changed.

    With a margin that no round figure of the job meets exactly, a last digit decides nothing.
    """
    folder.mkdir()
    for path in EXAMPLES.glob("*.dxf"):
        shutil.copy(path, folder)
    for path in EXAMPLES.glob("*.toml"):
        (folder / path.name).write_text(change(path.read_text()))
    job = folder / name
    job.write_text(job.read_text().replace("[job]\n", '[job]\nmargin = "17.3 %"\n'))
    return folder


def figures(plan: Plan) -> dict[str, float]:
    """Every figure a plan is used for, by a name that says where it stands."""
    found = {"cycle": plan.cycle.total, "air": plan.cycle.air}
    for feature in plan.features:
        for step in feature.chosen.steps:
            name = f"{feature.name} with {step.tool}"
            nominal = step.found.evaluation.predictions["nominal"]
            found |= {f"{name}: {key}": float(value) for key, value in step.found.settings.items()}
            found |= {f"{name}: passes": step.found.passes, f"{name}: time": step.time.total}
            found |= {f"{name}: break": float(nominal.leg), f"{name}: power": float(nominal.power)}
            found |= {f"{name}: {limit.name}": float(limit.bound) for limit in step.found.evaluation.limits}
    return found | {f"needed {row.name}": row.needed for row in plan.requirements}


@pytest.mark.parametrize("name", JOBS)
def test_a_job_in_inch_units_gives_the_same_plan(name: str, tmp_path: Path) -> None:
    metric, inch = (
        make_plan(load_job(written(name, tmp_path / system, change) / name))
        for system, change in (("metric", str), ("inch", in_inches))
    )
    assert inch.loaded.job.job.units == "inch"
    assert [feature.chosen.tools for feature in inch.features] == [feature.chosen.tools for feature in metric.features]
    assert [feature.verdict for feature in inch.features] == [feature.verdict for feature in metric.features]
    assert figures(inch) == pytest.approx(figures(metric), rel=1e-9)
