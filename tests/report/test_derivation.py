"""Derivations on the terminal and as JSON."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Callable

import pytest
from rich.console import Console

from finishplan.planning.derivation import Derivation, DerivationStep, InputLine, derive
from finishplan.planning.plan import Plan
from finishplan.report.derivation import as_json, print_derivation


def printed(derivation: Derivation, width: int = 100, system: str = "metric") -> str:
    out = io.StringIO()
    print_derivation(derivation, system, Console(file=out, width=width, highlight=False))  # type: ignore[arg-type]
    return out.getvalue()


@pytest.fixture(scope="module")
def of_an_edge(example_plan: Callable[[str], Plan]) -> Derivation:
    return derive(example_plan("cast_cover.toml").loaded, "ports")


@pytest.fixture(scope="module")
def of_a_surface(example_plan: Callable[[str], Plan]) -> Derivation:
    return derive(example_plan("hardwood_seat.toml").loaded, "seat")


@pytest.mark.parametrize("name", ["of_an_edge", "of_a_surface"])
class TestPrinted:
    def test_every_step_with_its_equation_and_source(self, name: str, request: pytest.FixtureRequest) -> None:
        derivation: Derivation = request.getfixturevalue(name)
        text = " ".join(printed(derivation, 400).split())
        for step in derivation.steps:
            assert f"{step.number} {step.quantity} =" in text
            assert " ".join(step.equation.split()) in text
            assert f"relation: {' '.join(step.source.split())}" in text
        assert "setting of the plan" in text

    @pytest.mark.parametrize("width", [80, 120])
    def test_no_line_is_wider_than_the_terminal(self, name: str, width: int, request: pytest.FixtureRequest) -> None:
        text = printed(request.getfixturevalue(name), width)
        assert max(len(line.rstrip()) for line in text.splitlines()) <= width

    def test_json_holds_the_same_steps_in_si_units(self, name: str, request: pytest.FixtureRequest) -> None:
        derivation: Derivation = request.getfixturevalue(name)
        data = json.loads(as_json(derivation, "metric"))
        assert data["units"] == "SI"
        assert [step["quantity"] for step in data["steps"]] == [step.quantity for step in derivation.steps]
        for shown, step in zip(data["steps"], derivation.steps, strict=True):
            finite = [value if math.isfinite(value) else None for value in step.result]
            assert shown["result"] == pytest.approx(finite)

    def test_inch_units_are_shown_where_asked_for(self, name: str, request: pytest.FixtureRequest) -> None:
        text = printed(request.getfixturevalue(name), 200, "inch")
        assert "in/min" in text
        assert "mm/s" not in text


class TestValues:
    def step(self, *lines: InputLine, doubts: tuple[str, ...] = ()) -> Derivation:
        one = DerivationStep(1, "feed", "vf = x", "[definition]", lines, (0.0254,), "m/s", doubts)
        return Derivation("[rim]", "burr", "feed", (one,))

    def test_a_choice_among_words_shows_the_word(self) -> None:
        text = printed(self.step(InputLine("method", (), "-", "worst case")))
        assert "method" in text
        assert "worst case" in text

    def test_several_values_are_listed(self) -> None:
        assert "1, 2, 3 mm" in printed(self.step(InputLine("errors", (1e-3, 2e-3, 3e-3), "m", "here"))).replace(
            "1000, 2000, 3000 um", "1, 2, 3 mm"
        )

    def test_markup_is_printed_as_it_stands(self) -> None:
        text = printed(self.step(InputLine("x", (1.0,), "1", "[red]job.toml:3[/red]")))
        assert "[red]job.toml:3[/red]" in text
        assert "[rim]" in text
        assert "[definition]" in text

    def test_doubts_are_told(self) -> None:
        assert "outside the range" in printed(self.step(doubts=("x is outside the range",)))

    def test_rotations_are_shown_per_minute(self) -> None:
        assert "6000 rpm" in printed(self.step(InputLine("spindle speed", (100.0,), "1/s", "setting of the plan")))
