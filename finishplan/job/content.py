"""What a part and its coating consist of, where that matters to people, as a table of the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import Section, Share, require

Suspect = Literal["none", "lead", "chromate", "silica"]


class Composition(Section):
    """Mass shares of a part's constituents by certificate; they replace those of the reference tables."""

    aluminium: Share | None = Field(default=None, description="Aluminium.", examples=["90 %"])
    beryllium: Share | None = Field(default=None, description="Beryllium.", examples=["0.5 %"])
    cadmium: Share | None = Field(default=None, description="Cadmium.", examples=["0.1 %"])
    carbon_fibre: Share | None = Field(default=None, description="Carbon fibre.", examples=["65 %"])
    chromium: Share | None = Field(default=None, description="Chromium.", examples=["18 %"])
    cobalt: Share | None = Field(default=None, description="Cobalt.", examples=["2 %"])
    copper: Share | None = Field(default=None, description="Copper.", examples=["58 %"])
    glass_fibre: Share | None = Field(default=None, description="Glass fibre.", examples=["60 %"])
    hardwood: Share | None = Field(default=None, description="Hardwood, in boards.", examples=["50 %"])
    iron: Share | None = Field(default=None, description="Iron.", examples=["70 %"])
    lead: Share | None = Field(default=None, description="Lead.", examples=["3 %"])
    magnesium: Share | None = Field(default=None, description="Magnesium.", examples=["90 %"])
    manganese: Share | None = Field(default=None, description="Manganese.", examples=["1 %"])
    nickel: Share | None = Field(default=None, description="Nickel.", examples=["8 %"])
    red_cedar: Share | None = Field(default=None, description="Western red cedar.", examples=["10 %"])
    titanium: Share | None = Field(default=None, description="Titanium.", examples=["90 %"])
    tungsten: Share | None = Field(default=None, description="Tungsten.", examples=["10 %"])
    wood: Share | None = Field(default=None, description="Wood other than hardwood.", examples=["50 %"])
    zinc: Share | None = Field(default=None, description="Zinc.", examples=["39 %"])
    silica: Share | None = Field(
        default=None, description="Crystalline silica, as a filler.", examples=["20 %"], validate_default=True
    )

    @field_validator("silica")
    @classmethod
    def _no_more_than_all(cls, silica: float | None, info: ValidationInfo) -> float | None:
        total = sum(share or 0.0 for share in info.data.values()) + (silica or 0.0)
        require(total <= 1, "shares that add up to 100 % at most")
        return silica

    def shares(self) -> dict[str, float]:
        """The shares that are stated, by constituent [1]."""
        return {name: share for name, share in self if share}


def lone_none(suspects: list[Suspect] | None) -> list[Suspect] | None:
    """Nothing else may stand beside the statement that a test found none."""
    require(suspects is None or "none" not in suspects or len(suspects) == 1, 'either "none" or what was found')
    return suspects
