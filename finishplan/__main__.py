"""Run finishplan as ``python -m finishplan``."""

from finishplan.cli import run

run()
