"""Faults of what the robot carries and of what holds the part."""

from __future__ import annotations

from typing import Any

import pytest

JAWS = '[holding]\nkind = "jaws"\nmass = "4 kg"\nforce = "800 N"\ncontacts = 2\n\n[[spindle]]\nname = "A"'
MASS = ('material = "EN AC-46000"', 'material = "EN AC-46000"\nmass = "2 kg"')


def held(holding: str) -> tuple[str, str]:
    return ('[[spindle]]\nname = "A"', holding)


def carried() -> tuple[str, str]:
    return ('title = "cell 1"', 'title = "cell 1"\narrangement = "part-to-tool"')


@pytest.mark.parametrize(
    ("edits", "key", "wanted"),
    [
        ([held(JAWS.replace("jaws", "needles"))], "holding.kind", "needles do not hold against machining loads"),
        ([held(JAWS.replace("contacts = 2\n", ""))], "holding.contacts", "this key for holding by"),
        (
            [held(JAWS.replace("contacts = 2", 'contacts = 2\narea = "3 cm2"'))],
            "holding.area",
            "only for holding by vacuum",
        ),
        ([held(JAWS.replace("jaws", "magnet").replace("contacts = 2\n", ""))], "holding.kind", "magnets do not hold"),
        ([carried()], "arrangement", "the gripper beside it"),
        ([carried(), held(JAWS.replace('mass = "4 kg"\n', ""))], "holding.mass", "the mass of the gripper"),
    ],
    ids=["needles", "key left out", "key of another kind", "magnet on aluminium", "no gripper", "gripper without mass"],
)
def test_fault_of_the_holding(desk: Any, edits: list[tuple[str, str]], key: str, wanted: str) -> None:
    (fault,) = desk.faults(job=[MASS], cell=edits)
    assert fault.file == "cell.toml"
    assert fault.key == key
    assert wanted in fault.wanted


def test_holding_asks_for_the_mass_of_the_part(desk: Any) -> None:
    (fault,) = desk.faults(cell=[held(JAWS)])
    assert (fault.file, fault.key, fault.write) == ("job.toml", "part.mass", 'mass = "3 kg"')


@pytest.mark.parametrize("lacking", ["process_offset", "load_offset"])
def test_wrist_moment_needs_both_offsets(desk: Any, lacking: str) -> None:
    other = {"process_offset": "load_offset", "load_offset": "process_offset"}[lacking]
    robot = f'payload = "20 kg"\nwrist_moment = "40 N m"\n{other} = "200 mm"'
    (fault,) = desk.faults(cell=[('payload = "20 kg"', robot)])
    assert fault.key == "robot.wrist_moment"
    assert lacking in fault.wanted
