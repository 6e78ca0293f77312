"""Edges under abrasives and stock to be taken off: volumes, times, the best grit, and what cannot be done."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.errors import JobError
from finishplan.geometry import Chain
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_feature import BulkFeature, edge_abrasion_options
from finishplan.planning.bulk_operation import bulk_abrasion
from finishplan.planning.edge_abrasion_operation import edge_abrasion
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline
from finishplan.planning.search import search
from finishplan.planning.together import answered
from finishplan.planning.travel import approach_speed, return_time
from finishplan.reference import grit

Sanding = Callable[..., LoadedJob]
GATE = """
[[removal]]
name = "gate"
kind = "gate"
count = 3
height = "2 mm"
height_scatter = "0.5 mm"
left = "0.2 mm"
width = "18 mm"
length = "30 mm"
section = "rectangular"
tools = ["belt 50"]
"""
RIM = """
[[edge]]
name = "rim"
length = "800 mm"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.2 mm", upper = "1.2 mm" }
"""
STRAIGHT = Outline((Chain(np.array([[0.0, 0.0], [0.8, 0.0]]), 0.8, False, np.inf, 0),), drawn=False)
SQUARE = np.array([[0.0, 0.0], [0.2, 0.0], [0.2, 0.2], [0.0, 0.2], [0.0, 0.0]])
WIDTHS: dict[str, Callable[[float], float]] = {
    "rectangular": lambda share: 1.0,
    "triangular": lambda share: share,
    "segment": lambda share: np.sqrt(share),
}
"""Width over that at the foot, at a depth below the top given as share of the height."""


@pytest.mark.parametrize("section", WIDTHS)
@pytest.mark.parametrize("left", ["0 mm", "0.2 mm", "1.5 mm"])
def test_the_volume_is_that_above_what_may_stay(sanding: Sanding, section: str, left: str) -> None:
    text = GATE.replace('"rectangular"', f'"{section}"').replace('left = "0.2 mm"', f'left = "{left}"')
    loaded = sanding(more=text)
    operation = bulk_abrasion(loaded, 0, loaded.cell.abrasive[1], grit("P80"))
    stays = float(left.split()[0]) * 1e-3
    for corner, height in (("nominal", 2e-3), ("least removal", 2.5e-3), ("most removal", 1.5e-3)):
        share, _ = quad(WIDTHS[section], 0.0, max(height - stays, 0.0) / height)
        volume = float(operation.corners[corner].stock.volume)  # type: ignore[index]
        assert volume == pytest.approx(share * height * 18e-3 * 30e-3, rel=1e-5, abs=1e-15)


class TestStock:
    def test_the_time_is_that_of_all_pieces(self, sanding: Sanding) -> None:
        loaded = sanding(more=GATE)
        (option,) = answered(BulkFeature(loaded, 0).options(), 0.2)
        (step,) = option.steps
        nominal = step.found.evaluation.predictions["nominal"]
        assert step.time.contact == pytest.approx(3 * float(nominal.contact_time))
        assert step.time.entries == 3
        assert step.time.approach == pytest.approx(3 * motion_of(loaded).entry_time(step.time.approach_speed))
        assert step.time.approach_speed == approach_speed(step.found)

    def test_of_the_grits_of_a_tool_the_best(self, sanding: Sanding) -> None:
        loaded = sanding(more=GATE)
        (option,) = answered(BulkFeature(loaded, 0).options(), 0.2)
        belt = loaded.cell.abrasive[1]
        founds = [search(bulk_abrasion(loaded, 0, belt, grit(name)), 0.2) for name in ("P80", "P120")]
        assert all(found.verdict == "keeps the margin" for found in founds)
        fastest = max(founds, key=lambda found: float(found.evaluation.pace))
        assert option.tools == (fastest.operation.tool,)

    def test_nothing_is_drawn_of_it(self, sanding: Sanding) -> None:
        feature = BulkFeature(sanding(more=GATE), 0)
        (option,) = answered(feature.options(), 0.2)
        assert feature.paths(option.steps[0]) == []
        assert option.steps[0].starts.shape == (0, 2)

    def test_abrasives_carried_rigidly_are_left_out(self, sanding: Sanding) -> None:
        """The bonded wheel suits the gate, but nothing sets the force it presses with."""
        free = sanding(more=GATE.replace('tools = ["belt 50"]\n', ""))
        assert "stone" in {entry.name for entry in free.abrasives_for(free.job.removal[0])}
        assert [option.stations for option in answered(BulkFeature(free, 0).options(), 0.2)] == [("belt 50",)]

    def test_with_none_but_those_the_job_is_told(self, sanding: Sanding, tmp_path: Path) -> None:
        with pytest.raises(JobError) as caught:
            answered(BulkFeature(sanding(more=GATE.replace('"belt 50"', '"stone"')), 0).options(), 0.2)
        (fault,) = caught.value.faults
        assert "compliance device" in fault.wanted
        written = (tmp_path / "sanding.toml").read_text().splitlines()
        assert re.match(r"tools = \[.stone.\]", written[fault.line - 1])


class TestEdges:
    def test_one_option_for_every_tool_that_suits(self, sanding: Sanding) -> None:
        options = answered(edge_abrasion_options(sanding(more=RIM), 0, STRAIGHT), 0.2)
        assert [option.stations for option in options] == [("belt 50",)]

    def test_of_the_grits_of_a_tool_the_best(self, sanding: Sanding) -> None:
        loaded = sanding(more=RIM)
        (option,) = answered(edge_abrasion_options(loaded, 0, STRAIGHT), 0.2)
        belt = loaded.cell.abrasive[1]
        founds = [search(edge_abrasion(loaded, 0, belt, grit(name)), 0.2) for name in ("P80", "P120")]
        # neither keeps its limits here, so the one that exceeds them less
        assert all(found.verdict == "not feasible" for found in founds)
        nearest = min(founds, key=lambda found: found.worst)
        assert option.tools == (nearest.operation.tool,)

    def test_a_straight_edge_takes_its_length_and_the_ramps(self, sanding: Sanding) -> None:
        (option,) = answered(edge_abrasion_options(sanding(more=RIM), 0, STRAIGHT), 0.2)
        (step,) = option.steps
        feed = float(step.found.settings["feed"])
        assert step.time.contact == pytest.approx(step.found.passes * (0.8 / feed + feed / 3.0), rel=1e-9)

    def test_a_closed_edge_is_entered_once_and_needs_no_way_back(self, sanding: Sanding) -> None:
        closed = Outline((Chain(SQUARE, 0.8, True, np.inf, 4),), drawn=True)
        loaded = sanding(more=RIM)
        (option,) = answered(edge_abrasion_options(loaded, 0, closed), 0.2)
        assert option.steps[0].time.entries == 1
        assert return_time(closed, 4, motion_of(loaded)) == 0.0

    def test_open_runs_are_gone_back_along_between_passes(self, sanding: Sanding) -> None:
        motion = motion_of(sanding(more=RIM))
        assert return_time(STRAIGHT, 1, motion) == 0.0
        assert return_time(STRAIGHT, 3, motion) == pytest.approx(2 * 0.8 / motion.air_speed)

    def test_the_corners_lie_about_the_nominal_edge(self, sanding: Sanding) -> None:
        loaded = sanding(more=RIM)
        operation = edge_abrasion(loaded, 0, loaded.cell.abrasive[1], grit("P80"))
        random = np.random.default_rng(5)
        settings = {
            axis.name: np.exp(random.uniform(np.log(axis.range.low), np.log(axis.range.high), 200))
            for axis in operation.axes
        }
        found: Any = operation.evaluate(settings, 2).predictions
        assert np.all(found["smallest break"].leg <= found["nominal"].leg)
        assert np.all(found["nominal"].leg <= found["largest break"].leg)
        assert all(np.all(other.power <= found["heaviest load"].power) for other in found.values())
