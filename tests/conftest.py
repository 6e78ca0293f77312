"""What tests of several layers share."""

from __future__ import annotations

import functools
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from finishplan import cli

if TYPE_CHECKING:
    from finishplan.planning.plan import Plan

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

EXAMPLES = Path(__file__).parent.parent / "examples"
JOBS = sorted(path.name for path in EXAMPLES.glob("*.toml") if "\n[job]\n" in path.read_text())


@dataclass(frozen=True)
class Outcome:
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str


Command = Callable[..., Outcome]


@pytest.fixture
def examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a copy of the examples."""
    folder = tmp_path / "examples"
    shutil.copytree(EXAMPLES, folder)
    monkeypatch.chdir(folder)
    return folder


@functools.cache
def planned(name: str) -> Plan:
    """The plan of an example, made once."""
    from finishplan.job import load_job
    from finishplan.planning.plan import make_plan

    return make_plan(load_job(EXAMPLES / name))


@pytest.fixture(scope="session", params=JOBS)
def example(request: pytest.FixtureRequest) -> str:
    """Every example job in turn, by the name of its file."""
    name: str = request.param
    return name


@pytest.fixture(scope="session")
def example_plan() -> Callable[[str], Plan]:
    return planned


@pytest.fixture
def finishplan(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Run the command in this process, on a terminal 100 columns wide."""

    def run(*arguments: str, columns: int = 100) -> Outcome:
        monkeypatch.setattr(sys, "argv", ["finishplan", *arguments])
        monkeypatch.setenv("COLUMNS", str(columns))
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            cli.run()
        printed = capsys.readouterr()
        return Outcome(int(ended.value.code or 0), printed.out, printed.err)

    return run
