"""Row model of hazard notes: what the plan, the sheet and every machine-readable form show of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import singledispatch

from finishplan.hazards import DEFERRAL, GROUPS, LEVELS, Amount, Comparison, Level, Note, Provision, Question, Review
from finishplan.hazards.context import Work
from finishplan.process.limits import TOUCHING
from finishplan.report.figures import Figure
from finishplan.units import System

NOT_STATED = "not stated"
YES = "yes"
COUNTS_FROM = "counts from"

_WORDS = {False: ("met", "met", "not met"), True: ("below it", "beyond it", "beyond it")}
"""A figure within, within at one end of its band, and beyond; of bounds, and of thresholds that count."""


@dataclass(frozen=True)
class NoteRow:
    """Everything shown of one note. `state` says in words how figure and threshold stand to each other."""

    id: str
    group: str
    level: Level
    title: str
    what: str
    figure: Figure
    band: tuple[Figure, Figure] | None
    sense: str
    threshold: Figure
    utilisation: float | None
    state: str
    where: tuple[str, ...]
    also: tuple[tuple[str, Figure, Figure | None], ...]
    source: str
    check: str
    decides: str
    assumed: tuple[str, ...]
    asks: tuple[str, ...]

    def figure_text(self, system: System) -> str:
        """The figure, with its band where it has one."""
        if self.figure.value is None:
            return NOT_STATED
        if self.band is None:
            return self.figure.text(system)
        low, high = (end.text(system) for end in self.band)
        return f"{self.figure.text(system)} ({low} to {high})"

    def threshold_text(self, system: System) -> str:
        """The threshold with its sense."""
        if self.threshold.value is None:
            return f"{self.sense} what follows from the keys asked for"
        return f"{self.sense} {self.threshold.text(system)}".strip()

    @property
    def settled(self) -> bool:
        """Whether figure and threshold are both there to compare."""
        return self.figure.value is not None and self.threshold.value is not None

    def short(self, system: System) -> str:
        """Level, title, figure and threshold on one line."""
        wanted = "bound not stated" if self.threshold.value is None else self._wanted(system)
        return f"{self.level}: {self.title}: {self.figure_text(system)}, {wanted}"

    def brief(self, system: System) -> str:
        """Title with whatever of figure and threshold there is to tell; of something that is there, that alone."""
        band = "" if self.band is None else " to ".join(end.text(system) for end in self.band)
        figure = "" if self.figure.value is None else band or self.figure.text(system)
        plain = self.threshold.value in (None, YES) or (figure and not self.sense)
        wanted = "" if plain else self._wanted(system)
        told = ", ".join(filter(None, (figure, wanted)))
        return f"{self.title} ({told})" if told else self.title

    def _wanted(self, system: System) -> str:
        threshold = self.threshold_text(system)
        return threshold if self.sense == COUNTS_FROM else f"wanted {threshold}"


@dataclass(frozen=True)
class HazardRows:
    """A sheet of hazard notes for review."""

    title: str
    system: System
    header: tuple[Figure, ...]
    works: tuple[tuple[Figure, ...], ...]
    notes: tuple[NoteRow, ...]
    questions: tuple[Question, ...]
    deferral: str = DEFERRAL

    @property
    def groups(self) -> tuple[tuple[str, tuple[NoteRow, ...]], ...]:
        """Notes by group; groups without any are left out."""
        by_group = ((group, tuple(note for note in self.notes if note.group == group)) for group in GROUPS)
        return tuple((group, notes) for group, notes in by_group if notes)

    @property
    def counts(self) -> tuple[tuple[Level, int], ...]:
        """How many notes there are of every level."""
        return tuple((level, sum(note.level == level for note in self.notes)) for level in LEVELS)


def hazard_rows(review: Review, system: System) -> HazardRows:
    """Rows of a review."""
    facts = review.context
    assumed = " (assumed)" if facts.assumed_shift else ""
    return HazardRows(
        title=facts.title,
        system=system,
        header=(
            Figure("material", "material", facts.material),
            Figure("cell", "cell", facts.cell),
            Figure("shift", f"shift{assumed}", facts.shift, "duration"),
            Figure("cycle_time", "cycle time", facts.cycle, "time"),
            Figure("parts_per_shift", "parts in a shift", int(facts.parts_per_shift)),
            Figure("most_parts_per_shift", "with no time lost between them", int(facts.most_parts_per_shift)),
            Figure("dust_of_a_shift", "dust of those", facts.shift_mass, "dust mass"),
            Figure("dust_rate", "dustiest step", facts.peak_rate, "mass rate"),
        ),
        works=tuple(_work(work) for work in facts.works),
        notes=tuple(note_row(note) for note in review.notes),
        questions=review.questions,
    )


def _work(work: Work) -> tuple[Figure, ...]:
    """What a reviewer has to know of one step."""
    return (
        Figure("feature", "feature", work.feature),
        Figure("process", "process", work.process),
        Figure("tool", "with", work.tool.name),
        Figure("dust", "dust", work.dust),
        Figure("dust_of_a_part", "dust of a part", work.mass, "dust mass"),
        Figure("contact_time", "in contact", work.contact, "time"),
        Figure("contact_force", "force", work.force, "force"),
        Figure("planned_speed", "planned speed", work.tool.planned_rotation, "rotation"),
        Figure("free_running_speed", "running free", work.tool.free_rotation, "rotation"),
        Figure("marked_speed", "marked", work.tool.rated_rotation, "rotation"),
        Figure("power", "power, at most", work.power, "power"),
    )


def cautions(review: Review, system: System) -> tuple[str, ...]:
    """Every note on a line of its own, the gravest first, and who has the last word."""
    return (*(note_row(note).short(system) for note in review.gravest), DEFERRAL)


def cautions_in_short(review: Review, system: System) -> tuple[str, ...]:
    """The same for reading: what is settled and not kept with its figures, the rest gathered."""
    notes = [note_row(note) for note in review.gravest]
    answered, waiting = [note for note in notes if note.settled], [note for note in notes if not note.settled]
    lines = [note.short(system) for note in answered if note.level != "note"]
    kept = [note.brief(system) for note in answered if note.level == "note"]
    if kept:
        lines.append(f"met with margin: {'; '.join(kept)}")
    for group in GROUPS:
        open_ = [note.brief(system) for note in waiting if note.group == group]
        if open_:
            lines.append(f"open, {group}: {'; '.join(open_)}")
    return (*lines, _sheet(len(notes), len(review.questions)), DEFERRAL)


def _sheet(notes: int, keys: int) -> str:
    """Where the rest is told."""
    asking = f", and the lines to write for {keys} keys that are not stated" if keys else ""
    return f"finishplan hazards JOB prints all {notes} notes with source, what to check and who decides{asking}"


def note_row(note: Note) -> NoteRow:
    """Row of one note."""
    rule, finding = note.rule, note.finding
    compared = finding.compared
    figure, band, threshold, sense = _shown(compared)
    return NoteRow(
        id=rule.id,
        group=rule.group,
        level=note.level,
        title=rule.title,
        what=compared.what,
        figure=figure,
        band=band,
        sense=sense,
        threshold=threshold,
        utilisation=compared.utilisation,
        state=_state(compared),
        where=finding.where,
        also=tuple(_beside(amount) for amount in finding.also),
        source=note.source,
        check=rule.check,
        decides=rule.decides,
        assumed=finding.assumed,
        asks=finding.asks,
    )


@singledispatch
def _shown(compared: object) -> tuple[Figure, tuple[Figure, Figure] | None, Figure, str]:
    """Figure, band, threshold and sense of what is compared."""
    raise TypeError(f"no figure for {type(compared).__name__}")


@_shown.register
def _(compared: Comparison) -> tuple[Figure, tuple[Figure, Figure] | None, Figure, str]:
    def of(key: str, value: float | None) -> Figure:
        return Figure(key, compared.what, value, compared.kind)

    ends = [end for end in (compared.low, compared.value, compared.high) if end is not None]
    wide = len(ends) > 1 and min(ends) < max(ends)
    band = (of("figure_low", min(ends)), of("figure_high", max(ends))) if wide else None
    return of("figure", compared.value), band, of("threshold", compared.bound), compared.sense


@_shown.register
def _(compared: Provision) -> tuple[Figure, tuple[Figure, Figure] | None, Figure, str]:
    return (
        Figure("figure", compared.what, compared.stated),
        None,
        Figure("threshold", compared.what, compared.wanted),
        "",
    )


def _state(compared: Comparison | Provision) -> str:
    """Met or not, and by how much, at the harsher end of the figure."""
    if compared.band is None:
        return "not known"
    kindest, harshest = compared.band
    inside, torn, beyond = _WORDS[isinstance(compared, Comparison) and compared.sense == COUNTS_FROM]
    if harshest <= 1 + TOUCHING:
        return f"{inside}, {max(1 - harshest, 0.0):.0%} in hand" if harshest else inside
    if kindest <= 1 + TOUCHING:
        return f"{torn} at one end of the band only"
    return beyond if math.isinf(kindest) else f"{beyond} by a factor of {kindest:.3g}"


def _beside(amount: Amount) -> tuple[str, Figure, Figure | None]:
    key = "".join(letter if letter.isalnum() else "_" for letter in amount.label.lower())
    high = amount.high if amount.high != amount.value else None
    upper = None if high is None else Figure(f"{key}_high", amount.label, high, amount.kind)
    return amount.label, Figure(key, amount.label, amount.value, amount.kind), upper


def beside_text(amount: tuple[str, Figure, Figure | None], system: System) -> str:
    """A further figure with its label, and its band where it has one."""
    label, figure, high = amount
    return f"{label}: {figure.text(system)}" + (f" to {high.text(system)}" if high else "")
