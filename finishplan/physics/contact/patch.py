"""What a contact comes to: its size, its pressures and how far the bodies approach."""

from __future__ import annotations

from dataclasses import dataclass

from finishplan.formula import Array


@dataclass(frozen=True, eq=False)
class LineContact:
    """A strip pressed along a line.

    Attributes
    ----------
    half_width : array_like
        Half the width of the strip [m].
    peak_pressure : array_like
        Pressure on its middle line [Pa].
    mean_pressure : array_like
        Load over area [Pa].
    approach : array_like
        How far the wheel's axis comes closer [m].
    """

    half_width: Array
    peak_pressure: Array
    mean_pressure: Array
    approach: Array


@dataclass(frozen=True, eq=False)
class PointContact:
    """A round patch pressed about a point.

    Attributes
    ----------
    radius : array_like
        Radius of the patch [m].
    peak_pressure : array_like
        Pressure in its middle [Pa].
    mean_pressure : array_like
        Load over area [Pa].
    approach : array_like
        How far the bodies come closer [m].
    """

    radius: Array
    peak_pressure: Array
    mean_pressure: Array
    approach: Array
