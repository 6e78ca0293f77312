"""Magnets. They hold flat ferrous faces only, and their rated force is a pull square to a thick plate."""

from __future__ import annotations

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE

SHARE = (0.0, 1.0)
DERATING = "common practice, no published source: shares of the rated force multiply"


@formula(
    "F = F_r s_t s_g s_m",
    units={"rated_force": "N", "thickness_share": "1", "gap_share": "1", "material_share": "1"},
    returns="N",
    source=DERATING,
    domain={"rated_force": NON_NEGATIVE, "thickness_share": SHARE, "gap_share": SHARE, "material_share": SHARE},
)
def magnet_force(rated_force: Array, thickness_share: Array, gap_share: Array, material_share: Array) -> Array:
    """Pull a magnet really holds on a flat ferrous part.

    Parameters
    ----------
    rated_force : array_like
        Rated pull F_r on a thick, clean plate of mild steel [N].
    thickness_share : array_like
        Share s_t left by a part too thin to carry the flux [1].
    gap_share : array_like
        Share s_g left by coating, scale or a rough face [1].
    material_share : array_like
        Share s_m of the alloy against mild steel, 0 for what is not ferrous [1].

    Returns
    -------
    array_like
        Pull F [N].

    Raises
    ------
    ValueError
        A negative force, or a share outside 0 to 1.
    """
    return rated_force * thickness_share * gap_share * material_share


@formula(
    "F_s = q F",
    units={"force": "N", "shear_share": "1"},
    returns="N",
    source="Coulomb friction; share of steel on steel by common practice, no published source",
    domain={"force": NON_NEGATIVE, "shear_share": SHARE},
)
def magnet_shear_force(force: Array, shear_share: Array) -> Array:
    """Load along its face that a magnet holds before the part slides.

    Parameters
    ----------
    force : array_like
        Pull F less the load that pulls away, see `magnet_force` [N].
    shear_share : array_like
        Share q of the pull, the coefficient of friction [1].

    Returns
    -------
    array_like
        Shear force F_s [N].

    Raises
    ------
    ValueError
        A negative force, or a share outside 0 to 1.
    """
    return force * shear_share
