"""Exhaust volumes of grinding, polishing and disc machines from the tables of 29 CFR 1910.94(b).

The regulation gives inches and cubic feet per minute; rows hold them as printed and answer in SI.
"Over a to b" takes in b and leaves out a. Nothing is extrapolated beyond a table.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from finishplan.physics.arguments import chosen
from finishplan.physics.sourced import FOOT, INCH, ROUNDING, Grade

WheelKind: TypeAlias = Literal[
    "grinding wheel",
    "cutting-off wheel",
    "buffing wheel",
    "polishing wheel",
    "scratch-brush wheel",
    "horizontal single-spindle disc",
    "horizontal double-spindle disc",
    "vertical-spindle disc covered",
    "vertical-spindle disc not covered",
    "belt",
]

CUBIC_FOOT_PER_MINUTE: Final = FOOT**3 / 60


@dataclass(frozen=True)
class ExhaustRow:
    """One row of a table: sizes over one edge up to the next, the width it is meant for, the flow.

    Attributes
    ----------
    over, up_to : float
        Edges of the row; the size read is the diameter, for belts the width [m].
    flow : float
        Minimum exhaust volume [m3/s].
    width : float or None
        Widest wheel the flow is meant for; None where the table has no such column [m].
    outlets : int
        Exhaust take-offs around the hood, or the same spread evenly.
    grade : str
        How well the row is known.
    """

    over: float
    up_to: float
    flow: float
    width: float | None = None
    outlets: int = 1
    grade: Grade = "published"


@dataclass(frozen=True)
class ExhaustTable:
    """A table of the regulation: its clause, the size it is read by, and its rows in order."""

    name: str
    source: str
    size: Literal["diameter", "width"]
    rows: tuple[ExhaustRow, ...]

    def row(self, size: float) -> ExhaustRow:
        """The row a size [m] falls in; ValueError names the table's range for any other."""
        found = next((row for row in self.rows if row.over < size <= row.up_to * (1 + ROUNDING)), None)
        if found is None:
            last = self.rows[-1].up_to
            raise ValueError(
                f"wheel_exhaust_flow: {self.size} must be above 0 and at most {last:g} [m] ({last / INCH:g} in) "
                f"for {self.source}, given {size:g}; the table is not extrapolated, ask the authority in charge"
            )
        return found


@dataclass(frozen=True)
class ExhaustRequirement:
    """Minimum exhaust of one machine with the row it comes from.

    Attributes
    ----------
    flow : float
        Minimum exhaust volume, raised for a wheel wider than the row's [m3/s].
    row : ExhaustRow
        The row read, with its own flow and the number of outlets.
    table : ExhaustTable
        The table it stands in, with the clause.
    """

    flow: float
    row: ExhaustRow
    table: ExhaustTable

    @property
    def widened(self) -> bool:
        """Whether the width raised the flow above the row's own."""
        return self.flow > self.row.flow


def _rows(
    edges: tuple[float, ...],
    flows: tuple[float, ...],
    widths: tuple[float, ...] | None = None,
    outlets: tuple[int, ...] | None = None,
) -> tuple[ExhaustRow, ...]:
    """Rows from the printed columns: upper edges [in], flows [ft3/min], widths [in], outlets."""
    lower = (0.0, *edges[:-1])
    return tuple(
        ExhaustRow(
            low * INCH,
            high * INCH,
            flow * CUBIC_FOOT_PER_MINUTE,
            None if widths is None else widths[index] * INCH,
            1 if outlets is None else outlets[index],
        )
        for index, (low, high, flow) in enumerate(zip(lower, edges, flows, strict=True))
    )


_GRINDING = ExhaustTable(
    "G-4",
    "29 CFR 1910.94(b)(3)(ii), Table G-4, grinding and abrasive cutting-off wheels",
    "diameter",
    _rows((9, 16, 19, 24, 30, 36), (220, 390, 500, 610, 880, 1200), widths=(1.5, 2, 3, 4, 5, 6)),
)
_POLISHING = ExhaustTable(
    "G-5",
    "29 CFR 1910.94(b)(3)(iii), Table G-5, buffing, polishing and scratch-brush wheels",
    "diameter",
    _rows((9, 16, 19, 24, 30, 36), (300, 500, 610, 740, 1040, 1200), widths=(2, 3, 4, 5, 6, 6)),
)
_SINGLE_DISC = ExhaustTable(
    "G-6",
    "29 CFR 1910.94(b)(3)(iv), Table G-6, horizontal single-spindle disc grinders",
    "diameter",
    _rows((12, 19, 30, 36), (220, 390, 610, 880)),
)
_DOUBLE_DISC = ExhaustTable(
    "G-7",
    "29 CFR 1910.94(b)(3)(v), Table G-7, horizontal double-spindle disc grinders; 8 CCR 5152, Table V-3",
    "diameter",
    _rows((19, 25, 30, 53, 72), (610, 880, 1200, 1770, 6280)),
)
_VERTICAL_EDGES: Final = (20.0, 30.0, 53.0, 72.0)
_VERTICAL: Final = "29 CFR 1910.94(b)(3)(vi), Table G-8; 8 CCR 5152, Table V-4, vertical-spindle disc grinders, "
_COVERED_DISC = ExhaustTable(
    "G-8",
    _VERTICAL + "half or more of the disc covered",
    "diameter",
    _rows(_VERTICAL_EDGES, (500, 780, 1770, 3140), outlets=(1, 2, 2, 2)),
)
_BARE_DISC = ExhaustTable(
    "G-8",
    _VERTICAL + "disc not covered",
    "diameter",
    _rows(_VERTICAL_EDGES, (780, 1480, 3530, 6010), outlets=(2, 2, 4, 5)),
)
_BELT_ROWS = _rows((3, 5, 7, 9, 11, 13), (220, 300, 390, 500, 610, 740))
_BELT = ExhaustTable(
    "G-9",
    "29 CFR 1910.94(b)(3)(vii), Table G-9; 8 CCR 5152, Table V-5, grinding and polishing belts",
    "width",
    (*_BELT_ROWS[:4], *(replace(row, grade="from memory") for row in _BELT_ROWS[4:])),
)

WHEEL_EXHAUST_TABLES: Final[Mapping[str, ExhaustTable]] = {
    "grinding wheel": _GRINDING,
    "cutting-off wheel": _GRINDING,
    "buffing wheel": _POLISHING,
    "polishing wheel": _POLISHING,
    "scratch-brush wheel": _POLISHING,
    "horizontal single-spindle disc": _SINGLE_DISC,
    "horizontal double-spindle disc": _DOUBLE_DISC,
    "vertical-spindle disc covered": _COVERED_DISC,
    "vertical-spindle disc not covered": _BARE_DISC,
    "belt": _BELT,
}
"""The regulation's tables by kind of machine."""


def wheel_exhaust(kind: WheelKind, diameter: float | None, width: float | None = None) -> ExhaustRequirement:
    """Minimum exhaust of a machine, with the row and clause it comes from.

    A wheel wider than its row gets the row's flow times the ratio of the widths; a narrower one
    gets no reduction. The regulation states this for Table G-4; Table G-5 is read the same way,
    which asks for more.

    Parameters
    ----------
    kind : WheelKind
        Kind of machine.
    diameter : float or None
        Diameter of wheel or disc; not read for a belt [m].
    width : float or None
        Width of wheel or belt; not read for a disc [m].

    Returns
    -------
    ExhaustRequirement
        Flow [m3/s], row, table and clause.

    Raises
    ------
    ValueError
        An unknown kind, a size outside the table, or a size missing that the table needs.

    Notes
    -----
    Work outside the hood needs more (29 CFR 1910.94(b)(3)(ix)): see `hood_flow`.
    """
    table = chosen(WHEEL_EXHAUST_TABLES, kind, "wheel_exhaust_flow: kind")
    row = table.row(_given(kind, table.size, {"diameter": diameter, "width": width}[table.size]))
    if row.width is None:
        return ExhaustRequirement(row.flow, row, table)
    ratio = _given(kind, "width", width) / row.width
    return ExhaustRequirement(row.flow * max(1.0, ratio), row, table)


def wheel_exhaust_flow(kind: WheelKind, diameter: float | None, width: float | None = None) -> float:
    """Minimum exhaust volume of a machine by 29 CFR 1910.94(b), Tables G-4 to G-9 [m3/s].

    Arguments and errors are those of `wheel_exhaust`, which also names the row.
    """
    return wheel_exhaust(kind, diameter, width).flow


def _given(kind: str, name: str, value: float | None) -> float:
    if value is None or not value > 0:
        raise ValueError(f"wheel_exhaust_flow: {name} must be above 0 [m] for {kind!r}, given {value}")
    return value
