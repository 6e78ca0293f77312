"""Figures keep their origin by identity, however equal they are."""

from __future__ import annotations

import numpy as np
import pytest

from finishplan.planning.ledger import Ledger, describe
from finishplan.reference import default, workpiece


def test_equal_figures_keep_their_own_origin() -> None:
    ledger = Ledger()
    height = ledger.given("edge.height", 1e-4, "length", "job.toml:3 height")
    thickness = ledger.given("edge.thickness", 1e-4, "length", "job.toml:4 thickness")
    assert height == thickness
    assert ledger.origin_of(height).field == "edge.height"  # type: ignore[union-attr]
    assert ledger.origin_of(thickness).field == "edge.thickness"  # type: ignore[union-attr]


def test_an_equal_figure_from_elsewhere_has_no_origin() -> None:
    ledger = Ledger()
    figure = ledger.given("edge.height", 1e-4, "length", "job.toml:3 height")
    assert ledger.origin_of(np.float64(1e-4)) is None
    assert ledger.origin_of(figure * 1.0) is None


def test_identities_last_as_long_as_the_ledger() -> None:
    """Figures that nobody else holds must not hand their identity on to later ones."""
    ledger = Ledger()
    for number in range(200):
        ledger.given(f"edge.figure {number}", float(number), "number", "job.toml:1")
    strangers = [np.float64(number) for number in range(200)]
    assert all(ledger.origin_of(stranger) is None for stranger in strangers)


def test_every_kind_of_origin_is_told() -> None:
    ledger = Ledger()
    entry = workpiece("EN AC-46000").density
    ledger.given("cutter.teeth", 8.0, "number", "cell.toml:7 teeth", kind="cell")
    ledger.looked_up("part.density", entry, "density")
    ledger.derived("edge.path_error", 0.0, "length", "nominal position")
    ledger.assumed("edge.included_angle", "included_angle", "angle")
    kinds = {field: origin.kind for field, origin in ledger.by_field.items()}
    assert kinds == {
        "cutter.teeth": "cell",
        "part.density": "reference",
        "edge.path_error": "derived",
        "edge.included_angle": "assumption",
    }
    assert ledger.by_field["part.density"].text == describe(entry)
    assert ledger.by_field["part.density"].value == entry.value


def test_assumptions_carry_title_grade_and_size() -> None:
    ledger = Ledger()
    ledger.given("edge.burr_height", 4e-4, "length", "job.toml:3")
    ledger.assumed("rules.impact_allowance", "impact_allowance", "number")
    ledger.assumed("edge.burr_height_scatter", "burr_scatter", "length", scale=4e-4)
    first, second = ledger.assumptions()
    assert (first.title, first.grade) == (default("impact_allowance").title, default("impact_allowance").grade)
    assert second.value == pytest.approx(4e-4 * default("burr_scatter").value)


def test_a_recorded_result_keeps_its_object_and_is_found_by_field() -> None:
    ledger, result = Ledger(), np.float64(3.0)
    assert ledger.record("mount.stiffness", result, "stiffness", "robot and tool in series") is result
    assert ledger.by_field["mount.stiffness"].text == "robot and tool in series"


def test_gathered_figures_name_the_origin_of_each() -> None:
    ledger = Ledger()
    figures = [
        ledger.given("robot.path_accuracy", 1e-4, "length", "cell.toml:9 path_accuracy"),
        ledger.assumed("error_budget.part", "part_error", "length"),
    ]
    together = ledger.gather("edge.position_errors", figures, "length")
    text = ledger.origin_of(together).text  # type: ignore[union-attr]
    assert together.tolist() == [float(figure) for figure in figures]
    assert "0.10 mm cell.toml:9 path_accuracy" in text
    assert default("part_error").path in text
