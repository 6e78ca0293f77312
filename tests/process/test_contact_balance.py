"""The contact balance against a root finder one sample at a time, closed forms, shapes and blocks."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from finishplan.formula import recording
from finishplan.process import contact_balance
from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw
from finishplan.process.contact_balance import BLOCK, depth_after_pass

Samples = Mapping[str, np.ndarray]

ALUMINIUM = PowerLaw(kc11=600e6, mc=0.25, minimum_chip_thickness=2.4e-6, rake_factor=1.2, wear_factor=1.15)
CONSTANT = PowerLaw(kc11=2e9, mc=0.0, minimum_chip_thickness=2.4e-6, rake_factor=1.0, wear_factor=1.0)
FIBREBOARD = AffineLaw(slope=31.44e6, intercept=3.36e3, minimum_chip_thickness=5e-6, wear_factor=1.1)
BASE: dict[str, Any] = {
    "depth_before": 0.0,
    "set_force": 12.0,
    "device_stiffness": 300.0,
    "aimed_depth": 0.35e-3,
    "path_error": 0.1e-3,
    "force_ratio": 1.2,
    "chip_law": ALUMINIUM,
    "included_angle": math.pi / 2,
    "diameter": 8e-3,
    "spindle_speed": 500.0,
    "feed": 0.06,
    "feed_per_tooth": 15e-6,
}


def depth(**changes: Any) -> Any:
    return depth_after_pass(**(BASE | changes))


def power_law(sample: Mapping[str, float], chip: float) -> float:
    thickness = max(chip, sample["thinnest"]) / 1e-3
    return sample["kc11"] * thickness ** -sample["mc"] * 1.2 * sample["wear"]


def affine_law(sample: Mapping[str, float], chip: float) -> float:
    return (sample["slope"] + sample["intercept"] / max(chip, sample["thinnest"])) * sample["wear"]


def root_of(sample: Mapping[str, float], before: float, law: Callable[[Mapping[str, float], float], float]) -> float:
    """Depth after a pass, in plain floats with a bracketing root finder."""
    diameter, turns = sample["diameter"], sample["turns"]
    share = sample["ratio"] * math.tan(sample["angle"] / 2) * sample["feed"] / (math.pi * diameter * turns)
    per_tooth = sample["feed"] / (turns * sample["teeth"])

    def device(step: float) -> float:
        return sample["force"] + sample["stiffness"] * (sample["error"] + sample["aimed"] - before - step)

    def residual(step: float) -> float:
        chip = per_tooth * 2 * step / diameter / math.acos(1 - 2 * step / diameter) if step > 0 else 0.0
        return share * law(sample, chip) * step * (step + 2 * before) - device(step)

    if device(0.0) <= 0:
        return before
    return before + brentq(residual, 0.0, diameter / 2, xtol=1e-19, rtol=1e-14)


def draw(count: int, stiffness: tuple[float, ...], force: tuple[float, float]) -> Samples:
    random = np.random.default_rng(7)
    return {
        "force": random.uniform(*force, count),
        "stiffness": random.choice(stiffness, count),
        "error": random.uniform(-0.3e-3, 0.3e-3, count),
        "aimed": random.uniform(0.2e-3, 0.8e-3, count),
        "ratio": random.uniform(0.3, 1.8, count),
        "angle": np.radians(random.uniform(40, 140, count)),
        "diameter": random.uniform(6e-3, 12e-3, count),
        "turns": random.uniform(200, 600, count),
        "feed": random.uniform(0.02, 0.2, count),
        "teeth": random.integers(2, 20, count).astype(float),
        "kc11": random.uniform(300e6, 3e9, count),
        "mc": random.uniform(0.0, 0.4, count),
        "slope": random.uniform(10e6, 60e6, count),
        "intercept": random.uniform(1e3, 8e3, count),
        # a quarter of the thinnest chips lies above the chips that arise, so that the edge rubs
        "thinnest": random.uniform(0.5e-6, 8e-6, count),
        "wear": random.uniform(1.0, 1.5, count),
    }


def law_of(samples: Samples, law: str) -> ChipLaw:
    if law == "power":
        return PowerLaw(samples["kc11"], samples["mc"], samples["thinnest"], 1.2, samples["wear"])
    return AffineLaw(samples["slope"], samples["intercept"], samples["thinnest"], samples["wear"])


def after_pass(samples: Samples, before: Any, law: str) -> np.ndarray:
    return depth_after_pass(
        before, samples["force"], samples["stiffness"], samples["aimed"], samples["error"], samples["ratio"],
        law_of(samples, law), samples["angle"], samples["diameter"], samples["turns"], samples["feed"],
        samples["feed"] / (samples["turns"] * samples["teeth"]),
    )  # fmt: skip


SCALAR_LAWS = {"power": power_law, "affine": affine_law}
FORCES = {"power": (0.5, 12.0), "affine": (0.05, 1.5)}


@pytest.mark.parametrize("law", ["power", "affine"])
@pytest.mark.parametrize(
    ("stiffness", "pressed"),
    [
        pytest.param((0.0,), True, id="constant force"),
        pytest.param((10.0, 100.0, 1e3), True, id="springs"),
        pytest.param((1e5, 1e6, 1e9), False, id="rigid"),
    ],
)
def test_each_sample_against_a_root_finder(law: str, stiffness: tuple[float, ...], pressed: bool) -> None:
    samples = draw(150, stiffness, FORCES[law] if pressed else (0.0, 0.0))
    rows = [{name: float(values[i]) for name, values in samples.items()} for i in range(150)]
    reached: Any = 0.0
    expected = np.zeros(150)
    for _ in range(3):
        reached = after_pass(samples, reached, law)
        expected = np.array(
            [root_of(row, before, SCALAR_LAWS[law]) for row, before in zip(rows, expected, strict=True)]
        )
        assert np.all(expected < samples["diameter"] / 2)
        assert reached == pytest.approx(expected, rel=1e-9)


def test_the_samples_rub_and_miss_the_edge_too() -> None:
    """The comparison above means little unless it meets chips on both sides of the rubbing limit, and misses."""
    rubbing = []
    for law, force in FORCES.items():
        samples = draw(150, (0.0,), force)
        share = after_pass(samples, 0.0, law) / samples["diameter"]
        chip = samples["feed"] / (samples["turns"] * samples["teeth"]) * 2 * share / np.arccos(1 - 2 * share)
        rubbing.append(chip < samples["thinnest"])
    assert 0.1 < np.mean(rubbing) < 0.9
    rigid = draw(150, (1e5,), (0.0, 0.0))
    assert np.any(after_pass(rigid, 0.0, "power") == 0.0)


def section(reached: Any) -> Any:
    return reached**2 * math.tan(BASE["included_angle"] / 2)


def test_constant_force_and_constant_specific_force() -> None:
    """Without spring and size effect every pass takes F pi D n/(r kc vf)."""
    per_pass = 12.0 * math.pi * 8e-3 * 500.0 / (1.2 * 2e9 * 0.06)
    reached: Any = 0.0
    for count in range(1, 6):
        reached = depth(depth_before=reached, device_stiffness=0.0, chip_law=CONSTANT)
        assert section(reached) == pytest.approx(count * per_pass, rel=1e-9)


def test_constant_force_with_a_size_effect_takes_a_little_less_each_pass() -> None:
    depths = [0.0]
    for _ in range(5):
        depths.append(depth(depth_before=depths[-1], device_stiffness=0.0))
    taken = np.diff(section(np.array(depths)))
    assert np.all(np.diff(taken) <= 1e-12 * taken[0])
    assert 0.6 * taken[0] < taken[-1] < 0.95 * taken[0]


@pytest.mark.parametrize("law", [ALUMINIUM, FIBREBOARD], ids=["power law", "affine law"])
@pytest.mark.parametrize("error", [-0.2e-3, 0.0, 0.3e-3])
def test_an_unyielding_tool_follows_its_path(law: ChipLaw, error: float) -> None:
    reached = depth(set_force=0.0, device_stiffness=1e16, path_error=error, chip_law=law)
    assert reached == pytest.approx(BASE["aimed_depth"] + error, rel=1e-9)


def test_a_second_pass_of_a_rigid_tool_takes_what_deflection_left() -> None:
    first = depth(set_force=0.0, device_stiffness=2e4)
    second = depth(set_force=0.0, device_stiffness=2e4, depth_before=first)
    path = BASE["aimed_depth"] + BASE["path_error"]
    assert first < second < path
    assert path - second < 0.5 * (path - first)


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"set_force": 0.0, "device_stiffness": 0.0}, id="no force"),
        pytest.param({"set_force": 0.0, "path_error": -0.5e-3}, id="path outside the part"),
        pytest.param({"set_force": 0.0, "depth_before": 0.6e-3}, id="deeper than the path"),
        pytest.param({"feed": 0.0, "feed_per_tooth": 0.0, "set_force": 0.0, "device_stiffness": 0.0}, id="at rest"),
    ],
)
def test_without_contact_nothing_is_removed(changes: dict[str, float]) -> None:
    assert depth(**changes) == changes.get("depth_before", 0.0)


def test_scalars_stay_scalars() -> None:
    assert isinstance(depth(), float)
    assert isinstance(depth(set_force=0.0, device_stiffness=0.0), float)


@pytest.mark.parametrize("size", [1, BLOCK - 1, BLOCK, BLOCK + 1, 2 * BLOCK + 3])
def test_blocks_leave_no_seam(size: int) -> None:
    forces = np.resize(np.linspace(0.0, 40.0, 11), size)
    single = depth(set_force=np.linspace(0.0, 40.0, 11))
    reached = depth(set_force=forces)
    assert reached.shape == (size,)
    assert reached == pytest.approx(np.resize(single, size), rel=1e-9)


@pytest.mark.parametrize("block", [1, 5, 6, 7, 23, 24, 25])
def test_shapes_broadcast_whatever_the_block(block: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(contact_balance, "BLOCK", block)
    force, error = np.linspace(1, 40, 6)[:, None], np.linspace(-0.1e-3, 0.1e-3, 4)
    law = replace(ALUMINIUM, kc11=np.linspace(4e8, 8e8, 6)[:, None], wear_factor=np.linspace(1, 1.4, 4))
    reached = depth(set_force=force, path_error=error, chip_law=law)
    assert reached.shape == (6, 4)
    for i in range(6):
        for j in range(4):
            one = replace(ALUMINIUM, kc11=law.kc11[i, 0], wear_factor=law.wear_factor[j])
            wanted = depth(set_force=force[i, 0], path_error=error[j], chip_law=one)
            assert reached[i, j] == pytest.approx(wanted, rel=1e-9)


def test_arrays_of_one_field_alone() -> None:
    """Any single argument may carry the samples; the others stay scalars."""
    numbers = [name for name, value in BASE.items() if isinstance(value, float) and value]
    for name in numbers:
        values = BASE[name] * np.array([0.9, 1.0, 1.1])
        reached = depth(**{name: values})
        assert reached.shape == (3,)
        assert reached[1] == pytest.approx(depth(), rel=1e-9)


def test_no_samples_at_all() -> None:
    assert depth(set_force=np.array([])).shape == (0,)


def test_a_recording_holds_the_pass_and_not_its_trial_steps() -> None:
    with recording() as record:
        reached = depth()
    assert [step.formula.name for step in record.steps] == ["depth_after_pass"]
    assert record.steps[0].result is reached


@pytest.mark.parametrize(("name", "value"), [("depth_before", -1e-6), ("device_stiffness", -1.0)])
def test_meaningless_inputs_are_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match=name):
        depth(**{name: value})


@pytest.mark.parametrize("law", [ALUMINIUM, FIBREBOARD], ids=["power law", "affine law"])
def test_a_cut_as_deep_as_the_cutter_comes_to_an_end(law: ChipLaw, monkeypatch: pytest.MonkeyPatch) -> None:
    bounded = [0]
    chip_thickness = contact_balance.mean_chip_thickness

    def counted(*given: Any) -> Any:
        bounded[0] += 1
        if bounded[0] > 500:
            raise AssertionError("no end after 500 steps")
        return chip_thickness(*given)

    monkeypatch.setattr(contact_balance, "mean_chip_thickness", counted)
    diameter = BASE["diameter"]
    full = float(law.specific_force(chip_thickness(BASE["feed_per_tooth"], diameter, diameter)))
    force = 1.2 * full * diameter**2 * 0.06 / (math.pi * diameter * 500.0)
    reached = depth(set_force=force * (1 + np.linspace(-0.01, 0.01, 201)), device_stiffness=0.0, chip_law=law)
    assert np.all(np.diff(reached) > 0)
