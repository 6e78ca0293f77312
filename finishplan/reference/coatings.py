"""Coatings and thin face layers: how thick they are, how warm they may get, how much may go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.errors import ReferenceDataError
from finishplan.reference.removal import ABRADED_GROUPS
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value


@dataclass(frozen=True)
class Coating:
    """One layer, filed under its trade name.

    `group` is the material group abrasives have a window for, `removable_share` the share of its
    least thickness that finishing may take, `beneath` the layer that shows when it is sanded through,
    or nothing where that is the part itself.
    """

    name: str
    title: str
    group: str
    thickness: Value
    density: Value
    temperature_limit: Value
    removable_share: Value
    beneath: str | None
    aliases: ClassVar[tuple[str, ...]] = ()


_KINDS: Final = {
    "thickness": "length",
    "density": "density",
    "temperature_limit": "temperature",
    "removable_share": "fraction",
}


def _read(name: str, record: Record) -> Coating:
    return Coating(
        name=name,
        title=record.text("title"),
        group=record.choice("group", ABRADED_GROUPS),
        beneath=record.text("beneath") if record.holds("beneath") else None,
        **record.values(_KINDS),
    )


COATINGS: Final = Table("coatings", "coating", _read)


def stack_down_from(name: str) -> list[Coating]:
    """The coating of that name and all layers beneath it, outermost first."""
    layers = [COATINGS.find(name)]
    while (beneath := layers[-1].beneath) is not None:
        layer = COATINGS.find(beneath)
        if layer in layers:
            raise ReferenceDataError(f"coatings.{name}: {layer.name!r} lies beneath itself")
        layers.append(layer)
    return layers
