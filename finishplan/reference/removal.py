"""What a coated abrasive takes off each group of materials, and the force and marks that go with it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar, Final

from finishplan.errors import ReferenceDataError
from finishplan.reference.bands import between, scaled
from finishplan.reference.defaults import DEFAULTS
from finishplan.reference.grits import GRITS
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value
from finishplan.reference.workpieces import GROUPS

COATING_GROUPS: Final = ("primer", "paint", "clearcoat", "gel-coat")
ABRADED_GROUPS: Final = (*GROUPS, *COATING_GROUPS)
"""Groups that abrasives have windows for: those of the workpieces, and coatings."""

GRIT_BANDS: Final = {
    "coarse": ("P60", "P80"),
    "medium": ("P120", "P180"),
    "fine": ("P240", "P400"),
    "very_fine": ("P1200", "P2000"),
}
"""Bands that removal coefficients are stated for, by their coarsest and finest grit."""


def band_size(band: str) -> float:
    """Grain size [m] a band stands for: the geometric mean of its coarsest and finest grit."""
    coarsest, finest = (GRITS.find(grit).size.value for grit in GRIT_BANDS[band])
    return math.sqrt(coarsest * finest)


@dataclass(frozen=True)
class Removal:
    """One group of materials under a fresh coated belt or disc on a firm backing.

    `coefficients` [1/Pa] are volumes per force and sliding distance by band of grits, coarse first;
    `force_ratio` is the tangential over the normal force, `worn_factor` the coefficient of a
    worn abrasive, from the middle of its use on, over that of a fresh one, and `roughness_factor` the
    mean roughness Ra over the grain size.
    """

    name: str
    title: str
    caution: str
    force_ratio: Value
    worn_factor: Value
    roughness_factor: Value
    coefficients: Mapping[str, Value]
    aliases: ClassVar[tuple[str, ...]] = ()

    def coefficient(self, grain_size: float) -> Value:
        """The removal coefficient at a grain size [m].

        Between two bands of grits it goes with the power of the grain size that fits both; beyond
        the outermost, with the power given by the default ``removal_size_exponent``.
        """
        held = [(band_size(band), figure) for band, figure in self.coefficients.items()]
        for (coarse_size, coarse), (fine_size, fine) in pairwise(held):
            if coarse_size >= grain_size >= fine_size:
                return between(coarse, fine, math.log(coarse_size / grain_size) / math.log(coarse_size / fine_size))
        size, end = held[0] if grain_size > held[0][0] else held[-1]
        return scaled(end, (grain_size / size) ** DEFAULTS.find("removal_size_exponent").value.value)


_KINDS: Final = {"force_ratio": "number", "worn_factor": "number", "roughness_factor": "number"}


def _read(name: str, record: Record) -> Removal:
    if name not in ABRADED_GROUPS:
        wanted = ", ".join(ABRADED_GROUPS)
        raise ReferenceDataError(f"{record.file}: {record.path}: no such material group; wanted {wanted}")
    coefficients = record.values_if_held(dict.fromkeys(GRIT_BANDS, "removal coefficient"))
    if not coefficients:
        raise record.refuse("coarse", f"wanted a removal coefficient for at least one of {', '.join(GRIT_BANDS)}")
    return Removal(
        name=name,
        title=record.text("title"),
        caution=record.text("caution"),
        coefficients=coefficients,
        **record.values(_KINDS),
    )


REMOVAL: Final = Table("removal", "material group", _read)
