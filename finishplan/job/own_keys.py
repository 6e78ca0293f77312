"""Keys that only some kinds of tools have, checked as they were written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from finishplan.errors import Fault
from finishplan.job.fields import Section, example_of
from finishplan.job.positions import Location
from finishplan.job.source import Portion
from finishplan.job.written import Written, article, either


class OwnKey(NamedTuple):
    """A key that only tools of some kinds have, and whether those need it."""

    kinds: tuple[str, ...]
    needed: bool


class Kept(NamedTuple):
    """A tool as it was written: its place, its table and the model of that, the kind it is, and its family."""

    place: Location
    table: Written
    model: type[Section]
    kind: str
    family: str


def own_key_faults(cell: Portion, tool: Kept, keys: Mapping[str, OwnKey], plural: str) -> Iterator[Fault]:
    """Keys a tool needs and lacks, and those its kind does not have; `plural` names all of its sort."""
    for key, own in keys.items():
        fits = tool.kind in own.kinds
        if fits and own.needed and key not in tool.table:
            yield _lacking(cell, tool, key)
        if not fits and key in tool.table:
            wanted = f"{article(key)} only for {plural} of the kind {either(own.kinds)}"
            yield cell.fault((*tool.place, key), wanted)


def _lacking(cell: Portion, tool: Kept, key: str) -> Fault:
    """The fault of a key that a tool of its family needs."""
    write = f"{key} = {example_of(tool.model.model_fields[key])}"
    return cell.fault((*tool.place, key), f"the {key} of {article(tool.family)}", write=write)
