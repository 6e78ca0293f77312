"""Saw blades, cut-off wheels and grit routers of a cell: what they need, cannot have, and where they may stand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from finishplan.errors import Fault
from finishplan.job import load_job

JOB = """\
[job]
title = "panel"

[part]
material = "GFRP"

[cell]
file = "cell.toml"

[[contour]]
name = "side"
length = "1200 mm"
thickness = "4 mm"
tolerance = "1 mm"
protrusion = "6 mm"

[[edge]]
name = "rim"
length = "1200 mm"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.3 mm", upper = "1 mm" }
tools = ["burr 8"]
"""

CELL = """\
title = "cell"

[robot]
kind = "articulated"
payload = "150 kg"

[[spindle]]
name = "stiff"
speed_min = "2000 rpm"
speed_max = "24000 rpm"
mass = "12 kg"
curve = [{ speed = "12000 rpm", power = "3000 W" }]

[[tool]]
name = "saw 160"
family = "carbide-tipped saw blade"
diameter = "160 mm"
teeth = 48
kerf = "2.4 mm"
body_thickness = "1.6 mm"
flange_diameter = "60 mm"
overhang = "30 mm"
rated_speed = "9000 rpm"
spindle = "stiff"

[[tool]]
name = "burr 8"
family = "carbide burr composite cut"
diameter = "8 mm"
teeth = 6
overhang = "24 mm"
rated_speed = "30000 rpm"
spindle = "stiff"

[[abrasive]]
name = "wheel 125"
family = "diamond cut-off wheel"
diameter = "125 mm"
width = "2 mm"
grits = ["D301"]
rated_speed = "12200 rpm"
spindle = "stiff"

[[abrasive]]
name = "grit 12"
family = "diamond-grit router"
diameter = "12 mm"
width = "20 mm"
overhang = "36 mm"
grits = ["D501"]
rated_speed = "30000 rpm"
spindle = "stiff"
"""

Edit = tuple[str, str]
LoadFaults = Callable[[Path], list[Fault]]


def written(folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> Path:
    for name, text, edits in (("job.toml", JOB, job), ("cell.toml", CELL, cell)):
        for old, new in edits:
            assert text.count(old) == 1, f"{old!r} must stand once in the text"
            text = text.replace(old, new)
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "job.toml"


def test_all_of_them_suit_a_contour_and_no_disc_an_edge(tmp_path: Path) -> None:
    loaded = load_job(written(tmp_path, job=[('tools = ["burr 8"]\n', "")]))
    contour, edge = loaded.job.contour[0], loaded.job.edge[0]
    assert [tool.name for tool in loaded.tools_for(contour)] == ["saw 160", "burr 8"]
    assert [one.name for one in loaded.abrasives_for(contour)] == ["wheel 125", "grit 12"]
    assert [tool.name for tool in loaded.tools_for(edge)] == ["burr 8"]
    assert loaded.abrasives_for(edge) == []
    assert contour.protrusion == pytest.approx(6e-3)


FAULTS = {
    "no kerf": (
        ('kerf = "2.4 mm"\n', ""),
        "tool[1].kerf",
        'wanted the kerf of a carbide-tipped saw blade; write kerf = "2.4 mm"',
    ),
    "no body": (
        ('body_thickness = "1.6 mm"\n', ""),
        "tool[1].body_thickness",
        "the body_thickness of a carbide-tipped saw blade",
    ),
    "body too thick": (('"1.6 mm"', '"2.6 mm"'), "tool[1].body_thickness", 'thinner than the kerf ("2.4 mm")'),
    "flange too large": (
        ('"60 mm"', '"140 mm"'),
        "tool[1].flange_diameter",
        '0.05 to 0.8 times the diameter ("160 mm")',
    ),
    "flange too small": (('"60 mm"', '"2 mm"'), "tool[1].flange_diameter", "flanges of 0.05 to 0.8 times"),
    "kerf no disc has": (
        ('kerf = "2.4 mm"\nbody_thickness = "1.6 mm"\n', 'kerf = "200 mm"\nbody_thickness = "160 mm"\n'),
        "tool[1].kerf",
        'a kerf of at most 0.2 times the diameter ("160 mm")',
    ),
    "body no disc has": (('"1.6 mm"', '"0.01 mm"'), "tool[1].body_thickness", "at least 0.2 times that width"),
    "grit of another system": (('grits = ["D301"]', 'grits = ["P60"]'), "abrasive[1].grits[1]", "a grit from D601"),
    "no grits": (
        ('grits = ["D501"]\n', ""),
        "abrasive[2].grits",
        'the grits of a diamond-grit router; write grits = ["D601", "D126"]',
    ),
    "kerf of a burr": (
        ("teeth = 6\n", 'teeth = 6\nkerf = "1 mm"\n'),
        "tool[2].kerf",
        "a kerf only for cutters of the kind saw blade",
    ),
    "shank of a saw": (
        ("teeth = 48\n", 'teeth = 48\nshank_diameter = "30 mm"\n'),
        "tool[1].shank_diameter",
        "only for cutters of the kind burr",
    ),
    "no overhang": (
        ('overhang = "36 mm"\n', ""),
        "abrasive[2].overhang",
        'the overhang of a diamond-grit router; write overhang = "40 mm"',
    ),
    "grit longer than the tool": (('"36 mm"', '"15 mm"'), "abrasive[2].overhang", 'no shorter than the grit ("20 mm")'),
    "overhang of a wheel": (
        ('width = "2 mm"\n', 'width = "2 mm"\noverhang = "30 mm"\n'),
        "abrasive[1].overhang",
        "of the kind grit router",
    ),
    "wheel body too thick": (
        ('width = "2 mm"\n', 'width = "2 mm"\nbody_thickness = "3 mm"\n'),
        "abrasive[1].body_thickness",
        'no thicker than the width ("2 mm")',
    ),
    "unknown grit": (('grits = ["D301"]', 'grits = ["D300"]'), "abrasive[1].grits[1]", "a grit from D601 to D126"),
}


@pytest.mark.parametrize(("edit", "key", "told"), FAULTS.values(), ids=FAULTS)
def test_a_fault_in_the_cell(tmp_path: Path, load_faults: LoadFaults, edit: Edit, key: str, told: str) -> None:
    (fault,) = load_faults(written(tmp_path, cell=[edit]))
    assert fault.key.split(" ")[0] == key
    assert told in str(fault)


@pytest.mark.parametrize(
    ("limit", "told"),
    [
        ("20 degC", "of at least 40 degC and at most 1500 degC"),
        ("50 degF", "of at least 104 degF and at most 2732 degF"),
    ],
)
def test_a_temperature_no_edge_could_be_held_to(tmp_path: Path, load_faults: LoadFaults, limit: str, told: str) -> None:
    edit = ('protrusion = "6 mm"\n', f'protrusion = "6 mm"\ntemperature_limit = "{limit}"\n')
    (fault,) = load_faults(written(tmp_path, job=[edit]))
    assert fault.key.split(" ")[0] == "contour[1].temperature_limit"
    assert told in str(fault)


def test_a_saw_named_for_an_edge_is_refused(tmp_path: Path, load_faults: LoadFaults) -> None:
    (fault,) = load_faults(written(tmp_path, job=[('tools = ["burr 8"]', 'tools = ["saw 160"]')]))
    assert fault.key.split(" ")[0] == "edge[1].tools[1]"
    assert "wanted a cutter, belt, wheel or brush" in str(fault)


def test_a_saw_on_a_device_that_yields_is_refused(tmp_path: Path, load_faults: LoadFaults) -> None:
    soft = ('mass = "12 kg"\n', 'mass = "12 kg"\ncompliance = "axis"\n')
    device = (
        '[[abrasive]]\nname = "wheel 125"',
        '[[compliance]]\nname = "axis"\nkind = "force-controlled"\nforce_min = "5 N"\nforce_max = "90 N"\n'
        'stroke = "20 mm"\nbandwidth = "10 Hz"\nmass = "4 kg"\nmoving_mass = "3 kg"\n[[abrasive]]\nname = "wheel 125"',
    )
    named = ('protrusion = "6 mm"\n', 'protrusion = "6 mm"\ntools = ["saw 160"]\n')
    (fault,) = load_faults(written(tmp_path, job=[named], cell=[soft, device]))
    assert "a tool on a spindle without a compliance device" in str(fault)
