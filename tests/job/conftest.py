"""A job without faults to spoil one line at a time, and what loading says about the result."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from finishplan.errors import Fault, JobError
from finishplan.job.loading import load_job

JOB = """\
[job]
title = "housing"
batch = 200
margin = "20 %"

[part]
material = "EN AC-46000"
cutting_force_factor = 1.1

[cell]
file = "cell.toml"

[[edge]]
name = "rim"
length = "850 mm"
included_angle = "90 deg"
tools = ["burr 8"]
[edge.burr]
height = "0.4 mm"
root_thickness = "0.1 mm"
height_scatter = "0.2 mm"
[edge.edge_break]
lower = "0.2 mm"
upper = "0.6 mm"

[[edge]]
name = "bore"
drawing = "housing.dxf"
layer = "BORE"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { measure = "radius", lower = "0.1 mm", upper = "0.4 mm" }
"""

CELL = """\
title = "cell 1"

[robot]
kind = "articulated"
payload = "20 kg"

[[spindle]]
name = "A"
speed_min = "10000 rpm"
speed_max = "40000 rpm"
curve = [
  { speed = "10000 rpm", power = "300 W" },
  { speed = "40000 rpm", power = "900 W" },
]
mass = "2 kg"
compliance = "arm"

[[compliance]]
name = "arm"
kind = "force-controlled"
force_min = "5 N"
force_max = "60 N"
stroke = "8 mm"
moving_mass = "2.5 kg"
mass = "3 kg"
bandwidth = "10 Hz"

[[tool]]
name = "burr 8"
family = "carbide burr aluminium cut"
diameter = "8 mm"
teeth = 10
overhang = "30 mm"
rated_speed = "45000 rpm"
spindle = "A"
shank_diameter = "6 mm"
edge_radius = "0.01 mm"
"""

Edit = tuple[str, str]


class Desk:
    """Writes a job and its cell with some lines changed, and loads them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.job_path = folder / "job.toml"

    def write(self, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> Path:
        self.job_path.write_text(changed(JOB, job), encoding="utf-8")
        (self.folder / "cell.toml").write_text(changed(CELL, cell), encoding="utf-8")
        return self.job_path

    def faults(self, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> list[Fault]:
        return faults_of(self.write(job, cell))


def changed(text: str, edits: Sequence[Edit]) -> str:
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} must stand once in the text"
        text = text.replace(old, new)
    return text


def faults_of(path: Path) -> list[Fault]:
    with pytest.raises(JobError) as caught:
        load_job(path)
    return list(caught.value.faults)


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.chdir(tmp_path)
    return Desk(Path())


@pytest.fixture
def load_faults() -> Callable[[Path], list[Fault]]:
    return faults_of
