"""The search against known optima and brute force, on small problems and on real edges."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pytest

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.closing_in import FASTER, SAME_ROOM
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import Axis, Evaluation, Range, mesh
from finishplan.planning.plan import Plan
from finishplan.planning.search import Found, search
from finishplan.process.limits import Limit, highest_utilisation

MARGIN = 0.2
WIDE = Range(1.0, 100.0)


def limit(name: str, value: Array, bound: Array, sense: Any = "at most", **more: Any) -> Limit:
    return Limit(name, value, bound, "number", sense, "group.field", "another", **more)


Load = Callable[..., LoadedJob]
Searched = Callable[..., Found]
Limits = Callable[[Mapping[str, Array], int], Sequence[Limit]]


@dataclass(frozen=True, eq=False)
class Problem:
    """An operation of two settings whose pace is the feed, with limits written down for a test."""

    limits: Limits
    feed: Range = WIDE
    force: Range = WIDE
    pace: Callable[[Mapping[str, Array], int], Array] = lambda at, passes: at["feed"] / passes
    feature: str = "edge"
    tool: str = "cutter"
    station: str = "cutter"
    ledger: Ledger = field(default_factory=Ledger)
    pass_counts: Sequence[int] = (1, 2, 3, 4, 5, 6)

    @property
    def axes(self) -> Sequence[Axis]:
        return (Axis("feed", self.feed, 14), Axis("force", self.force, 14))

    @property
    def figures(self) -> Any:
        return self.limits, self.pace

    def with_figures(self, figures: Any) -> Problem:
        return self

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        return Evaluation(settings, passes, {}, list(self.limits(settings, passes)), self.pace(settings, passes))

    def fastest_pace(self, passes: int) -> float:
        return self.feed.high / passes

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (Range(raised, raised), self.force), (1, 200))


def two_digits(span: Range, unit: float = 1.0) -> np.ndarray:
    """What a programmer may type in: figures of two digits in a range, half steps below 20 of them, and its ends."""
    low, high = span.low / unit, span.high / unit
    decades = range(int(np.floor(np.log10(low))), int(np.floor(np.log10(high))) + 1)
    steps = np.concatenate([np.arange(10, 20, 0.5), np.arange(20, 100)])
    figures = np.concatenate([steps * 10.0 ** (decade - 1) for decade in decades])
    inside = figures[(figures > low) & (figures < high)] * unit
    return np.concatenate([[span.low], inside, [span.high]])


def typed_in(operation: Any, feeds: Callable[[np.ndarray], np.ndarray], passes: int) -> Evaluation:
    """All points of two digits whose feeds are chosen."""
    grids = [two_digits(axis.range, axis.unit) for axis in operation.axes]
    grids = [feeds(grid) if axis.name == "feed" else grid for axis, grid in zip(operation.axes, grids, strict=True)]
    spread = np.meshgrid(*grids, indexing="ij")
    settings = {axis.name: values.ravel() for axis, values in zip(operation.axes, spread, strict=True)}
    return operation.evaluate(settings, passes)


def share(found: Found, margin: float) -> float:
    return float(highest_utilisation(found.evaluation.limits, margin))


def contact(at: Mapping[str, Array], passes: int) -> list[Limit]:
    """A tool that lifts off without force, on a device of limited force."""
    return [
        limit("contact", at["feed"], 10 * np.sqrt(at["force"])),
        limit("device force", at["force"], 25.0),
    ]


class TestKnownOptimum:
    def test_the_fastest_point_of_two_digits_that_keeps_the_margin(self) -> None:
        # by hand: force 25 x 0.8 = 20 N, feed 0.8 x 10 sqrt(20) = 35.8; of 19.5 N, 35.3 and so the same round figure
        found = search(Problem(contact), MARGIN)
        assert found.verdict == "keeps the margin"
        assert found.settings["feed"] == 35.0
        assert found.settings["force"] in (pytest.approx(20.0, rel=1e-12), pytest.approx(19.5, rel=1e-12))
        assert found.passes == 1
        assert found.broken == []

    def test_without_margin_the_bounds_themselves_are_reached(self) -> None:
        found = search(Problem(contact), 0.0)
        assert found.settings == {"feed": 50.0, "force": 25.0}
        assert found.worst == pytest.approx(1.0, rel=1e-9)

    def test_bounds_of_equipment_may_be_reached_whatever_the_margin(self) -> None:
        exact = Problem(lambda at, passes: [limit("top speed", at["feed"], 40.0, keeps_margin=False)])
        assert search(exact, MARGIN).settings["feed"] == pytest.approx(40.0, rel=1e-12)

    def test_of_points_of_one_pace_the_one_with_most_room(self) -> None:
        window = Problem(
            lambda at, passes: [
                limit("feed", at["feed"], 50.0),
                limit("from", at["force"], 10.0, "at least", datum=20.0),
                limit("to", at["force"], 30.0, datum=20.0),
            ]
        )
        found = search(window, MARGIN)
        assert found.settings["feed"] == pytest.approx(40.0, rel=1e-12)
        # a share of the window whose fourth power is below what counts as the same room, and the rounding
        assert abs(float(found.settings["force"]) - 20.0) <= 10.0 * (1 - MARGIN) * SAME_ROOM**0.25 + 0.5

    def test_settings_without_choice(self) -> None:
        fixed = Problem(contact, force=Range(9.0, 9.0))
        assert search(fixed, 0.0).settings == {"feed": 30.0, "force": 9.0}

    def test_ends_of_a_range_need_no_round_figure(self) -> None:
        narrow = Problem(lambda at, passes: [limit("force", at["force"], 100.0)], feed=Range(1.0, 12.345))
        assert search(narrow, MARGIN).settings["feed"] == 12.345


class TestPasses:
    def test_more_passes_where_they_are_faster(self) -> None:
        growing = Problem(lambda at, passes: [limit("feed", at["feed"], 2.0 * passes**2)])
        found = search(growing, 0.0)
        assert found.passes == 6
        assert found.settings["feed"] == pytest.approx(72.0, rel=1e-12)

    def test_no_more_passes_than_pay(self) -> None:
        flat = Problem(lambda at, passes: [limit("feed", at["feed"], 20.0)])
        assert search(flat, 0.0).passes == 1

    def test_more_passes_where_one_does_not_do(self) -> None:
        deep = Problem(lambda at, passes: [limit("depth", 3.0 / passes, 1.0), limit("feed", at["feed"], 20.0)])
        found = search(deep, 0.0)
        assert (found.passes, found.verdict) == (3, "keeps the margin")


class TestVerdict:
    def test_feasible_short_of_the_margin(self) -> None:
        tight = Problem(
            lambda at, passes: [
                limit("least", at["force"], 9.0, "at least"),
                limit("most", at["force"], 10.0),
            ]
        )
        found = search(tight, MARGIN)
        assert found.verdict == "feasible, margin not kept"
        assert {broken.name for broken in found.broken} == {"least", "most"}
        assert found.worst <= 1

    def test_not_feasible(self) -> None:
        closed = Problem(
            lambda at, passes: [
                limit("least", at["force"], 20.0, "at least"),
                limit("most", at["force"], 10.0),
            ]
        )
        found = search(closed, MARGIN)
        assert found.verdict == "not feasible"
        # the nearest point breaks both by the same share: sqrt(20/10)
        assert float(found.settings["force"]) == pytest.approx(np.sqrt(200), rel=0.02)
        assert {broken.name for broken in found.broken} == {"least", "most"}
        assert found.governing in {"least", "most"}

    def test_limits_are_listed_worst_first(self) -> None:
        hopeless = Problem(lambda at, passes: [limit("a", 2.0, 1.0), limit("b", 3.0, 1.0), limit("c", 0.5, 1.0)])
        found = search(hopeless, MARGIN)
        assert [broken.name for broken in found.broken] == ["b", "a"]
        assert found.governing == "b"

    def test_one_hopeless_limit_leaves_the_others_kept(self) -> None:
        hopeless = Problem(
            lambda at, passes: [
                *contact(at, passes),
                limit("rubbing", at["feed"], 5.0, "at least"),
                limit("stroke", 8.0, 1.0),
            ]
        )
        found = search(hopeless, MARGIN)
        assert [broken.name for broken in found.broken] == ["stroke"]

    def test_a_feasible_point_is_found_where_none_keeps_the_margin(self) -> None:
        tight = Problem(
            lambda at, passes: [
                limit("payload", 100.0 + at["force"], 105.0),
                limit("friction", at["force"], 4.9, "at least", keeps_margin=False),
            ]
        )
        assert search(tight, MARGIN).verdict == "feasible, margin not kept"


class TestRounding:
    @pytest.mark.parametrize(("bound", "typed"), [(10.6, 10.5), (17.3, 17.0), (23.4, 23.0), (87.7, 87.0), (3.31, 3.3)])
    def test_settings_have_two_digits_and_half_steps_below_twenty(self, bound: float, typed: float) -> None:
        found = search(Problem(lambda at, passes: [limit("feed", at["feed"], bound)]), 0.0)
        assert found.settings["feed"] == pytest.approx(typed, rel=1e-12)

    def test_the_last_digit_of_a_bound_decides_nothing(self) -> None:
        def lightest(bound: float) -> float:
            wanted = Problem(
                lambda at, passes: [limit("least", at["force"], bound, "at least")],
                pace=lambda at, passes: 10.0 / at["force"] / passes,
            )
            return float(search(wanted, MARGIN).settings["force"])

        assert lightest(float(np.nextafter(6.0, 7.0))) == lightest(6.0)

    @pytest.mark.parametrize("middles", [np.linspace(2.0, 4.0, 40)])
    def test_rounding_keeps_the_margin_where_a_round_point_does(self, middles: np.ndarray) -> None:
        """A narrow window of force over the root of the feed, as the edge break sets it."""
        for middle in middles:

            def window(at: Mapping[str, Array], passes: int, middle: float = middle) -> list[Limit]:
                ratio = at["force"] / np.sqrt(at["feed"])
                return [
                    limit("feed", at["feed"], 50.0),
                    limit("smallest", ratio, 0.985 * middle, "at least", datum=middle),
                    limit("largest", ratio, 1.015 * middle, datum=middle),
                    limit("passes", passes, 1.0, keeps_margin=False),
                ]

            problem = Problem(window)
            kept = highest_utilisation(typed_in(problem, lambda feeds: feeds, 1).limits, MARGIN) <= 1
            assert kept.any()
            assert search(problem, MARGIN).verdict == "keeps the margin"


class TestGoverning:
    def test_of_a_known_optimum(self) -> None:
        found = search(Problem(lambda at, passes: [limit("a", at["feed"], 50.0), limit("b", at["feed"], 80.0)]), MARGIN)
        assert found.governing == "a"

    def test_the_limit_named_is_broken_by_a_feed_faster_than_the_one_found(self) -> None:
        """Rounded the feed is 20, and four per cent above that still breaks nothing."""
        found = search(Problem(lambda at, passes: [limit("a", at["feed"], 21.5), limit("b", at["feed"], 20.9)]), 0.0)
        assert found.settings["feed"] == 20.0
        assert found.governing == "b"
        raised = {"feed": np.float64(20.9 * FASTER), "force": found.settings["force"]}
        named = next(limit for limit in found.operation.evaluate(raised, 1).limits if limit.name == found.governing)
        assert named.utilisation > 1


def founds(plan: Plan) -> Iterator[Found]:
    for feature in plan.features:
        yield from (step.found for step in feature.chosen.steps)


class TestRealEdges:
    def test_what_keeps_the_margin_does(self, plan: Plan) -> None:
        for found in founds(plan):
            assert found.verdict == "keeps the margin"
            assert share(found, plan.margin) <= 1

    def test_no_point_of_two_digits_is_three_percent_faster(self, plan: Plan) -> None:
        """Every two-digit speed, feed and setting above the pace found, for one and two passes."""
        for found in founds(plan):
            for passes in (1, 2):
                above = 1.03 * float(found.evaluation.pace) * passes
                faster = typed_in(found.operation, lambda feeds, above=above: feeds[feeds > above], passes)
                assert faster.settings["feed"].size > 1000
                assert np.all(highest_utilisation(faster.limits, plan.margin) > 1)

    def test_settings_are_what_a_programmer_types_in(self, plan: Plan) -> None:
        for found in founds(plan):
            for axis in found.operation.axes:
                ratio = float(found.settings[axis.name]) / two_digits(axis.range, axis.unit)
                assert np.min(np.abs(ratio - 1)) < 1e-9, axis.name

    def test_a_faster_feed_breaks_a_limit_and_the_one_named_is_to_blame(self, plan: Plan) -> None:
        for found in founds(plan):
            speed, feed, setting = found.operation.axes
            raised = float(found.settings["feed"]) * FASTER
            spans = (speed.range, Range(raised, raised), setting.range)
            points = mesh((speed, feed, setting), spans, (60, 1, 300))
            limits = found.operation.evaluate(points, found.passes).limits
            others = [limit for limit in limits if limit.name != found.governing]
            assert np.min(highest_utilisation(limits, plan.margin)) > 1
            assert np.min(highest_utilisation(others, plan.margin)) < np.min(highest_utilisation(limits, plan.margin))


TOO_LITTLE = [
    pytest.param("robot payload", 'payload = "45 kg"', 'payload = "8 kg"', "cell", 1.0, "kg", id="payload"),
    pytest.param("compliance stroke each way", 'stroke = "20 mm"', 'stroke = "1 mm"', "cell", 2.0, "m", id="stroke"),
    pytest.param("highest device force", 'force_max = "120 N"', 'force_max = "3 N"', "cell", 1.0, "N", id="force"),
    pytest.param("largest edge break", 'upper = "1.0 mm"', 'upper = "0.4 mm"', "job", 1.0, "m", id="edge break"),
]


@pytest.mark.parametrize(("name", "given", "too_little", "file", "factor", "unit"), TOO_LITTLE)
def test_the_needed_bound_frees_its_limit_when_it_is_granted(
    name: str, given: str, too_little: str, file: str, factor: float, unit: str, load: Load, searched: Searched
) -> None:
    found = searched(load(**{file: [(given, too_little)]}))
    short = next(limit for limit in found.evaluation.limits if limit.name == name)
    assert any(limit is short for limit in found.broken)
    needed = short.needed(MARGIN)
    granted = f'{given.partition(" = ")[0]} = "{needed * factor!r} {unit}"'
    operation = searched(load(**{file: [(given, granted)]})).operation
    freed = next(limit for limit in operation.evaluate(found.settings, found.passes).limits if limit.name == name)
    assert highest_utilisation([freed], MARGIN) <= 1 + 1e-9


def test_brute_force_agrees_that_there_is_no_point(load: Load, searched: Searched) -> None:
    narrow = ('lower = "0.3 mm", upper = "1.0 mm"', 'lower = "0.3 mm", upper = "0.4 mm"')
    found = searched(load(job=[narrow]))
    assert found.verdict == "not feasible"
    spans = [axis.range for axis in found.operation.axes]
    for passes in (1, 2, 3):
        points = mesh(found.operation.axes, spans, (12, 60, 60))
        assert np.all(highest_utilisation(found.operation.evaluate(points, passes).limits) > 1)


def test_a_mesh_holds_every_combination() -> None:
    axes = (Axis("feed", Range(1.0, 100.0), 3), Axis("force", Range(4.0, 4.0), 5))
    points = mesh(axes, [axis.range for axis in axes], [3, 5])
    assert points["feed"] == pytest.approx(np.repeat([1.0, 10.0, 100.0], 5))
    assert list(points["force"]) == [4.0] * 15


def test_a_range_narrows_about_its_middle_and_never_leaves_itself() -> None:
    span = Range(1.0, 100.0)
    assert span.around(10.0, 2.0) == Range(5.0, 20.0)
    assert span.around(1.5, 2.0) == Range(1.0, 3.0)
    assert span.around(90.0, 2.0) == Range(45.0, 100.0)
