"""What must hold at any edge, cutter and device: monotony, limits and scaling of the forward model."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishplan.physics import burr_area, chamfer_leg, mean_chip_thickness
from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw
from finishplan.process.contact_balance import depth_after_pass

ROUNDING = 1 + 1e-9
"""Depths are settled to this; what must not rise may rise by no more."""

some = settings(max_examples=150, deadline=None)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Figures spread evenly over their ratios."""
    return st.floats(math.log(low), math.log(high)).map(math.exp)


class Cut(NamedTuple):
    """One edge under one tool, in the order of `depth_after_pass`, and the passes."""

    set_force: float
    device_stiffness: float
    aimed_depth: float
    path_error: float
    force_ratio: float
    chip_law: ChipLaw
    included_angle: float
    diameter: float
    spindle_speed: float
    feed: float
    teeth: int
    burr_section: float
    passes: int


power_laws = st.builds(
    PowerLaw,
    kc11=between(3e8, 3e9),
    mc=st.floats(0.0, 0.4),
    minimum_chip_thickness=between(3e-7, 1e-5),
    rake_factor=st.floats(0.8, 1.4),
    wear_factor=st.floats(1.0, 1.5),
)
affine_laws = st.builds(
    AffineLaw,
    slope=between(1e7, 6e7),
    intercept=between(5e2, 8e3),
    minimum_chip_thickness=between(3e-7, 1e-5),
    wear_factor=st.floats(1.0, 1.5),
)


def pressed_to(cut: Cut) -> Cut:
    """The cut with the constant force that reaches a depth, given as share of the cutter's diameter, in one pass."""
    reach = cut.set_force * cut.diameter
    chip = mean_chip_thickness(cut.feed / (cut.spindle_speed * cut.teeth), reach, cut.diameter)
    section = reach**2 * math.tan(cut.included_angle / 2)
    travel = math.pi * cut.diameter * cut.spindle_speed / cut.feed
    return cut._replace(set_force=cut.force_ratio * float(cut.chip_law.specific_force(chip)) * section / travel)


def cuts_with(laws: st.SearchStrategy[Any]) -> st.SearchStrategy[Cut]:
    """Cuts from a scratch to three tenths of the cutter's diameter."""
    return st.builds(
        Cut,
        set_force=between(2e-3, 0.3),
        device_stiffness=st.one_of(st.just(0.0), between(1.0, 1e6)),
        aimed_depth=between(1e-4, 1e-3),
        path_error=st.floats(-5e-4, 5e-4),
        force_ratio=between(0.3, 2.0),
        chip_law=laws,
        included_angle=st.floats(math.radians(40), math.radians(140)),
        diameter=between(4e-3, 20e-3),
        spindle_speed=between(100.0, 700.0),
        feed=between(5e-3, 0.3),
        teeth=st.integers(1, 24),
        burr_section=between(1e-9, 1e-7),
        passes=st.integers(1, 3),
    ).map(pressed_to)


cuts = cuts_with(st.one_of(power_laws, affine_laws))
constant_force = cuts.map(lambda cut: cut._replace(device_stiffness=0.0))


def depth(cut: Cut, **changes: Any) -> Any:
    cut = cut._replace(**changes)
    reached: Any = 0.0
    for _ in range(cut.passes):
        reached = depth_after_pass(reached, *cut[:10], cut.feed / (cut.spindle_speed * cut.teeth))
    return reached


def edge_break(cut: Cut, **changes: Any) -> Any:
    cut = cut._replace(**changes)
    section = depth(cut) ** 2 * math.tan(cut.included_angle / 2)
    return chamfer_leg(np.maximum(section - cut.burr_section, 0.0), cut.included_angle)


def harder(law: ChipLaw, factor: float) -> ChipLaw:
    if isinstance(law, PowerLaw):
        return replace(law, kc11=law.kc11 * factor)
    return replace(law, slope=law.slope * factor, intercept=law.intercept * factor)


@some
@given(cuts, st.floats(1.0, 3.0))
def test_more_force_never_leaves_a_smaller_break(cut: Cut, factor: float) -> None:
    assert edge_break(cut, set_force=cut.set_force * factor) * ROUNDING >= edge_break(cut)


@some
@given(cuts, st.floats(0.0, 1e-3))
def test_a_path_further_into_the_part_never_leaves_a_smaller_break(cut: Cut, shift: float) -> None:
    assert edge_break(cut, path_error=cut.path_error + shift) * ROUNDING >= edge_break(cut)


@some
@given(cuts, st.floats(0.0, 5e-4), st.floats(0.0, 2e-4), st.floats(1.0, 3.0))
def test_a_larger_burr_never_leaves_a_larger_break(cut: Cut, height: float, thickness: float, factor: float) -> None:
    small, large = burr_area(height, thickness), burr_area(height * factor, thickness * factor)
    assert edge_break(cut, burr_section=large) <= edge_break(cut, burr_section=small) * ROUNDING


@some
@given(constant_force, st.floats(1.0, 4.0))
def test_a_faster_feed_under_constant_force_never_leaves_a_larger_break(cut: Cut, factor: float) -> None:
    assert edge_break(cut, feed=cut.feed * factor) <= edge_break(cut) * ROUNDING


@some
@given(cuts, st.floats(1.0, 2.0))
def test_a_harder_material_never_leaves_a_larger_break(cut: Cut, factor: float) -> None:
    assert edge_break(cut, chip_law=harder(cut.chip_law, factor)) <= edge_break(cut) * ROUNDING


@some
@given(cuts, st.floats(1.0, 2.0))
def test_a_worn_edge_never_leaves_a_larger_break(cut: Cut, factor: float) -> None:
    worn = replace(cut.chip_law, wear_factor=cut.chip_law.wear_factor * factor)
    assert edge_break(cut, chip_law=worn) <= edge_break(cut) * ROUNDING


@some
@given(cuts)
def test_a_further_pass_never_leaves_a_smaller_break(cut: Cut) -> None:
    assert edge_break(cut, passes=cut.passes + 1) * ROUNDING >= edge_break(cut)


@some
@given(cuts_with(power_laws.map(lambda law: replace(law, mc=0.0))))
def test_a_spring_without_stiffness_gives_constant_force(cut: Cut) -> None:
    """With kc the same for every chip, S = N F pi D n/(r kc vf); a spring of 1e-9 N/m is none."""
    law = cut.chip_law
    constant = law.kc11 * law.rake_factor * law.wear_factor
    section = (
        cut.passes * cut.set_force * math.pi * cut.diameter * cut.spindle_speed
        / (cut.force_ratio * constant * cut.feed)
    )  # fmt: skip
    for stiffness in (0.0, 1e-9):
        reached = depth(cut, device_stiffness=stiffness)
        assert reached**2 * math.tan(cut.included_angle / 2) == pytest.approx(section, rel=1e-8)


@some
@given(cuts)
def test_a_spring_that_does_not_yield_follows_the_path(cut: Cut) -> None:
    path = max(cut.aimed_depth + cut.path_error, 0.0)
    assert depth(cut, set_force=0.0, device_stiffness=1e18) == pytest.approx(path, rel=1e-8, abs=1e-12)


@some
@given(cuts)
def test_the_break_lies_between_constant_force_and_position(cut: Cut) -> None:
    """A spring on the way to the aimed depth pulls the depth from the constant-force one towards the path."""
    once = cut._replace(passes=1)
    loose, path = depth(once, device_stiffness=0.0), cut.aimed_depth + cut.path_error
    held = depth(once)
    assert min(loose, path) / ROUNDING <= held <= max(loose, path) * ROUNDING


@some
@given(st.lists(cuts_with(power_laws), min_size=2, max_size=6))
def test_an_element_of_arrays_equals_its_scalar(several: list[Cut]) -> None:
    alone = [depth(cut, passes=1) for cut in several]
    laws = [cut.chip_law for cut in several]
    law = PowerLaw(**{field.name: np.array([getattr(one, field.name) for one in laws]) for field in fields(PowerLaw)})
    columns = {name: np.array([getattr(cut, name) for cut in several]) for name in Cut._fields if name != "chip_law"}
    assert depth(Cut(**columns, chip_law=law), passes=1) == pytest.approx(alone, rel=1e-9)


@some
@given(constant_force, st.floats(0.2, 5.0))
def test_force_and_hardness_in_proportion_change_nothing(cut: Cut, factor: float) -> None:
    scaled = depth(cut, set_force=cut.set_force * factor, chip_law=harder(cut.chip_law, factor))
    assert scaled == pytest.approx(depth(cut), rel=1e-8)


@some
@given(cuts, st.floats(0.2, 5.0))
def test_speed_and_feed_in_proportion_change_nothing(cut: Cut, factor: float) -> None:
    scaled = depth(cut, spindle_speed=cut.spindle_speed * factor, feed=cut.feed * factor)
    assert scaled == pytest.approx(depth(cut), rel=1e-8)


@some
@given(cuts_with(power_laws), st.floats(0.3, 3.0))
def test_an_edge_of_another_size(cut: Cut, factor: float) -> None:
    """All lengths times s, forces times s^(2 - mc), springs times s^(1 - mc): depths times s."""
    law = cut.chip_law
    assert isinstance(law, PowerLaw)
    scaled = depth(
        cut,
        set_force=cut.set_force * factor ** (2 - law.mc),
        device_stiffness=cut.device_stiffness * factor ** (1 - law.mc),
        aimed_depth=cut.aimed_depth * factor,
        path_error=cut.path_error * factor,
        chip_law=replace(law, minimum_chip_thickness=law.minimum_chip_thickness * factor),
        diameter=cut.diameter * factor,
        feed=cut.feed * factor,
    )
    assert scaled == pytest.approx(factor * depth(cut), rel=1e-8, abs=1e-15)
