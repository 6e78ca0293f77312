"""Edges from a DXF drawing: the lines and curves of one layer, joined into chains.

The drawing is taken as it stands. A file that is damaged, in no known unit or not flat is
answered with what is wrong and what to do, never repaired in silence.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import numpy as np

from finishplan.errors import Fault, GeometryError, nearest
from finishplan.geometry.block import Placed, in_place, placed_entities
from finishplan.geometry.chain import Chain, join
from finishplan.geometry.drawing_file import library_remarks, open_drawing, plain
from finishplan.geometry.entity import Outline, is_drawn, kind, outline
from finishplan.geometry.piece import ShapeError
from finishplan.units import KINDS

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfgfx import DXFGraphic

FLATNESS: Final = 1e-6
"""Heights z on one layer that differ by less count as one [m]."""

HEADER_UNITS: Final[Mapping[int, str]] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""Values of the header variable $INSUNITS that are understood."""

_NO_UNIT: Final = 0
_MOST_FAULTS: Final = 20
_MOST_LAYERS: Final = 20
_LEVEL: Final = "one layer for each height, or the drawing projected onto the x-y plane"
_DRAWN_KINDS: Final = "lines, arcs, circles, ellipses, splines or polylines"


@dataclass(frozen=True)
class DrawingEdges:
    """The edges on one layer of a drawing.

    Attributes
    ----------
    chains : tuple of Chain
        Runs of edge in the order they are drawn.
    skipped : mapping of str to int
        Entities of the layer that draw no edge (text, dimensions, hidden ones), counted by type.
    duplicates_dropped : int
        Lines and curves left out because they exactly retrace another.
    unit : str
        Unit the drawing was read in: "mm", "cm", "m", "in" or "ft".
    remarks : tuple of str
        What the DXF library found odd or left out when it opened the file, in its own words.
    """

    chains: tuple[Chain, ...]
    skipped: Mapping[str, int]
    duplicates_dropped: int
    unit: str
    remarks: tuple[str, ...]


def read_chains(path: Path, layer: str, unit: str | None, name_shown: str) -> DrawingEdges:
    """Read the edges on one layer of a DXF drawing.

    Parameters
    ----------
    path : Path
        The drawing.
    layer : str
        Layer the edges are drawn on, upper and lower case alike. Entities on layer "0" of a block
        count for the layer the block is inserted on.
    unit : str or None
        Unit of a drawing whose header names none; it must not contradict a header that does.
    name_shown : str
        The file's name as the user wrote it, for faults.

    Returns
    -------
    DrawingEdges
        Lengths in [m]: exact for lines, arcs and circles, within 1e-9 of themselves for ellipses
        and splines; gaps up to 0.05 mm between ends are bridged.

    Raises
    ------
    GeometryError
        The drawing cannot be used as it stands; carries every fault found.
    """
    with library_remarks() as remarks:
        document = open_drawing(path, name_shown)
        settled = _settled_unit(document, unit, name_shown)
        on_layer = _entities_on_layer(document, layer, name_shown)
        faults = [found for found in (settled, on_layer) if isinstance(found, Fault)]
        if isinstance(settled, Fault) or isinstance(on_layer, Fault):
            raise GeometryError(faults)
        outlines = _outlines(on_layer, settled, f"layer {layer!r}", name_shown)
    joined = join([piece for drawn in outlines for piece in drawn.pieces])
    skipped = MappingProxyType(dict(sorted(_skipped(on_layer).items())))
    return DrawingEdges(joined.chains, skipped, joined.duplicates_dropped, settled, tuple(remarks))


def _quoted(text: str) -> str:
    """The text as it is written in a job file."""
    return json.dumps(text, ensure_ascii=not text.isprintable())


def _settled_unit(document: Drawing, unit: str | None, name_shown: str) -> str | Fault:
    """The unit of the drawing: the header's, or the job's where the header names none."""
    code = document.header.get("$INSUNITS", _NO_UNIT)
    named = HEADER_UNITS.get(code)
    choices = ", ".join(HEADER_UNITS.values())

    def fault(given: str, wanted: str, write: str) -> Fault:
        return Fault(name_shown, "drawing_unit", wanted, given, write)

    if unit is not None and unit not in HEADER_UNITS.values():
        return fault(repr(unit), f"one of {choices}", 'drawing_unit = "mm"')
    if code != _NO_UNIT and named is None:
        return fault(f"$INSUNITS = {code} in the drawing", f"a drawing in one of {choices}", "the drawing anew in mm")
    if named and unit and named != unit:
        given = f"drawing_unit = {_quoted(unit)} in the job and $INSUNITS = {code} ({named}) in the drawing"
        return fault(given, "one unit for the drawing", f"drawing_unit = {_quoted(named)}, or mend the drawing")
    return (
        named
        or unit
        or fault(
            "a drawing that names no unit ($INSUNITS is 0 or missing)",
            f"the unit it is drawn in, one of {choices}",
            'drawing_unit = "mm"',
        )
    )


def _entities_on_layer(document: Drawing, layer: str, name_shown: str) -> list[Placed] | Fault:
    """What the layer holds in model space, or what is wrong with asking for it."""
    try:
        placed = placed_entities(document.modelspace())
    except ShapeError as error:
        return Fault(name_shown, "blocks", error.wanted, error.given, error.write)
    # What a block that is missing would draw on this layer is not known, whatever layer it is inserted on.
    found = [entry for entry in placed if entry.layer.casefold() == layer.casefold() or entry.of_missing_block]
    if any(_is_drawn(entry) or _is_unopened(entry) for entry in found):
        return found
    counts = _drawn_per_layer(document, placed)
    if not any(counts.values()):
        return Fault(name_shown, "layer", f"a drawing with {_DRAWN_KINDS} in model space", _contents(placed))
    given = f"{_quoted(layer)}, which holds {_contents(found)}"
    if layer.casefold() not in {name.casefold() for name in counts}:
        given = f"{_quoted(layer)}, which the drawing does not have"
    filled = [name for name, count in counts.items() if count]
    suggestion = (nearest(layer, filled, 1) or filled)[0]
    wanted = f"a layer that holds {_DRAWN_KINDS}: {_listed(counts)}"
    return Fault(name_shown, "layer", wanted, given, f"layer = {_quoted(suggestion)}")


def _drawn_per_layer(document: Drawing, placed: Iterable[Placed]) -> dict[str, int]:
    """Count of drawn entities by layer, fullest first; layers that stand empty are named too."""
    spelled = {name.casefold(): name for name in (entry.dxf.name for entry in document.layers)}
    counts: Counter[str] = Counter(dict.fromkeys(spelled.values(), 0))
    for entry in placed:
        counts[spelled.setdefault(entry.layer.casefold(), entry.layer)] += _is_drawn(entry)
    return dict(sorted(counts.items(), key=lambda item: (-item[1], item[0])))


def _is_drawn(entry: Placed) -> bool:
    return is_drawn(entry.entity) and not entry.hidden


def _is_unopened(entry: Placed) -> bool:
    """An insert of a block the file does not hold; what it would draw is unknown."""
    return entry.entity.dxftype() == "INSERT" and not entry.hidden


def _listed(counts: Mapping[str, int]) -> str:
    shown = [f"{plain(name)} ({count})" for name, count in list(counts.items())[:_MOST_LAYERS]]
    more = len(counts) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more > 0 else "")


def _contents(placed: Sequence[Placed]) -> str:
    counts = _skipped(placed)
    return ", ".join(f"{count} {name}" for name, count in sorted(counts.items())) or "nothing"


def _skipped(placed: Iterable[Placed]) -> Counter[str]:
    return Counter(
        f"{kind(entry.entity)} (hidden)" if entry.hidden else kind(entry.entity)
        for entry in placed
        if not _is_drawn(entry)
    )


def _outlines(placed: Iterable[Placed], unit: str, layer_shown: str, name_shown: str) -> list[Outline]:
    """Outlines of the drawn entities, or every fault among them."""
    scale = KINDS["length"].factors[unit]
    outlines: list[Outline] = []
    faults: list[Fault] = []
    for entry in placed:
        try:
            outlines.extend(_entry_outlines(entry, scale))
        except ShapeError as error:
            faults.append(Fault(name_shown, f"{layer_shown}, {entry.name}", error.wanted, error.given, error.write))
    if faults:
        raise GeometryError(_cut(faults))
    uneven = _uneven(outlines, scale, unit)
    if uneven:
        raise GeometryError([Fault(name_shown, layer_shown, "edges that all lie at one height z", uneven, _LEVEL)])
    return outlines


def _uneven(outlines: Sequence[Outline], scale: float, unit: str) -> str:
    """The range of heights where it is more than none; edges seen from above would hide one another."""
    low = min(height for drawn in outlines for height in drawn.heights)
    high = max(height for drawn in outlines for height in drawn.heights)
    return f"heights z from {low / scale:g} to {high / scale:g} {unit}" if high - low > FLATNESS else ""


def _entry_outlines(entry: Placed, scale: float) -> list[Outline]:
    if _is_unopened(entry):
        raise ShapeError(
            f"an insert of block {entry.entity.dxf.get('name', '')!r}, which the file does not hold",
            "every block inside the drawing",
            "the drawing anew with its references bound",
        )
    if not _is_drawn(entry):
        return []
    return [outline(entity, scale) for entity in _in_place(entry)]


def _in_place(entry: Placed) -> list[DXFGraphic]:
    """The entity at its place; numbers that overflow on the way are found when the outline is drawn."""
    from ezdxf.lldxf.const import DXFError

    try:
        with np.errstate(all="ignore"):
            return in_place(entry)
    except (DXFError, ArithmeticError, ValueError) as error:
        given = f"an entity that cannot be placed ({plain(str(error))})"
        raise ShapeError(given, "an entity with sound data", "the drawing anew") from error


def _cut(faults: Sequence[Fault]) -> list[Fault]:
    """The first faults, and one that counts the rest."""
    rest = len(faults) - _MOST_FAULTS
    if rest <= 0:
        return list(faults)
    last = faults[-1]
    more = Fault(last.file, "drawing", "every entity usable", f"{rest} more faulty entities")
    return [*faults[:_MOST_FAULTS], more]
