"""Every kind of fault the abrasives of a cell can hold: what is said about it, and where."""

from __future__ import annotations

from typing import Any

import pytest

# What stands in the file, what replaces it, where the message says it is, what it says, and what it says to write.
FAULTS = [
    (
        'family = "orbital disc"',
        'family = "orbital disk"',
        'cell.toml:32: abrasive[1].family (abrasive "orbital 150")',
        'given "orbital disk"; wanted an abrasive family of the reference tables: "orbital disc", "coated disc"',
        '"orbital disc"',
    ),
    (
        'grits = ["P60", "P120"]\n',
        "",
        'cell.toml:42: abrasive[2].grits (abrasive "belt 50")',
        "wanted the grits of a coated belt",
        'grits = ["P24", "P500"]',
    ),
    (
        'family = "buff"',
        'family = "buff"\ngrits = ["P120"]',
        'cell.toml:73: abrasive[5].grits (abrasive "mop")',
        "given a list of 1; wanted no grits, for the grain of a buff is not graded",
        "",
    ),
    (
        'grits = ["P36", "P80"]',
        'grits = ["P36", "P240"]',
        'cell.toml:55: abrasive[3].grits[2] (abrasive "fibre 125")',
        'given "P240"; wanted a grit from P24 to P120, which a fibre disc has',
        '"P120"',
    ),
    (
        'grits = ["P36", "P80"]',
        'grits = ["P16", "P80"]',
        'cell.toml:55: abrasive[3].grits[1] (abrasive "fibre 125")',
        'given "P16"; wanted a grit from P24 to P120, which a fibre disc has',
        '"P24"',
    ),
    (
        'grits = ["P36", "P80"]',
        'grits = ["P36", "80"]',
        'cell.toml:55: abrasive[3].grits[2] (abrasive "fibre 125")',
        'given "80"; wanted a grit from P24 to P120, which a fibre disc has',
        '"P80"',
    ),
    (
        'grits = ["P36", "P80"]',
        'grits = ["P36", 80]',
        'cell.toml:55: abrasive[3].grits[2] (abrasive "fibre 125")',
        "given 80; wanted text in double quotes",
        '"P120"',
    ),
    (
        'grits = ["P36", "P80"]',
        "grits = []",
        'cell.toml:55: abrasive[3].grits (abrasive "fibre 125")',
        "given a list of 0; wanted at least one entry",
        'grits = ["P120", "P180"]',
    ),
    (
        'width = "50 mm"\n',
        "",
        'cell.toml:42: abrasive[2].width (abrasive "belt 50")',
        "wanted the width of a coated belt",
        'width = "25 mm"',
    ),
    (
        'orbit = "5 mm"\n',
        "",
        'cell.toml:30: abrasive[1].orbit (abrasive "orbital 150")',
        "wanted the orbit of an orbital disc",
        'orbit = "5 mm"',
    ),
    (
        'orbit = "5 mm"',
        'orbit = "5 mm"\nwidth = "10 mm"',
        'cell.toml:37: abrasive[1].width (abrasive "orbital 150")',
        'given "10 mm"; wanted a width only for abrasives of the kind belt, wheel, brush, buff, cut-off or grit router',
        "",
    ),
    (
        'tilt = "12 deg"',
        'tilt = "12 deg"\norbit = "5 mm"',
        'cell.toml:58: abrasive[3].orbit (abrasive "fibre 125")',
        'given "5 mm"; wanted an orbit only for abrasives of the kind orbital',
        "",
    ),
    (
        'orbit = "5 mm"',
        'orbit = "5 mm"\ntilt = "5 deg"',
        'cell.toml:37: abrasive[1].tilt (abrasive "orbital 150")',
        'given "5 deg"; wanted a tilt only for abrasives of the kind disc',
        "",
    ),
    (
        'width = "30 mm"',
        'width = "30 mm"\nbacking = "soft contact wheel"',
        'cell.toml:67: abrasive[4].backing (abrasive "flap 100")',
        'given "soft contact wheel"; wanted a backing only for abrasives of the kind belt, disc or orbital',
        "",
    ),
    (
        'backing = "medium foam pad"',
        'backing = "medium foam pads"',
        'cell.toml:35: abrasive[1].backing (abrasive "orbital 150")',
        'given "medium foam pads"; wanted a foam pad or backing disc of the reference tables: "medium '
        'foam pad", "hard foam pad", "soft foam pad"',
        '"medium foam pad"',
    ),
    (
        'backing = "medium foam pad"',
        'backing = "soft contact wheel"',
        'cell.toml:35: abrasive[1].backing (abrasive "orbital 150")',
        'given "soft contact wheel"; wanted a foam pad or backing disc of the reference tables: "soft foam pad"',
        '"soft foam pad"',
    ),
    (
        'backing = "soft contact wheel"',
        'backing = "rubber pad"',
        'cell.toml:48: abrasive[2].backing (abrasive "belt 50")',
        'given "rubber pad"; wanted a contact wheel of the reference tables: "very soft contact wheel", '
        '"soft contact wheel", "medium contact wheel", "hard contact wheel", "hard serrated contact '
        'wheel"',
        "",
    ),
    (
        'orbit = "5 mm"',
        'orbit = "5 in"',
        'cell.toml:36: abrasive[1].orbit (abrasive "orbital 150")',
        'given "5 in"; wanted an orbit below half the diameter ("150 mm")',
        "",
    ),
    (
        'tilt = "12 deg"',
        'tilt = "0 deg"',
        'cell.toml:57: abrasive[3].tilt (abrasive "fibre 125")',
        'given "0 deg"; wanted an angle of more than 0 deg and less than 90 deg',
        '"10 deg"',
    ),
    (
        'rated_speed = "12200 rpm"',
        'rated_speed = "80 m/s"',
        'cell.toml:58: abrasive[3].rated_speed (abrasive "fibre 125")',
        'given "80 m/s"; wanted a rotation in rpm, 1/min, rev/min, rev/s, 1/s',
        '"18000 rpm"',
    ),
    (
        'rated_speed = "12200 rpm"\n',
        "",
        'cell.toml:52: abrasive[3].rated_speed (abrasive "fibre 125")',
        "wanted this key: free-running speed marked on it",
        'rated_speed = "12000 rpm"',
    ),
    (
        "price = 0.8",
        "price = 0",
        'cell.toml:40: abrasive[1].price (abrasive "orbital 150")',
        "given 0; wanted a number above 0",
        "0.8",
    ),
    (
        "price = 0.8",
        'price = "0.80 EUR"',
        'cell.toml:40: abrasive[1].price (abrasive "orbital 150")',
        'given "0.80 EUR"; wanted a number',
        "0.8",
    ),
    (
        'change_time = "20 s"',
        'change_time = "-20 s"',
        'cell.toml:39: abrasive[1].change_time (abrasive "orbital 150")',
        'given "-20 s"; wanted a time of at least 0 s',
        '"20 s"',
    ),
    (
        'rated_speed = "7600 rpm"\nspindle = "soft"',
        'rated_speed = "7600 rpm"\nspindle = "sofa"',
        'cell.toml:68: abrasive[4].spindle (abrasive "flap 100")',
        'given "sofa"; wanted a spindle of the cell: "soft", "stiff"',
        '"soft"',
    ),
    (
        'rated_speed = "12200 rpm"\nspindle = "soft"',
        'rated_speed = "12200 rpm"\nspindle = "stiff"',
        'cell.toml:59: abrasive[3].spindle (abrasive "fibre 125")',
        'given "stiff"; wanted a spindle with a compliance device, for a fibre disc is pressed on with a set force',
        '"soft"',
    ),
    (
        'name = "mop"',
        'name = "flap 100"',
        'cell.toml:71: abrasive[5].name (abrasive "flap 100")',
        'given "flap 100"; wanted a name that no other tool or abrasive has',
        "",
    ),
    (
        'currency = "USD"',
        'currency = ""',
        "cell.toml:3: currency",
        'given ""; wanted text that is not empty',
        '"EUR"',
    ),
]


@pytest.mark.parametrize(("old", "new", "place", "says", "write"), FAULTS)
def test_fault_in_abrasive(sanding_desk: Any, old: str, new: str, place: str, says: str, write: str) -> None:
    (fault,) = sanding_desk.faults(cell=[(old, new)])
    assert str(fault) == f"{place}: {says}" + (f"; write {write}" if write else "")
    assert fault.write == write
