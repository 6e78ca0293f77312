"""Explosion figures of dusts tested by others, by family, and the worst of each family.

Older pressures from the Hartmann tube are kept but do not enter a band: that vessel reads low.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from finishplan.physics.arguments import chosen
from finishplan.physics.dust.explosion import BAR
from finishplan.physics.sourced import Grade

Band: TypeAlias = tuple[float, float]
Property: TypeAlias = Literal[
    "pressure", "deflagration_index", "explosible_concentration", "ignition_energy", "cloud_temperature"
]

ZERO_CELSIUS: Final = 273.15

NFPA_68: Final = "NFPA 68, annex on dust explosion data"
HANDBOOK: Final = "NFPA Fire Protection Handbook, 17th ed. 1991, table of dust explosion data"
WU: Final = "Wu et al. 2010, as cited in a later review; not seen in the original"
BENSON: Final = "Benson, Journal of SAIMM 112, 2012, as cited in a later review; not seen in the original"
OLDER: Final = "older tables; no published source"
POLYMERS: Final = "Polymers 15, 2023, 4203"


@dataclass(frozen=True)
class DustSample:
    """What one publication gives for one dust; a property not given is None.

    Attributes
    ----------
    dust : str
        The sample in words, with its grain size where known.
    pressure : tuple of float or None
        Largest explosion pressure, lowest and highest given [Pa].
    deflagration_index : tuple of float or None
        Kst [Pa m/s].
    explosible_concentration : tuple of float or None
        Minimum explosible concentration [kg/m3].
    ignition_energy : tuple of float or None
        Minimum ignition energy [J].
    cloud_temperature : tuple of float or None
        Minimum ignition temperature of the cloud [K].
    source, grade : str
        Where the figures stand and how well they are known.
    hartmann : bool
        Whether the pressure is from the Hartmann tube.
    """

    dust: str
    pressure: Band | None
    deflagration_index: Band | None
    explosible_concentration: Band | None
    ignition_energy: Band | None
    cloud_temperature: Band | None
    source: str
    grade: Grade
    hartmann: bool = False


@dataclass(frozen=True)
class DustFamily:
    """Samples of one family and what the family does besides exploding.

    Attributes
    ----------
    name : str
        The family.
    samples : tuple of DustSample
        Every sample known.
    light_metal : bool
        Whether it needs a collector of its own, away from sparks and other metals.
    hydrogen : bool
        Whether it sets hydrogen free in water.
    conductive : bool
        Whether it conducts: electrical group IIIC, enclosures IP6X.
    remark : str
        What the figures leave open.
    """

    name: str
    samples: tuple[DustSample, ...]
    light_metal: bool = False
    hydrogen: bool = False
    conductive: bool = False
    remark: str = ""

    def band(self, quantity: Property) -> Band | None:
        """Lowest and highest figure of a property over all samples, None where nobody gives one."""
        bands = [
            band
            for sample in self.samples
            if (band := getattr(sample, quantity)) is not None and not (quantity == "pressure" and sample.hartmann)
        ]
        return (min(low for low, _ in bands), max(high for _, high in bands)) if bands else None


def _band(value: float | Band | None, unit: float) -> Band | None:
    if value is None:
        return None
    low, high = value if isinstance(value, tuple) else (value, value)
    return low * unit, high * unit


def _sample(
    dust: str,
    source: str,
    grade: Grade,
    *,
    bar: float | Band | None = None,
    kst: float | Band | None = None,
    grams: float | Band | None = None,
    millijoules: float | Band | None = None,
    celsius: float | Band | None = None,
    hartmann: bool = False,
) -> DustSample:
    """A sample from figures in the tables' units: bar, bar m/s, g/m3, mJ and degrees Celsius."""
    temperature = _band(celsius, 1.0)
    return DustSample(
        dust,
        _band(bar, BAR),
        _band(kst, BAR),
        _band(grams, 1e-3),
        _band(millijoules, 1e-3),
        None if temperature is None else (temperature[0] + ZERO_CELSIUS, temperature[1] + ZERO_CELSIUS),
        source,
        grade,
        hartmann,
    )


_ALUMINIUM = (
    _sample("aluminium, 29 um", NFPA_68, "from memory", bar=12.4, kst=415, grams=30),
    _sample("aluminium, 40 um", WU, "common practice", bar=5.9, kst=77, grams=35, millijoules=59.7),
    _sample(
        "aluminium, 2 to 63 um",
        BENSON,
        "common practice",
        kst=(23, 332),
        grams=(45, 170),
        millijoules=(3, 13),
        celsius=650,
    ),
    _sample("aluminium, 0.1 um", WU, "common practice", bar=12.5, kst=296, grams=50, millijoules=1),
    _sample("aluminium, 0.035 um", WU, "common practice", bar=7.3, kst=349, grams=40, millijoules=1),
    _sample("aluminium flake", HANDBOOK, "published", bar=8.8, grams=45, millijoules=10, celsius=610, hartmann=True),
)
_MAGNESIUM = (
    _sample("magnesium, 28 um", NFPA_68, "from memory", bar=17.5, kst=508, grams=30),
    _sample("magnesium, ground", HANDBOOK, "published", bar=8.0, grams=30, millijoules=40, celsius=560, hartmann=True),
    _sample("magnesium, coarse", BENSON, "common practice", kst=53, millijoules=20, celsius=560),
)
_TITANIUM = (
    _sample("titanium, 3 to 70 um", BENSON, "common practice", kst=40, grams=45, millijoules=2, celsius=(332, 587)),
    _sample("titanium", OLDER, "common practice", grams=45, celsius=460),
)
_ZINC = (
    _sample("zinc, 10 um", NFPA_68, "from memory", bar=6.7, kst=125, grams=250),
    _sample("zinc", OLDER, "common practice", grams=480, celsius=600),
)
_IRON = (
    _sample("carbonyl iron, below 10 um", NFPA_68, "from memory", bar=6.1, kst=111, grams=125),
    _sample("iron", OLDER, "common practice", grams=100, celsius=420),
)
_ZIRCONIUM = (
    _sample(
        "zirconium, about 10 um",
        BENSON,
        "common practice",
        kst=150,
        grams=(40, 45),
        millijoules=(0.002, 15),
        celsius=(170, 300),
    ),
)
_WOOD = (
    _sample("wood flour, 29 um", NFPA_68, "from memory", bar=10.5, kst=205),
    _sample("board feed of poplar, pine and camphor", "BioResources 14(2), 2019, 3182", "published", bar=(7, 9)),
    _sample("white-pine flour", HANDBOOK, "published", bar=7.8, grams=35, millijoules=40, celsius=470, hartmann=True),
    _sample(
        "spruce, beech and larch as received",
        "thesis, University of Ljubljana",
        "published",
        millijoules=(10, 1000),
    ),
)
_POLYMER = (
    _sample("polyamide 12", POLYMERS, "published", bar=6.76, kst=116.6, grams=30),
    _sample("polyamide 12", "Polymers 13, 2021, 3014", "published", celsius=450),
    _sample("UHMW polyethylene", POLYMERS, "published", bar=6.47, kst=97.1, grams=60),
    _sample("polypropylene, 25 um", NFPA_68, "from memory", bar=8.4, kst=101, grams=30),
    _sample("polycarbonate", HANDBOOK, "published", bar=6.6, grams=30, millijoules=25, celsius=710, hartmann=True),
)
_RESIN = (
    _sample("epoxy, 26 um", NFPA_68, "from memory", bar=7.9, kst=129, grams=30),
    _sample("epoxy", OLDER, "common practice", grams=20, celsius=530),
    _sample(
        "boat builder's dust, 52 um, about two thirds combustible",
        "one test record; no published source",
        "common practice",
        bar=7.5,
        kst=201,
        grams=(50, 60),
        millijoules=(1, 3),
        celsius=460,
    ),
)
_UNTESTED = "no figure of the compound itself; its resin's are taken until the dust is tested"

DUST_FAMILIES: Final[Mapping[str, DustFamily]] = {
    family.name: family
    for family in (
        DustFamily("aluminium", _ALUMINIUM, light_metal=True, hydrogen=True, conductive=True),
        DustFamily("magnesium", _MAGNESIUM, light_metal=True, hydrogen=True, conductive=True),
        DustFamily("titanium", _TITANIUM, light_metal=True, hydrogen=True, conductive=True),
        DustFamily("zirconium", _ZIRCONIUM, light_metal=True, hydrogen=True, conductive=True),
        DustFamily("zinc", _ZINC, conductive=True),
        DustFamily("iron", _IRON, conductive=True, remark="flash fires of iron dust have killed (CSB 2011-4-I-TN)"),
        DustFamily("wood", _WOOD, remark="all dust from sanding counts as explosible"),
        DustFamily("polymer", _POLYMER, remark="one polypropylene sample did not ignite (Polymers 15, 2023, 4203)"),
        DustFamily("glass-fibre composite", _RESIN, remark=_UNTESTED),
        DustFamily("carbon-fibre composite", _RESIN, conductive=True, remark=_UNTESTED),
    )
}
"""Families of combustible dust, by name."""


def dust_family(name: str) -> DustFamily:
    """The family called `name`; ValueError names the known ones for any other."""
    return chosen(DUST_FAMILIES, name, "dust_family: name")
