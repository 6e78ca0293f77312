"""How deep a tool settles into an edge: cutting force on one side, the pressing device on the other.

One relation serves rigid and compliant tools. The section removed, burr included, is treated as
an equivalent chamfer of depth a along the bisector, S = a^2 tan(theta/2). A pass that starts at
the depth p of the pass before and goes x deeper removes dS = tan(theta/2) x (x + 2 p), and

    r_n kc(h(x)) dS vf/(pi D n)  =  F_0 + k_d (e + a_0 - p - x)

with the normal force the cut needs on the left and the force of the device on the right. The left
side rises in x and the right side does not, so there is one root. For a frozen kc it is the root
of a quadratic; the iteration below renews kc and takes the step a Newton iteration on ln x would.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar

import numpy as np

from finishplan.formula import INFINITY, Array, formula, paused
from finishplan.physics import mean_chip_thickness
from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw

CLOSE_ENOUGH = 1e-4
"""Relative change of the depth step in the last iteration. What is left goes with its square: under 1e-9,
but for samples on a kink of the chip law or at half the tool's diameter, where it is under 1e-5."""

FEW = 0.5
"""Share of the samples from which on only those that still change go on: picking them out takes its time."""

MOST_ITERATIONS = 60
"""No sample is known that needs ten; the bound only rules out that one runs for ever."""

FIRST_GUESS = 0.05
"""Depth step the iteration starts from, as a share of the cutter's diameter: about what edges are broken by."""

FAR = 2.0
"""Ratio by which the depth step grows or shrinks in one iteration at most, once it has come near."""

BLOCK = 16_384
"""Samples worked on together: their arrays stay in the processor's cache."""

SMALLEST = 1e-100
"""Stands for none at all where it is divided by."""


@formula(
    "r_n kc(h(x)) tan(theta/2) x (x + 2 p) vf/(pi D n) = max(0, F_0 + k_d (e + a_0 - p - x)); a = p + x",
    units={
        "depth_before": "m",
        "set_force": "N",
        "device_stiffness": "N/m",
        "aimed_depth": "m",
        "path_error": "m",
        "force_ratio": "1",
        "chip_law": "-",
        "included_angle": "rad",
        "diameter": "m",
        "spindle_speed": "1/s",
        "feed": "m/s",
        "feed_per_tooth": "m",
    },
    returns="m",
    source="force balance at the edge, with the chip law of the material",
    domain={"depth_before": (0.0, INFINITY), "device_stiffness": (0.0, INFINITY)},
)
def depth_after_pass(
    depth_before: Array,
    set_force: Array,
    device_stiffness: Array,
    aimed_depth: Array,
    path_error: Array,
    force_ratio: Array,
    chip_law: ChipLaw,
    included_angle: Array,
    diameter: Array,
    spindle_speed: Array,
    feed: Array,
    feed_per_tooth: Array,
) -> Array:
    """Depth along the bisector after one more pass over an edge.

    Parameters
    ----------
    depth_before : array_like
        Depth p reached by the passes before, 0 for the first [m].
    set_force : array_like
        Force F_0 the device gives at the aimed depth; 0 for a rigid tool [N].
    device_stiffness : array_like
        Stiffness k_d of the suspension, or of robot and tool in series for a rigid tool [N/m].
    aimed_depth : array_like
        Depth a_0 the path is programmed for [m].
    path_error : array_like
        Error e of the path, positive into the part [m].
    force_ratio : array_like
        Normal over tangential force r_n [1].
    chip_law : PowerLaw or AffineLaw
        Specific cutting force over chip thickness [-].
    included_angle : array_like
        Angle between the faces [rad].
    diameter : array_like
        Cutting diameter at the edge [m].
    spindle_speed : array_like
        Spindle speed [1/s].
    feed : array_like
        Feed along the edge [m/s].
    feed_per_tooth : array_like
        Feed per tooth [m].

    Returns
    -------
    array_like
        Depth p + x after the pass [m]; p where the device does not reach the edge.
    """
    pressing = set_force + device_stiffness * (path_error + aimed_depth - depth_before)
    per_section = force_ratio * feed / (np.pi * diameter * spindle_speed)
    balance = _Balance(
        pressing=np.maximum(pressing, SMALLEST),
        per_force=per_section * np.tan(included_angle / 2) * diameter * diameter,
        twice_before=2 * depth_before / diameter,
        stiffness=np.maximum(device_stiffness * diameter, SMALLEST),
        feed_per_tooth=np.maximum(feed_per_tooth, SMALLEST),
        chip_law=chip_law,
    )
    with paused():
        step = _in_blocks(balance) * diameter
    return np.where(pressing > 0, depth_before + step, depth_before)[()]


@dataclass(frozen=True, eq=False)
class _Balance:
    """The inputs of the balance in the form the iteration uses; every field a scalar or broadcast.

    Depths are counted in diameters. A pass that does not reach the edge presses with a trace.
    """

    pressing: Array
    per_force: Array
    twice_before: Array
    stiffness: Array
    feed_per_tooth: Array
    chip_law: ChipLaw

    def shape(self) -> tuple[int, ...]:
        return np.broadcast_shapes(*(np.shape(value) for value in _numbers(self)))

    def at(self, chosen: Array, shape: tuple[int, ...]) -> _Balance:
        """The chosen samples, counted along the flattened shape."""
        law = _chosen(self.chip_law, chosen, shape)
        return replace(_chosen(self, chosen, shape), chip_law=law)


Record = TypeVar("Record", bound=_Balance | PowerLaw | AffineLaw)


def _numbers(record: _Balance | ChipLaw) -> list[Array]:
    """Every numeric field, those of the chip law included."""
    values = [getattr(record, field.name) for field in fields(record)]
    return [number for value in values for number in (_numbers(value) if isinstance(value, ChipLaw) else [value])]


def _chosen(record: Record, chosen: Array, shape: tuple[int, ...]) -> Record:
    """The record with its arrays cut down to the chosen samples; scalars stay as they are."""
    values = {field.name: getattr(record, field.name) for field in fields(record)}
    arrays = {name: value for name, value in values.items() if np.ndim(value)}
    flat: dict[str, Any] = {name: np.broadcast_to(value, shape).reshape(-1)[chosen] for name, value in arrays.items()}
    return replace(record, **flat)


def _in_blocks(balance: _Balance) -> Array:
    """Depth step of every sample, worked out block by block."""
    shape = balance.shape()
    size = int(np.prod(shape))
    if size <= BLOCK:
        return _settled(balance)
    steps = np.empty(size)
    for start in range(0, size, BLOCK):
        block = slice(start, start + BLOCK)
        steps[block] = _settled(balance.at(block, shape))
    return steps.reshape(shape)


def _settled(balance: _Balance) -> Array:
    """Depth step of every sample of a block."""
    step, moving = _improved(balance, _begun(balance))
    for _ in range(MOST_ITERATIONS):
        if np.count_nonzero(moving) <= FEW * np.size(moving):
            break
        step, moving = _improved(balance, step)
    if not np.ndim(step):
        return step
    flat, shape = step.reshape(-1), step.shape
    going = np.flatnonzero(moving)
    for _ in range(MOST_ITERATIONS):
        if not going.size:
            break
        flat[going], moving = _improved(balance.at(going, shape), flat[going])
        going = going[moving]
    return flat.reshape(shape)


def _begun(balance: _Balance) -> Array:
    """A depth step near the root: one step of Newton's iteration on its logarithm, from wherever it starts."""
    ratio, flatness = _towards(balance, np.float64(FIRST_GUESS))
    return FIRST_GUESS * ratio ** (1 / (1 + flatness))


def _improved(balance: _Balance, step: Array) -> tuple[Array, Array]:
    """One more step of the same iteration, and whether the sample still changes.

    So near the root the power r^(1/(1 + f)) may give way to its Pade approximant, which is right to the second
    order in r - 1.
    """
    ratio, flatness = _towards(balance, step)
    # what the device does not reach is left out: a trace of a force would take long to settle
    moving = (np.abs(ratio - 1) > CLOSE_ENOUGH) & (balance.pressing > SMALLEST)
    near = np.clip(ratio, 1 / FAR, FAR)
    rest = 2 + flatness
    return step * (flatness + rest * near) / (rest + flatness * near), moving


def _towards(balance: _Balance, step: Array) -> tuple[Array, Array]:
    """Where the specific force at a depth step leads, over that step; and the slope f of its logarithm, negative."""
    share = np.minimum(step, 0.5)
    chip = mean_chip_thickness(balance.feed_per_tooth, share, 1.0)
    specific = balance.chip_law.specific_force(chip)
    cut = balance.per_force * specific
    linear = balance.twice_before * cut + balance.stiffness
    root = np.sqrt(linear * linear + 4 * balance.pressing * cut)
    fixed = 2 * balance.pressing / (linear + root)
    # at the root d ln(x)/d ln(kc) = -sensitivity; d ln(kc)/d ln(x) is that of the law times that of the chip
    sensitivity = cut * (fixed + balance.twice_before) / root
    slope = balance.chip_law.log_slope(chip, specific) * _chip_slope(balance, share, chip)
    return fixed / step, slope * sensitivity


def _chip_slope(balance: _Balance, share: Array, chip: Array) -> Array:
    """Slope of ln(h) over ln(x): 1 less mean over thickest chip, fz sin(phi); 0 from half the diameter on."""
    thickest = 2 * balance.feed_per_tooth * np.sqrt(share * (1 - share))
    return np.where(share < 0.5, 1 - chip / thickest, 0.0)
