"""What in a plan could hurt someone: figure, threshold and source of it, and who has to decide."""

from __future__ import annotations

from finishplan.hazards.context import Context
from finishplan.hazards.note import GROUPS, LEVELS, Amount, Comparison, Finding, Level, Note, Provision, Rule
from finishplan.hazards.questions import Question
from finishplan.hazards.review import DEFERRAL, RULES, Review, review, review_of

__all__ = [
    "DEFERRAL",
    "GROUPS",
    "LEVELS",
    "RULES",
    "Amount",
    "Comparison",
    "Context",
    "Finding",
    "Level",
    "Note",
    "Provision",
    "Question",
    "Review",
    "Rule",
    "review",
    "review_of",
]
