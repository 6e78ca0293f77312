"""Coverage: the pad, step and overhang a surface is worked with."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Coverage:
    """How a region is to be covered.

    Attributes
    ----------
    pad_radius : float
        Radius of the pad, or half the width of a contact that is not round [m].
    step : float
        Largest distance between lines, at most the pad's diameter [m].
    overhang : float
        How far the pad may stand over a border, at most its radius [m].
    direction : float or None
        Direction of the lines from the x axis [rad]; None takes the one with the fewest turns,
        and among equals the shortest.
    border_pass : bool
        Whether a pass follows every border. The lines then end before it, so that its track takes
        the place of their ends; without it they leave scallops at the borders.
    longest_link : float
        A way from one group of lines to the next that is longer is made in the air, so that the
        tool does not work a finished place again [m].
    """

    pad_radius: float
    step: float
    overhang: float = 0.0
    direction: float | None = None
    border_pass: bool = True
    longest_link: float = math.inf

    def __post_init__(self) -> None:
        if not 0 < self.pad_radius < math.inf:
            raise ValueError(f"pad_radius must be above zero [m], given {self.pad_radius:g}")
        if not 0 < self.step <= 2 * self.pad_radius:
            raise ValueError(f"step must be above zero and at most the pad's diameter [m], given {self.step:g}")
        if not 0 <= self.overhang <= self.pad_radius:
            raise ValueError(f"overhang must be between zero and pad_radius [m], given {self.overhang:g}")

    @property
    def inset(self) -> float:
        """Distance of the pad's centre from the border [m]."""
        return self.pad_radius - self.overhang

    @property
    def line_end(self) -> float:
        """Distance the lines keep from a border pass [m].

        Half a step makes the border pass one more line of the pattern. A step beyond the radius
        leaves less, or places between two lines and the border pass would stay untouched.
        """
        return min(self.step / 2, self.pad_radius - self.step / 2) if self.border_pass else 0.0
