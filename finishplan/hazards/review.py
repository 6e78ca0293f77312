"""Every rule on one plan: the notes, gravest first, and what a reviewer would still have to be told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from finishplan.hazards.constituent_rules import CONSTITUENT_RULES
from finishplan.hazards.context import Context
from finishplan.hazards.control_rules import CONTROL_RULES
from finishplan.hazards.dust_rules import DUST_RULES
from finishplan.hazards.extraction_rules import EXTRACTION_RULES
from finishplan.hazards.fire_rules import FIRE_RULES
from finishplan.hazards.gathering import context_of
from finishplan.hazards.guard_rules import GUARD_RULES
from finishplan.hazards.noise_rules import NOISE_RULES
from finishplan.hazards.note import GROUPS, LEVELS, Note, Rule, level_of
from finishplan.hazards.questions import Question, question
from finishplan.hazards.tool_rules import TOOL_RULES
from finishplan.planning.plan import Plan

RULES: Final[tuple[Rule[Context], ...]] = (
    *DUST_RULES, *CONSTITUENT_RULES, *EXTRACTION_RULES, *FIRE_RULES,
    *TOOL_RULES, *GUARD_RULES, *NOISE_RULES, *CONTROL_RULES,
)  # fmt: skip
"""Every rule."""

DEFERRAL: Final = (
    "These notes point to what has to be asked. The local code, the authority in charge and the licensed practice "
    "responsible for the cell decide; nothing here takes their place."
)


@dataclass(frozen=True)
class Review:
    """The notes of a plan, by group and then the gravest first."""

    context: Context
    notes: tuple[Note, ...]

    def __post_init__(self) -> None:
        if not self.notes:
            raise ValueError("a plan without hazard notes: every cell moves, turns and makes noise")

    @property
    def gravest(self) -> tuple[Note, ...]:
        """The same notes, the gravest first whatever their group."""
        return tuple(sorted(self.notes, key=lambda note: LEVELS.index(note.level)))

    @property
    def questions(self) -> tuple[Question, ...]:
        """What job and cell file leave open, each key once, table by table."""
        asking: dict[str, list[str]] = {}
        for note in self.notes:
            for key in note.finding.asks:
                asking.setdefault(key, []).append(note.rule.id)
        found = [question(key, tuple(rules), self.context) for key, rules in asking.items()]
        return tuple(sorted(found, key=lambda each: each.place))


def review(plan: Plan) -> Review:
    """Hazard notes of a plan.

    Parameters
    ----------
    plan : Plan
        A planned part, feasible or not.

    Returns
    -------
    Review
        Notes and open questions; there is no plan without notes.

    Raises
    ------
    TypeError
        A step of a process that no facts are known of.
    """
    return review_of(context_of(plan))


def review_of(context: Context) -> Review:
    """Hazard notes of facts however they were gathered."""
    found = [(rule, rule.find(context)) for rule in RULES]
    notes = [
        Note(rule, finding, level_of(rule.when_broken, finding.compared, context.margin))
        for rule, finding in found
        if finding is not None
    ]
    ordered = sorted(notes, key=lambda note: (GROUPS.index(note.rule.group), LEVELS.index(note.level)))
    return Review(context, tuple(ordered))
