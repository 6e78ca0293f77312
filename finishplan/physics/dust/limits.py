"""Occupational exposure limits of finishing dusts, and which of them governs a material.

Authorities differ by up to a factor of a hundred. All rows are kept; the lowest governs unless the
user names the authorities in force. Limits change: check the edition in force before relying on one.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from finishplan.errors import nearest
from finishplan.physics.dust.exposure import mixture_dust_limit
from finishplan.physics.sourced import Grade

Authority: TypeAlias = Literal["OSHA", "NIOSH", "Cal/OSHA", "ACGIH", "EU"]
LimitKind: TypeAlias = Literal["TWA", "ceiling", "STEL", "action level"]
Fraction: TypeAlias = Literal["total", "inhalable", "respirable", "fume"]
TotalAndRespirable: TypeAlias = tuple[Authority, float, float]

MILLIGRAM: Final = 1e-6
"""A milligram per cubic metre [kg/m3]."""

SOURCES: Final[Mapping[Authority, str]] = {
    "OSHA": "29 CFR 1910.1000, Table Z-1",
    "NIOSH": "NIOSH Pocket Guide to Chemical Hazards, recommended exposure limits, 2016",
    "Cal/OSHA": "8 CCR 5155, Table AC-1, 2018",
    "ACGIH": "ACGIH, Threshold Limit Values, 2018",
    "EU": "Directive 2004/37/EC, Annex III",
}
"""Publication of each authority; a row may name a closer clause."""

AUTHORITIES: Final = tuple(SOURCES)
NUISANCE: Final = "particulates not otherwise regulated"


@dataclass(frozen=True)
class ExposureLimit:
    """One limit of one authority.

    Attributes
    ----------
    substance : str
        What is limited.
    authority : str
        Who sets it.
    value : float
        The limit [kg/m3].
    kind : {"TWA", "ceiling", "STEL", "action level"}
        Average of the shift, never to be exceeded, fifteen minutes, or where duties begin.
    fraction : {"total", "inhalable", "respirable", "fume"}
        The part of the airborne dust that is sampled.
    source, grade : str
        The publication with its clause, and how well the figure is known.
    whole_mixture : bool
        Whether the limit holds for the whole dust as soon as it contains the substance.
    """

    substance: str
    authority: Authority
    value: float
    kind: LimitKind = "TWA"
    fraction: Fraction = "total"
    source: str = ""
    grade: Grade = "published"
    whole_mixture: bool = False


@dataclass(frozen=True)
class GoverningLimit:
    """The limit a dust meets first: its concentration [kg/m3] and the constituent's own limit."""

    dust_concentration: float
    mass_share: float
    limit: ExposureLimit


def _limit(
    substance: str,
    authority: Authority,
    milligrams: float,
    kind: LimitKind = "TWA",
    fraction: Fraction = "total",
    *,
    clause: str = "",
    grade: Grade = "published",
    whole_mixture: bool = False,
) -> ExposureLimit:
    source = clause or SOURCES[authority]
    return ExposureLimit(substance, authority, milligrams * MILLIGRAM, kind, fraction, source, grade, whole_mixture)


def _total_and_respirable(substance: str, *rows: TotalAndRespirable) -> tuple[ExposureLimit, ...]:
    """Rows of authorities that limit both the total and the respirable dust [mg/m3]."""
    return tuple(
        row
        for authority, total, respirable in rows
        for row in (
            _limit(substance, authority, total, whole_mixture=substance == NUISANCE),
            _limit(substance, authority, respirable, fraction="respirable", whole_mixture=substance == NUISANCE),
        )
    )


_NUISANCE_ROWS: Final[tuple[TotalAndRespirable, ...]] = (("OSHA", 15, 5), ("Cal/OSHA", 10, 5))
_NUISANCE_WITH_NIOSH: Final[tuple[TotalAndRespirable, ...]] = (*_NUISANCE_ROWS, ("NIOSH", 10, 5))

EXPOSURE_LIMITS: Final[tuple[ExposureLimit, ...]] = (
    *_total_and_respirable(NUISANCE, *_NUISANCE_ROWS),
    *_total_and_respirable("aluminium", *_NUISANCE_WITH_NIOSH),
    _limit("aluminium", "ACGIH", 1, fraction="respirable"),
    *_total_and_respirable("aluminium oxide", *_NUISANCE_ROWS),
    *_total_and_respirable("silicon carbide", *_NUISANCE_WITH_NIOSH),
    _limit("silicon carbide", "ACGIH", 10, fraction="inhalable"),
    _limit("silicon carbide", "ACGIH", 3, fraction="respirable"),
    _limit("iron oxide", "OSHA", 10, fraction="fume"),
    _limit("iron oxide", "NIOSH", 5),
    _limit("iron oxide", "Cal/OSHA", 5, fraction="fume"),
    _limit("iron oxide", "ACGIH", 5, fraction="respirable"),
    *_total_and_respirable("rouge", *_NUISANCE_ROWS),
    _limit("nickel", "OSHA", 1),
    _limit("nickel", "NIOSH", 0.015),
    _limit("nickel", "Cal/OSHA", 0.5),
    _limit("nickel", "ACGIH", 1.5, fraction="inhalable"),
    _limit("chromium", "OSHA", 1),
    _limit("chromium", "NIOSH", 0.5),
    _limit("chromium", "Cal/OSHA", 0.5),
    _limit("chromium", "ACGIH", 0.5, fraction="inhalable"),
    _limit("chromium(VI)", "OSHA", 0.005, clause="29 CFR 1910.1026(c)"),
    _limit("chromium(VI)", "OSHA", 0.0025, "action level", clause="29 CFR 1910.1026(b)", grade="from memory"),
    _limit("chromium(VI)", "NIOSH", 0.0002),
    _limit("chromium(VI)", "Cal/OSHA", 0.005),
    _limit("chromium(VI)", "Cal/OSHA", 0.1, "ceiling"),
    _limit("chromium(VI)", "ACGIH", 0.0002, fraction="inhalable"),
    _limit("chromium(VI)", "ACGIH", 0.0005, "STEL", "inhalable"),
    _limit("chromium(VI)", "EU", 0.005),
    _limit("cobalt", "OSHA", 0.1),
    _limit("cobalt", "NIOSH", 0.05),
    _limit("cobalt", "Cal/OSHA", 0.02),
    _limit("cobalt", "ACGIH", 0.02),
    _limit("copper", "OSHA", 1),
    _limit("copper", "NIOSH", 1),
    _limit("copper", "Cal/OSHA", 1),
    _limit("copper", "ACGIH", 1),
    _limit("copper", "OSHA", 0.1, fraction="fume"),
    _limit("manganese", "OSHA", 5, "ceiling"),
    _limit("manganese", "NIOSH", 1),
    _limit("manganese", "NIOSH", 3, "STEL"),
    _limit("manganese", "Cal/OSHA", 0.2),
    _limit("manganese", "ACGIH", 0.1, fraction="inhalable"),
    _limit("manganese", "ACGIH", 0.02, fraction="respirable"),
    _limit("beryllium", "OSHA", 0.0002, clause="29 CFR 1910.1024(c)(1)", grade="from memory"),
    _limit("beryllium", "OSHA", 0.002, "STEL", clause="29 CFR 1910.1024(c)(2)", grade="from memory"),
    _limit("beryllium", "NIOSH", 0.0005, "ceiling"),
    _limit("beryllium", "Cal/OSHA", 0.0002, clause="8 CCR 5205"),
    _limit("beryllium", "Cal/OSHA", 0.002, "STEL", clause="8 CCR 5205"),
    _limit("beryllium", "Cal/OSHA", 0.0001, "action level", clause="8 CCR 5205"),
    _limit("lead", "OSHA", 0.05, clause="29 CFR 1910.1025(c)(1)"),
    _limit("lead", "OSHA", 0.03, "action level", clause="29 CFR 1910.1025(b)"),
    _limit("lead", "NIOSH", 0.05),
    _limit("lead", "Cal/OSHA", 0.01, clause="8 CCR 5198(c), in force since 2025", grade="from memory"),
    _limit("lead", "ACGIH", 0.05),
    _limit("cadmium", "OSHA", 0.005, clause="29 CFR 1910.1027(c)"),
    _limit("cadmium", "Cal/OSHA", 0.005),
    _limit("cadmium", "ACGIH", 0.01),
    _limit("cadmium", "ACGIH", 0.002, fraction="respirable"),
    _limit("crystalline silica", "OSHA", 0.05, fraction="respirable", clause="29 CFR 1910.1053(c)"),
    _limit("crystalline silica", "OSHA", 0.025, "action level", "respirable", clause="29 CFR 1910.1053(b)"),
    _limit("crystalline silica", "NIOSH", 0.05, fraction="respirable"),
    _limit("crystalline silica", "Cal/OSHA", 0.05, fraction="respirable"),
    _limit("crystalline silica", "ACGIH", 0.025, fraction="respirable"),
    _limit("crystalline silica", "EU", 0.1, fraction="respirable"),
    _limit("magnesium oxide", "OSHA", 15, fraction="fume"),
    _limit("magnesium oxide", "Cal/OSHA", 10, fraction="fume"),
    _limit("magnesium oxide", "ACGIH", 10, fraction="inhalable"),
    _limit("titanium dioxide", "OSHA", 15),
    _limit("titanium dioxide", "NIOSH", 2.4, clause="NIOSH Current Intelligence Bulletin 63, 2011, fine grades"),
    _limit(
        "ultrafine titanium dioxide", "NIOSH", 0.3, clause="NIOSH Current Intelligence Bulletin 63, 2011, ultrafine"
    ),
    _limit("titanium dioxide", "ACGIH", 10),
    *_total_and_respirable("zinc oxide", *_NUISANCE_ROWS),
    _limit("zinc oxide", "NIOSH", 5),
    _limit("zinc oxide", "NIOSH", 15, "ceiling"),
    _limit("zinc oxide", "ACGIH", 2, fraction="respirable"),
    _limit("zinc oxide", "ACGIH", 10, "STEL", "respirable"),
    _limit("vanadium pentoxide", "OSHA", 0.5, "ceiling"),
    _limit("vanadium pentoxide", "NIOSH", 0.05, "ceiling"),
    _limit("vanadium pentoxide", "Cal/OSHA", 0.05),
    _limit("vanadium pentoxide", "ACGIH", 0.05, fraction="inhalable"),
    _limit("zirconium", "OSHA", 5),
    _limit("zirconium", "NIOSH", 5),
    _limit("zirconium", "NIOSH", 10, "STEL"),
    _limit("tungsten", "NIOSH", 5),
    _limit("tungsten", "NIOSH", 10, "STEL"),
    _limit("wood", "NIOSH", 1),
    _limit("wood", "ACGIH", 1),
    _limit("western red cedar", "ACGIH", 0.5),
    _limit("hardwood", "NIOSH", 1),
    _limit("hardwood", "EU", 2, fraction="inhalable", whole_mixture=True),
    _limit("glass fibre", "NIOSH", 5),
    *_total_and_respirable("graphite", *_NUISANCE_ROWS),
    _limit("graphite", "ACGIH", 2, fraction="respirable"),
    _limit("carbon black", "OSHA", 3.5),
    _limit("carbon black", "NIOSH", 3.5),
    _limit("carbon black", "Cal/OSHA", 3.5),
    _limit("carbon black", "ACGIH", 3, fraction="inhalable"),
    *_total_and_respirable("gypsum", *_NUISANCE_WITH_NIOSH),
    *_total_and_respirable("calcium carbonate", *_NUISANCE_WITH_NIOSH),
)
"""Every limit known here, of every authority."""

_BINDING: Final = ("TWA", "ceiling")
"""Kinds an average of the shift has to stay below; a ceiling bounds the average too."""

_FEDERAL: Final[tuple[Authority, ...]] = ("OSHA",)


def exposure_limits(substance: str, authorities: Collection[Authority] = AUTHORITIES) -> tuple[ExposureLimit, ...]:
    """All limits of a substance that the authorities set.

    Parameters
    ----------
    substance : str
        One of the substances of the table.
    authorities : collection of str
        Whose limits count.

    Returns
    -------
    tuple of ExposureLimit
        Limits of every kind and fraction; empty where these authorities set none.

    Raises
    ------
    ValueError
        A substance the table does not hold; close names are given.
    """
    rows = [row for row in EXPOSURE_LIMITS if row.substance == substance]
    if not rows:
        known = dict.fromkeys(row.substance for row in EXPOSURE_LIMITS)
        close = nearest(substance, known) or list(known)
        raise ValueError(f"exposure_limits: no substance {substance!r}; known names are {', '.join(close)}")
    return tuple(row for row in rows if row.authority in authorities)


def governing_limit(
    mass_shares: Mapping[str, float], authorities: Collection[Authority] = AUTHORITIES
) -> GoverningLimit:
    """The limit that a material's dust meets first, by the shares of its constituents.

    Each limit is set against the whole dust, respirable ones too: the stricter reading. Dust of no
    limit of its own is still held to that of particulates not otherwise regulated.

    Parameters
    ----------
    mass_shares : mapping of str to float
        Mass share of each constituent in the material [1].
    authorities : collection of str
        Whose limits count.

    Returns
    -------
    GoverningLimit
        Concentration of the dust [kg/m3] with the constituent's limit and its source.

    Raises
    ------
    ValueError
        An unknown substance, a share outside 0 to 1, or authorities that set no limit for any of it.
    """
    candidates = [
        GoverningLimit(row.value / effective, effective, row)
        for substance, share in {NUISANCE: 1.0, **mass_shares}.items()
        for row in _binding(substance, authorities)
        if (effective := 1.0 if row.whole_mixture else _share(substance, share))
    ]
    if not candidates:
        raise ValueError(f"governing_limit: {', '.join(authorities)} set no limit for {', '.join(mass_shares)}")
    return min(candidates, key=lambda candidate: candidate.dust_concentration)


def _binding(substance: str, authorities: Collection[Authority]) -> list[ExposureLimit]:
    """Limits that bind the average of a shift; one for fume only where the authority sets none for dust."""
    rows = [row for row in exposure_limits(substance, authorities) if row.kind in _BINDING]
    for_dust = {row.authority for row in rows if row.fraction != "fume"}
    return [row for row in rows if row.fraction != "fume" or row.authority not in for_dust]


def added_limit(mass_shares: Mapping[str, float]) -> float | None:
    """The dust at which the constituents together meet the law's limit for a mixture; None without any limit.

    Parameters
    ----------
    mass_shares : mapping of str to float
        Mass share of each constituent in the material [1].

    Returns
    -------
    float or None
        Concentration of the dust by OSHA's limits [kg/m3].
    """
    lowest = {
        substance: min(row.value for row in rows)
        for substance in mass_shares
        if (rows := _binding(substance, _FEDERAL))
    }
    if not lowest:
        return None
    return float(mixture_dust_limit(list(lowest.values()), [mass_shares[substance] for substance in lowest]))


def _share(substance: str, share: float) -> float:
    if not 0 < share <= 1:
        raise ValueError(f"governing_limit: share of {substance} must be above 0 and at most 1, given {share:g}")
    return share
