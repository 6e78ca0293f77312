"""Short cautions that every plan carries: by the dust of the material, and those of any such cell."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

_BY_DUST: Final[Mapping[str, str]] = {
    "ferrous": "Steel and iron dust burns and its sparks ignite other dusts: keep it out of a light-metal "
    "extraction line (29 CFR 1910.94(b); NFPA 660).",
    "stainless-nickel": "Dust holds nickel and chromium, with low exposure limits: enclose, extract and measure "
    "(29 CFR 1910.1000 Table Z-1; 29 CFR 1910.1026).",
    "light-metal": "Aluminium dust explodes and gives off hydrogen in water: a collector of its own for light metal, "
    "no sparks into it, wet sludge vented (NFPA 660).",
    "magnesium": "Magnesium chips and dust burn fiercely and react with water: dry chips often, class D agent at hand, "
    "no water on a fire (NFPA 660).",
    "titanium": "Fine titanium dust ignites at a few millijoules: wet collection, no heaps of fines, class D agent at "
    "hand (NFPA 660).",
    "zinc": "Zinc dust burns and reacts with moisture: extract at the tool and empty collectors dry (NFPA 660).",
    "copper-alloy": "Brass dust may hold lead: check the alloy and the exposure limit (29 CFR 1910.1025).",
    "plastic": "Polymer dust can explode and a worn tool melts the edge: extract, earth the ducts, watch for smoke "
    "(NFPA 660).",
    "glass-fibre": "Glass fibre dust irritates skin, eyes and airways; the resin's share can explode: enclose and "
    "extract (29 CFR 1910.1000).",
    "carbon-fibre": "Carbon fibre dust conducts and shorts electrical equipment, and its finest share is breathable: "
    "enclose, extract, seal cabinets.",
    "wood": "Wood dust is a known carcinogen and explodes: extract at the tool, keep layers thin (NFPA 660; Directive "
    "2004/37/EC Annex III for hardwood).",
}

_ALWAYS: Final = (
    "Tools may break and be thrown: full enclosure, tools rated above the highest free-running speed, no entry while "
    "the spindle coasts (ISO 10218-2; ISO 14120).",
    "Deburring spindles are loud: measure at the operator's place and compare with the limit in force "
    "(29 CFR 1910.95; Directive 2003/10/EC).",
    "Local codes, the authority and the licensed practice responsible for this cell decide; these notes only point "
    "to what they will ask.",
)


def cautions_for(dust: str) -> tuple[str, ...]:
    """Cautions for a material's dust family and for the cell as such; never empty."""
    return (_BY_DUST[dust], *_ALWAYS)
