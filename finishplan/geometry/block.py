"""Entities of a drawing at their place: blocks opened, layers inherited, transformations gathered.

An entity on layer "0" of a block takes the layer of the block's insert; one on any other layer
keeps its own. Nothing is transformed until it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING, Any, Final, cast

from finishplan.geometry.piece import ShapeError

if TYPE_CHECKING:
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.entities.insert import Insert
    from ezdxf.math import Matrix44

MOST_ENTITIES: Final = 500_000
"""Entities and inserts followed before a drawing is refused; nested blocks multiply."""

_INHERITING_LAYER: Final = "0"
_POLYLINES: Final = frozenset({"LWPOLYLINE", "POLYLINE"})


@dataclass(frozen=True)
class Placed:
    """An entity with the layer it counts for, and how it gets from its block to the drawing."""

    entity: DXFGraphic
    layer: str
    blocks: tuple[str, ...] = ()
    matrix: Matrix44 | None = None

    @property
    def name(self) -> str:
        """The entity as a user can find it: by its handle, or by the block that holds it."""
        entity = self.entity
        kind = f"{entity.dxftype()} #{entity.dxf.handle}"
        return f"{kind} in block {self.blocks[-1]!r}" if self.blocks else kind

    @property
    def hidden(self) -> bool:
        """Whether the drawing marks the entity as not to be shown."""
        return self.entity.dxf.is_supported("invisible") and bool(self.entity.dxf.invisible)

    @property
    def of_missing_block(self) -> bool:
        """Whether this inserts a block the file holds neither itself nor as a reference to another drawing."""
        insert = cast("Insert", self.entity)
        return self.entity.dxftype() == "INSERT" and not self.hidden and insert.block() is None


def placed_entities(layout: Iterable[DXFGraphic]) -> list[Placed]:
    """Every entity of a layout, blocks opened to any depth.

    An insert that cannot be opened (hidden, or of a block the file does not hold) stands for itself.

    Raises
    ------
    ShapeError
        A block that holds itself, or more entities than `MOST_ENTITIES`.
    """
    top = (Placed(entity, _own_layer(entity)) for entity in layout)
    found = list(islice(_opened(top), MOST_ENTITIES + 1))
    if len(found) > MOST_ENTITIES:
        raise ShapeError(
            "nested or repeated blocks", f"at most {MOST_ENTITIES} entities", "a drawing of the edges alone"
        )
    return [placed for placed in found if not _is_open_insert(placed)]


def in_place(placed: Placed) -> list[DXFGraphic]:
    """The entity where the drawing shows it; arcs become elliptic under an uneven scale."""
    if placed.matrix is None:
        return [placed.entity]
    from ezdxf.math import NonUniformScalingError

    moved = placed.entity.copy()
    try:
        return [moved.transform(placed.matrix)]
    except NonUniformScalingError:
        return _unevenly_scaled(placed)


def _unevenly_scaled(placed: Placed) -> list[DXFGraphic]:
    """A circle or arc as an ellipse, a polyline with bulges as its lines and arcs."""
    from ezdxf.entities.ellipse import Ellipse

    entity: Any = placed.entity
    if entity.dxftype() in _POLYLINES:
        simple = (replace(placed, entity=part) for part in entity.virtual_entities())
        return [moved for part in simple for moved in in_place(part)]
    return [Ellipse.from_arc(entity).transform(placed.matrix)]


def _opened(entities: Iterable[Placed]) -> Iterator[Placed]:
    """The entities, every insert followed by what it holds; the inserts count towards the limit too."""
    for placed in entities:
        yield placed
        if _is_open_insert(placed):
            yield from _opened(_held(placed))


def _own_layer(entity: DXFGraphic) -> str:
    """The layer written in the file, which an entity of an unknown type keeps among its raw data."""
    known = entity.dxf.is_supported("layer")
    return str(entity.dxf.layer if known else entity.graphic_properties().get("layer", _INHERITING_LAYER))


def _is_open_insert(placed: Placed) -> bool:
    if placed.entity.dxftype() != "INSERT" or placed.hidden:
        return False
    insert = cast("Insert", placed.entity)
    return insert.block() is not None and not insert.is_xref()


def _held(placed: Placed) -> Iterator[Placed]:
    """Entities of the inserted block, once for every cell of the insert's array."""
    insert = cast("Insert", placed.entity)
    name = insert.dxf.name
    if name in placed.blocks:
        raise ShapeError(f"block {name!r}, which holds itself", "blocks that do not contain themselves")
    if insert.mcount > MOST_ENTITIES:
        raise ShapeError(f"an array of {insert.mcount} inserts of block {name!r}", f"at most {MOST_ENTITIES}")
    for cell in insert.multi_insert() if insert.mcount > 1 else [insert]:
        matrix = cell.matrix44() if placed.matrix is None else cell.matrix44() * placed.matrix
        for entity in insert.block() or ():
            own = _own_layer(entity)
            layer = placed.layer if own == _INHERITING_LAYER else own
            yield Placed(entity, layer, (*placed.blocks, name), matrix)
