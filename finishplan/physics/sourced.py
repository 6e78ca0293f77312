"""Figures of laws and standards with the clause they stand in, and what governs where they disagree."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Grade: TypeAlias = Literal["published", "read-off", "derived", "common practice", "from memory"]

INCH: Final = 0.0254
FOOT: Final = 0.3048
FOOT_PER_MINUTE: Final = FOOT / 60

SHIFT: Final = 8 * 3600.0
"""Duration of the reference shift [s]."""

ROUNDING: Final = 1e-9
"""Relative slack at a row's edge: 19 in written as 0.4826 m must not fall over it by a rounding."""


@dataclass(frozen=True)
class Sourced:
    """One figure in SI with the publication and clause it is taken from."""

    value: float
    source: str
    grade: Grade = "published"


@dataclass(frozen=True)
class Governed:
    """A quantity that several publications set differently: all of them, and the stricter one.

    Attributes
    ----------
    what : str
        The quantity in words, with its unit in brackets.
    stricter : {"lowest", "highest"}
        Which of the figures asks for more.
    figures : tuple of Sourced
        Every figure, none of them dropped.
    """

    what: str
    stricter: Literal["lowest", "highest"]
    figures: tuple[Sourced, ...]

    @property
    def governing(self) -> Sourced:
        """The stricter figure; of equal ones the first."""
        ordered = sorted(self.figures, key=lambda figure: figure.value)
        if self.stricter == "lowest":
            return ordered[0]
        largest = ordered[-1].value
        return next(figure for figure in ordered if figure.value == largest)

    @property
    def disagree(self) -> bool:
        """Whether the publications differ at all."""
        return len({figure.value for figure in self.figures}) > 1
