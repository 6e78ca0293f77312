"""Every kind of fault stock to be taken off can hold: what is said about it, and where."""

from __future__ import annotations

from typing import Any

import pytest

# What stands in the file, what replaces it, where the message says it is, what it says, and what it says to write.
FAULTS = [
    (
        'tools = ["fibre 125", "grinder"]',
        'tools = ["fibre 125", "mop"]',
        'job.toml:54: removal[1].tools[2] (removal "seam")',
        'given "mop"; wanted a belt, disc, wheel, bonded wheel or cut-off wheel',
        "",
    ),
    (
        'name = "seam"',
        'name = "face"',
        'job.toml:47: removal[1].name (removal "face")',
        'given "face"; wanted a name that no other edge, surface, contour or removal has',
        "",
    ),
    (
        'kind = "weld bead"',
        'kind = "weld"',
        'job.toml:48: removal[1].kind (removal "seam")',
        'given "weld"; wanted one of "gate", "parting line", "weld bead"',
        '"weld bead"',
    ),
    (
        'left = "0.2 mm"',
        'left = "2 mm"',
        'job.toml:52: removal[1].left (removal "seam")',
        'given "2 mm"; wanted less than the height itself ("2 mm")',
        "",
    ),
    (
        'left = "0.2 mm"',
        "count = 0",
        'job.toml:52: removal[1].count (removal "seam")',
        "given 0; wanted a number of at least 1",
        "2",
    ),
    (
        'height_scatter = "0.5 mm"',
        'height_scatter = "2.5 mm"',
        'job.toml:53: removal[1].height_scatter (removal "seam")',
        'given "2.5 mm"; wanted at most the height itself ("2 mm")',
        "",
    ),
    (
        'height = "2 mm"\n',
        "",
        'job.toml:46: removal[1].height (removal "seam")',
        "wanted this key: mean height above the surface",
        'height = "3 mm"',
    ),
    (
        'length = "120 mm"',
        'length = "120 mm"\nsection = "round"',
        'job.toml:52: removal[1].section (removal "seam")',
        'given "round"; wanted one of "rectangular", "triangular", "segment"',
        '"rectangular"',
    ),
]


@pytest.mark.parametrize(("old", "new", "place", "says", "write"), FAULTS)
def test_fault_in_removal(sanding_desk: Any, old: str, new: str, place: str, says: str, write: str) -> None:
    (fault,) = sanding_desk.faults(job=[(old, new)])
    assert str(fault) == f"{place}: {says}" + (f"; write {write}" if write else "")
    assert fault.write == write
