"""What stands behind the grain: foam pads, fibre discs, and the treads of contact wheels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value

BACKING_KINDS: Final = ("foam pad", "backing disc", "contact wheel")


@dataclass(frozen=True)
class Backing:
    """One backing. How it yields is told by the Shore A hardness of its rubber or by its `modulus` [Pa].

    `thickness` [m] is that of the yielding layer and `diameter` [m] that of pad or wheel. `land_share`
    is the share of a serrated tread that touches.
    """

    name: str
    title: str
    kind: str
    diameter: Value
    thickness: Value
    shore_a: Value | None = None
    modulus: Value | None = None
    land_share: Value | None = None
    aliases: ClassVar[tuple[str, ...]] = ()


def _read(name: str, record: Record) -> Backing:
    if record.holds("shore_a") == record.holds("modulus"):
        raise record.refuse("shore_a", "wanted either the Shore A hardness of the rubber, or a modulus")
    return Backing(
        name=name,
        title=record.text("title"),
        kind=record.choice("kind", BACKING_KINDS),
        **record.values({"diameter": "length", "thickness": "length"}),
        **record.values_if_held({"shore_a": "number", "modulus": "strength", "land_share": "fraction"}),
    )


BACKINGS: Final = Table("backings", "backing", _read)
