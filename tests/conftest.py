"""What tests of several layers share."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from finishplan import cli

EXAMPLES = Path(__file__).parent.parent / "examples"


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
