"""Files are written whole or not at all, and never over another one unasked."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from finishplan.errors import OutputError
from finishplan.report.writing import write_text


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_text_is_written_as_it_is(tmp_path: Path) -> None:
    write_text(tmp_path / "plan.txt", "Kante 5 µm\nzwei\n")
    assert (tmp_path / "plan.txt").read_bytes() == "Kante 5 µm\nzwei\n".encode()
    assert names(tmp_path) == ["plan.txt"]
    assert stat.S_IMODE((tmp_path / "plan.txt").stat().st_mode) == 0o644


def test_an_existing_file_is_kept_unless_it_may_go(tmp_path: Path) -> None:
    path = tmp_path / "plan.txt"
    path.write_text("mine")
    with pytest.raises(OutputError, match=r"plan\.txt: exists already; .*--force"):
        write_text(path, "new")
    assert path.read_text() == "mine"
    write_text(path, "new", overwrite=True)
    assert path.read_text() == "new"


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"nowhere.*cannot be written: No such file"):
        write_text(tmp_path / "nowhere" / "plan.txt", "text")


def test_a_folder_in_place_of_the_file(tmp_path: Path) -> None:
    (tmp_path / "plan").mkdir()
    with pytest.raises(OutputError):
        write_text(tmp_path / "plan", "text", overwrite=True)
    assert names(tmp_path) == ["plan"]


@pytest.mark.parametrize("broken", ["fsync", "replace"])
def test_a_write_that_fails_leaves_the_old_file_and_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    path = tmp_path / "plan.txt"
    path.write_text("mine")

    def full(*arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, broken, full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_text(path, "new", overwrite=True)
    assert path.read_text() == "mine"
    assert names(tmp_path) == ["plan.txt"]
