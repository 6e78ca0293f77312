"""Features that wait for one another: names that lead nowhere, and loops."""

from __future__ import annotations

from typing import Any

import pytest

from finishplan.job.loading import load_job

RIM, FACE, SEAM = 'name = "rim"', 'name = "face"', 'name = "seam"'


def test_any_feature_may_wait_for_any_other(sanding_desk: Any) -> None:
    edits = [(RIM, f'{RIM}\nafter = ["face", "hood"]'), (SEAM, f'{SEAM}\nafter = ["rim"]')]
    job = load_job(sanding_desk.write(job=edits)).job
    assert (job.edge[0].after, job.removal[0].after, job.surface[0].after) == (["face", "hood"], ["rim"], None)


# What follows the name of the rim (line 11 of the file), where the message says it is, what it says, what to write.
FAULTS = [
    (
        'after = ["faec"]',
        'job.toml:12: edge[1].after[1] (edge "rim")',
        'given "faec"; wanted a feature of the job: "face"',
        '"face"',
    ),
    (
        'after = ["zzz"]',
        'job.toml:12: edge[1].after[1] (edge "rim")',
        'given "zzz"; wanted a feature of the job: "face", "hood", "spot", "seam"',
        "",
    ),
    (
        'after = ["face", "rim"]',
        'job.toml:12: edge[1].after[2] (edge "rim")',
        'given "rim"; wanted another feature than the one that waits',
        "",
    ),
    (
        "after = []",
        'job.toml:12: edge[1].after (edge "rim")',
        "given a list of 0; wanted at least one entry",
        'after = ["gates"]',
    ),
    (
        'after = "face"',
        'job.toml:12: edge[1].after (edge "rim")',
        'given "face"; wanted a list',
        'after = ["gates"]',
    ),
]


@pytest.mark.parametrize(("after", "place", "says", "write"), FAULTS)
def test_fault_in_after(sanding_desk: Any, after: str, place: str, says: str, write: str) -> None:
    (fault,) = sanding_desk.faults(job=[(RIM, f"{RIM}\n{after}")])
    assert str(fault) == f"{place}: {says}" + (f"; write {write}" if write else "")


def test_a_loop_is_named_where_it_closes(sanding_desk: Any) -> None:
    edits = [(RIM, f'{RIM}\nafter = ["seam"]'), (FACE, f'{FACE}\nafter = ["rim"]'), (SEAM, f'{SEAM}\nafter = ["face"]')]
    (fault,) = sanding_desk.faults(job=edits)
    assert fault.key == 'removal[1].after[1] (removal "seam")'
    assert fault.given == '"face"'
    assert fault.wanted == 'an order without a loop, not "seam" after "face" after "rim" after "seam"'


def test_every_fault_of_the_order_at_once(sanding_desk: Any) -> None:
    edits = [
        (RIM, f'{RIM}\nafter = ["face", "sean"]'),
        (FACE, f'{FACE}\nafter = ["rim", "face"]'),
        ('name = "hood"', 'name = "hood"\nafter = ["seam"]'),
        (SEAM, f'{SEAM}\nafter = ["hood"]'),
    ]
    told = [(fault.key, fault.wanted) for fault in sanding_desk.faults(job=edits)]
    assert told == [
        ('edge[1].after[2] (edge "rim")', 'a feature of the job: "seam"'),
        ('surface[1].after[1] (surface "face")', 'an order without a loop, not "face" after "rim" after "face"'),
        ('surface[1].after[2] (surface "face")', "another feature than the one that waits"),
        ('removal[1].after[1] (removal "seam")', 'an order without a loop, not "seam" after "hood" after "seam"'),
    ]


def test_a_name_borne_twice_makes_no_loop(sanding_desk: Any) -> None:
    edits = [(RIM, 'name = "face"\nafter = ["seam"]'), (SEAM, f'{SEAM}\nafter = ["face"]')]
    (fault,) = sanding_desk.faults(job=edits)
    assert "a name that no other" in fault.wanted


def test_an_edge_alone_has_nothing_to_wait_for(desk: Any) -> None:
    edits = [(RIM, f'{RIM}\nafter = ["rim"]'), ('name = "bore"', 'name = "rim"')]
    faults = desk.faults(job=edits)
    assert [fault.key for fault in faults] == ['edge[1].after[1] (edge "rim")', 'edge[2].name (edge "rim")']
