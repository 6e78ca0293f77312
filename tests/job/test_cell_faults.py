"""Every kind of fault a cell can hold: what is said about it, and where."""

from __future__ import annotations

from typing import Any

import pytest

# What stands in the file, what replaces it, how the message starts, and what it says to write.
FAULTS = [
    (
        'kind = "articulated"',
        'kind = "articulate"',
        'cell.toml:4: robot.kind: given "articulate"; wanted one of "articulated", "collaborative"',
        '"articulated"',
    ),
    (
        'payload = "20 kg"',
        'payload = "20 N"',
        'cell.toml:5: robot.payload: given "20 N"; wanted a mass in kg, g, t, lb, oz',
        '"2.5 kg"',
    ),
    ('payload = "20 kg"', "", "cell.toml:3: robot.payload: wanted this key: rated payload", 'payload = "20 kg"'),
    (
        'speed_min = "10000 rpm"',
        'speed_min = "50000 rpm"',
        'cell.toml:10: spindle[1].speed_max (spindle "A"): '
        'given "40000 rpm"; wanted a speed not below speed_min ("50000 rpm")',
        "",
    ),
    (
        'speed_min = "10000 rpm"',
        'speed_min = "10.000 rpm"',
        'cell.toml:9: spindle[1].speed_min (spindle "A"): given "10.000 rpm"; wanted a rotation of at least 60 rpm',
        '"18000 rpm"',
    ),
    (
        '{ speed = "40000 rpm"',
        '{ speed = "9000 rpm"',
        'cell.toml:11: spindle[1].curve (spindle "A"): given a list of 2; wanted points with strictly rising speeds',
        "",
    ),
    (
        'speed_min = "10000 rpm"\nspeed_max = "40000 rpm"',
        'speed_min = "20000 rpm"\nspeed_max = "50000 rpm"',
        'cell.toml:11: spindle[1].curve (spindle "A"): '
        'given a list of 2; wanted speeds within speed_min to speed_max ("20000 rpm" to "50000 rpm"), or '
        "covering all of it",
        "",
    ),
    (
        'power = "900 W"',
        'power = "900"',
        'cell.toml:13: spindle[1].curve[2].power (spindle "A"): given "900"; wanted a power in W, kW, hp',
        '"900 W"',
    ),
    (
        'compliance = "arm"',
        'compliance = "army"',
        'cell.toml:16: spindle[1].compliance (spindle "A"): given "army"; wanted a compliance of the cell: "arm"',
        '"arm"',
    ),
    (
        'force_min = "5 N"',
        'force_min = "60 N"',
        'cell.toml:22: compliance[1].force_max (compliance "arm"): '
        'given "60 N"; wanted a force above force_min ("60 N")',
        "",
    ),
    (
        'moving_mass = "2.5 kg"\n',
        "",
        'cell.toml:18: compliance[1].moving_mass (compliance "arm"): wanted the mass that follows the edge',
        'moving_mass = "1.5 kg"',
    ),
    (
        'kind = "force-controlled"',
        'kind = "axial"',
        'cell.toml:26: compliance[1].bandwidth (compliance "arm"): given "10 Hz"; wanted a bandwidth only for a force',
        "",
    ),
    (
        'bandwidth = "10 Hz"',
        "",
        'cell.toml:18: compliance[1].bandwidth (compliance "arm"): wanted the bandwidth of the force loop',
        'bandwidth = "10 Hz"',
    ),
    (
        'stroke = "8 mm"',
        'stroke = "0 in"',
        'cell.toml:23: compliance[1].stroke (compliance "arm"): given "0 in"; wanted a length of more than 0 in',
        '"0.4 mm"',
    ),
    (
        'family = "carbide burr aluminium cut"',
        'family = "carbide bur aluminium"',
        'cell.toml:30: tool[1].family (tool "burr 8"): '
        'given "carbide bur aluminium"; wanted a cutter family of the reference tables:',
        '"carbide burr aluminium cut"',
    ),
    (
        'spindle = "A"',
        'spindle = "B"',
        'cell.toml:35: tool[1].spindle (tool "burr 8"): given "B"; wanted a spindle of the cell: "A"',
        "",
    ),
    (
        'shank_diameter = "6 mm"',
        'shank_diameter = "6 in"',
        'cell.toml:36: tool[1].shank_diameter (tool "burr 8"): '
        'given "6 in"; wanted a shank between a tenth of and ten times the diameter ("8 mm")',
        "",
    ),
    (
        'edge_radius = "0.01 mm"',
        'edge_radius = "4 mm"',
        'cell.toml:37: tool[1].edge_radius (tool "burr 8"): '
        'given "4 mm"; wanted an edge radius below half the diameter ("8 mm")',
        "",
    ),
    (
        "teeth = 10",
        "teeth = 201",
        'cell.toml:32: tool[1].teeth (tool "burr 8"): given 201; wanted a number of at most 200',
        "12",
    ),
    (
        'title = "cell 1"',
        "",
        "cell.toml:1: title: wanted this key: what the cell is called",
        'title = "deburring cell"',
    ),
]


@pytest.mark.parametrize(("old", "new", "start", "write"), FAULTS)
def test_fault_in_cell_file(desk: Any, old: str, new: str, start: str, write: str) -> None:
    (fault,) = desk.faults(cell=[(old, new)])
    assert str(fault).startswith(start)
    assert fault.write == write
