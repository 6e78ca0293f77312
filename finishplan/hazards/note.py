"""What a hazard note is made of: a rule, what it found, and the level that follows from the figures."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, Generic, Literal, TypeAlias, TypeVar

from finishplan.process.limits import TOUCHING

Level: TypeAlias = Literal["stop", "fix before running", "check", "note"]
Group: TypeAlias = Literal["dust", "fire", "guarding", "noise", "control of the process", "handling"]

LEVELS: Final[tuple[Level, ...]] = ("stop", "fix before running", "check", "note")
"""Levels, the gravest first."""

GROUPS: Final[tuple[Group, ...]] = ("dust", "fire", "guarding", "noise", "control of the process", "handling")

Facts = TypeVar("Facts", contravariant=True)


@dataclass(frozen=True)
class Amount:
    """A figure told beside the one a note compares: SI with a key of `finishplan.units.KINDS`, or words."""

    label: str
    value: float | str
    kind: str | None = None
    high: float | None = None


@dataclass(frozen=True)
class Comparison:
    """A figure against its threshold, in the SI unit of `kind`; None stands for what nobody has stated.

    A threshold of the sense "counts from" forbids nothing: from it on there is something to look into.
    `low` and `high` are the band of a figure that is estimated.
    """

    what: str
    value: float | None
    bound: float | None
    kind: str | None
    sense: Literal["at most", "at least", "counts from"]
    low: float | None = None
    high: float | None = None

    @property
    def band(self) -> tuple[float, float] | None:
        """Utilisation at the kinder and at the harsher end of the figure; None while something is not known."""
        if self.value is None or self.bound is None:
            return None
        ends = [self._used(end, self.bound) for end in (self.low, self.value, self.high) if end is not None]
        return min(ends), max(ends)

    @property
    def utilisation(self) -> float | None:
        """Share of the threshold that the figure itself takes up."""
        return None if self.value is None or self.bound is None else self._used(self.value, self.bound)

    def _used(self, value: float, bound: float) -> float:
        """Value over an upper, bound over a lower threshold; of levels in decibels, the energies."""
        if self.kind == "sound level":
            value, bound = (10 ** (level / 10) for level in (value, bound))
        used, allowed = (bound, value) if self.sense == "at least" else (value, bound)
        if allowed > 0:
            return used / allowed
        return math.inf if used > 0 else 0.0


@dataclass(frozen=True)
class Provision:
    """Something that has to be there: what is stated, what is wanted, and whether the one is the other."""

    what: str
    stated: str | None
    wanted: str
    met: bool | None

    @property
    def utilisation(self) -> float | None:
        """Nothing of the threshold where it is there, beyond any where it is not."""
        return None if self.met is None else 0.0 if self.met else math.inf

    @property
    def band(self) -> tuple[float, float] | None:
        """The same as a band."""
        used = self.utilisation
        return None if used is None else (used, used)


@dataclass(frozen=True)
class Finding:
    """What a rule found in a cell.

    Attributes
    ----------
    compared : Comparison or Provision
        The figure it warns about with its threshold.
    where : tuple of str
        Features or tools that are meant; none where it is the cell as a whole.
    also : tuple of Amount
        Further figures, for a reviewer to work from.
    assumed : tuple of str
        What was taken for granted.
    asks : tuple of str
        Keys of job and cell file that would settle it and are not there.
    source : str
        A closer clause than that of the rule.
    """

    compared: Comparison | Provision
    where: tuple[str, ...] = ()
    also: tuple[Amount, ...] = ()
    assumed: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    source: str = ""


@dataclass(frozen=True)
class Rule(Generic[Facts]):
    """One rule: what it is about, where it comes from, who decides, and how it finds its figure.

    `when_broken` is the level of a figure beyond its threshold: "stop" where that can throw something,
    set something on fire or let somebody reach a turning tool; "fix before running" where a provision
    falls short; "check" where the threshold asks for a measurement and does not forbid. `find` answers
    None where the rule does not apply.
    """

    id: str
    group: Group
    title: str
    source: str
    decides: str
    check: str
    find: Callable[[Facts], Finding | None]
    when_broken: Level = "fix before running"


@dataclass(frozen=True)
class Note:
    """A rule that applies, with what it found and how grave it is."""

    rule: Rule[Any]
    finding: Finding
    level: Level

    @property
    def source(self) -> str:
        """The clause of the figure, or of the rule."""
        return self.finding.source or self.rule.source


def level_of(when_broken: Level, compared: Comparison | Provision, margin: float) -> Level:
    """Level of a finding, from its figures alone.

    Parameters
    ----------
    when_broken : str
        Level of a figure beyond its threshold at both ends of its band.
    compared : Comparison or Provision
        Figure and threshold.
    margin : float
        Share of the threshold kept in hand [1].

    Returns
    -------
    str
        "check" where a figure is not known, lies within the margin or has the threshold in its band;
        "note" where the margin is kept.
    """
    band = compared.band
    if band is None:
        return "check"
    kindest, harshest = band
    if kindest > 1 + TOUCHING:
        return when_broken
    return "check" if harshest > 1 - margin + TOUCHING else "note"
