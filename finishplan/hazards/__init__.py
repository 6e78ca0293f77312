"""What in a plan could hurt someone, and who has to decide on it."""

from __future__ import annotations

from finishplan.hazards.cautions import cautions_for

__all__ = ["cautions_for"]
