"""What the tables of job and cell files are built from: quantities with units, names, and the table base."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, NoReturn, get_args, get_origin

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError

from finishplan import units
from finishplan.errors import UnitError


class Section(BaseModel):
    """Base of every table: unknown keys are faults, values are read strictly and never changed."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


def section_of(annotation: Any) -> type[Section] | None:
    """The table model that a field's type leads to, through lists and alternatives."""
    if isinstance(annotation, type) and issubclass(annotation, Section):
        return annotation
    return next((found for inner in get_args(annotation) if (found := section_of(inner)) is not None), None)


def is_list(annotation: Any) -> bool:
    """Whether a field's type is a list, alone or as one of its alternatives."""
    return get_origin(annotation) is list or any(map(is_list, get_args(annotation)))


def example_of(field: FieldInfo) -> str:
    """An example value in TOML; of a table, its required keys."""
    section = section_of(field.annotation)
    if section is None:
        return json.dumps(field.examples[0], ensure_ascii=False) if field.examples else ""
    inner = (f"{key} = {example_of(part)}" for key, part in section.model_fields.items() if part.is_required())
    table = f"{{ {', '.join(inner)} }}"
    return f"[{table}]" if is_list(field.annotation) else table


def as_given(value: object) -> str:
    """How a value of a file is repeated to the user: short, on one line, without control characters."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return units.quoted(value)
    try:
        text = str(value)
    except ValueError:
        return "a number of thousands of digits"
    return text if len(text) <= units.LONGEST_QUOTED else f"a number of {len(text)} digits"


def refuse(given: str, wanted: str, write: str = "") -> NoReturn:
    """Report a value by the parts of a fault."""
    raise PydanticCustomError("quantity", "quantity", {"given": given, "wanted": wanted, "write": write})


def require(condition: bool, wanted: str, write: str = "") -> None:
    """Report a value that does not go with its table's other keys, unless the condition holds.

    ``{key}`` in either text stands for what the file says under that key of the same table.
    """
    if not condition:
        raise PydanticCustomError("relation", "relation", {"wanted": wanted, "write": write})


@dataclass(frozen=True)
class Quantity:
    """Reads text with a unit into an SI float inside its bounds, which are SI as well."""

    kind: str
    above: float = -math.inf
    at_least: float = -math.inf
    below: float = math.inf
    at_most: float = math.inf
    usual: str = ""
    parse: Callable[[str, str], float] = units.parse

    @property
    def phrase(self) -> str:
        return units.KINDS[self.kind].phrase

    @property
    def example(self) -> str:
        """One in the bounds: that of the kind unless a more usual one is stated."""
        return self.usual or units.KINDS[self.kind].example

    def read(self, value: object) -> float:
        """The validator itself; it raises what pydantic collects as one fault."""
        if not isinstance(value, str):
            refuse(
                as_given(value), f"{units.KINDS[self.kind].phrase} as text with its unit", self._with_usual_unit(value)
            )
        try:
            quantity = self.parse(value, self.kind)
        except UnitError as error:
            refuse(error.given, error.wanted, error.write)
        if not self._holds(quantity):
            turned = value.strip().removeprefix("-")
            mended = turned if self._holds(self.parse(turned, self.kind)) else self.example
            refuse(as_given(value), self._bounds(units.unit_of(value, self.kind)), units.quoted(mended))
        return quantity

    def _holds(self, quantity: float) -> bool:
        return self.above < quantity < self.below and self.at_least <= quantity <= self.at_most

    def _bounds(self, unit: str) -> str:
        bounds = {
            "more than": self.above, "at least": self.at_least, "less than": self.below, "at most": self.at_most,
        }  # fmt: skip
        stated = [
            f"{words} {units.from_si(bound, unit):g} {unit}" for words, bound in bounds.items() if math.isfinite(bound)
        ]
        return f"{self.phrase} of {' and '.join(stated)}"

    def _with_usual_unit(self, value: object) -> str:
        is_number = isinstance(value, int | float) and not isinstance(value, bool) and -1e9 < value < 1e9
        return units.quoted(f"{value} {units.unit_of(self.example, self.kind)}" if is_number else self.example)


def _quantity(kind: str, **bounds: Any) -> Any:
    quantity = Quantity(kind, **bounds)
    return BeforeValidator(quantity.read, json_schema_input_type=Annotated[str, Field(examples=[quantity.example])])


def _printable(text: str) -> str:
    require(text.isprintable(), "text on one line without control characters")
    return text


Length = Annotated[float, _quantity("length", above=0)]
LengthOrZero = Annotated[float, _quantity("length", at_least=0)]
Position = Annotated[float, _quantity("length", usual="-400 mm")]
PlusMinus = Annotated[float, _quantity("length", parse=units.parse_plus_minus)]
Roughness = Annotated[float, _quantity("roughness", above=0)]
Area = Annotated[float, _quantity("area", above=0)]
Angle = Annotated[float, _quantity("angle", above=0, below=math.pi)]
OpenAngle = Annotated[float, _quantity("angle", above=0, at_most=2 * math.pi)]
Tilt = Annotated[float, _quantity("angle", above=0, below=math.pi / 2, usual="10 deg")]
Direction = Annotated[float, _quantity("angle", at_least=0, below=math.pi)]
Force = Annotated[float, _quantity("force", above=0)]
ForceOrZero = Annotated[float, _quantity("force", at_least=0)]
Mass = Annotated[float, _quantity("mass", above=0)]
# A bound in whole revolutions per second also catches thousands written with a point, "18.000 rpm".
Rotation = Annotated[float, _quantity("rotation", at_least=1)]
Power = Annotated[float, _quantity("power", above=0)]
Pressure = Annotated[float, _quantity("pressure", above=0)]
Torque = Annotated[float, _quantity("torque", above=0)]
Stiffness = Annotated[float, _quantity("stiffness", above=0)]
StiffnessOrZero = Annotated[float, _quantity("stiffness", at_least=0)]
Speed = Annotated[float, _quantity("feed", above=0)]
Acceleration = Annotated[float, _quantity("acceleration", above=0)]
Frequency = Annotated[float, _quantity("frequency", above=0)]
# From above a warm workshop to what melts steel.
Temperature = Annotated[float, _quantity("temperature", at_least=313.15, at_most=1773.15, usual="600 degC")]
Time = Annotated[float, _quantity("time", at_least=0)]
Share = Annotated[float, _quantity("fraction", at_least=0, below=1)]
Duration = Annotated[float, _quantity("duration", above=0)]
AirFlow = Annotated[float, _quantity("air flow", above=0)]
Exposure = Annotated[float, _quantity("exposure", at_least=0)]
FibreCount = Annotated[float, _quantity("fibre count", at_least=0)]
Energy = Annotated[float, _quantity("energy", above=0)]
LevelDifference = Annotated[float, _quantity("level difference", at_least=0, at_most=80)]
Density = Annotated[float, _quantity("density", above=0)]
SoundLevel = Annotated[float, _quantity("sound level", above=0)]
TimeShare = Annotated[float, _quantity("fraction", above=0, at_most=1)]
# Above 1 where more than one operator is busy.
Attendance = Annotated[float, _quantity("fraction", at_least=0, at_most=10, usual="25 %")]
YearlyTime = Annotated[float, _quantity("duration", above=0, at_most=units.YEAR, usual="3600 h")]
DailyTime = Annotated[float, _quantity("duration", above=0, at_most=24 * units.HOUR, usual="6 h")]
Vibration = Annotated[float, _quantity("vibration", above=0, at_most=1e3)]
HalfShare = Annotated[float, _quantity("fraction", at_least=0, below=0.5)]
Name = Annotated[str, Field(min_length=1, max_length=80), AfterValidator(_printable)]
