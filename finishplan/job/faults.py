"""What pydantic found wrong, in plain words: where, what was given, what is wanted, what to write."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from finishplan.errors import Fault, nearest
from finishplan.job.fields import Section, as_given, example_of, is_list, section_of
from finishplan.job.model import CELL_FORMS
from finishplan.job.positions import Location
from finishplan.job.source import Portion
from finishplan.units import quoted


@dataclass(frozen=True)
class Words:
    """The worded parts of a fault. `given` is read from the file unless stated."""

    wanted: str
    write: str = ""
    given: str | None = None


@dataclass(frozen=True)
class Finding:
    """One error of pydantic with the table model it belongs to and the table as it was written."""

    details: ErrorDetails
    location: Location
    table: type[Section]
    written: Mapping[str, Any]

    @property
    def key(self) -> str:
        return next((key for key in reversed(self.location) if isinstance(key, str)), "")

    @property
    def field(self) -> FieldInfo:
        return self.table.model_fields[self.key]

    @property
    def bounds(self) -> Mapping[str, Any]:
        return self.details.get("ctx", {})


def faults_of(error: ValidationError, portion: Portion, model: type[Section]) -> Iterator[Fault]:
    """Every fault of a table that failed against its model."""
    for details in error.errors(include_url=False):
        finding = _finding(details, portion, model)
        words = _WORDS.get(details["type"], _as_pydantic_says)(finding)
        yield portion.fault(finding.location, words.wanted, given=words.given, write=words.write)


def _finding(details: ErrorDetails, portion: Portion, model: type[Section]) -> Finding:
    location = tuple(part for part in details["loc"] if part not in CELL_FORMS)
    written = portion.source.value(portion.prefix + location[:-1])
    return Finding(
        details, location, _table_around(details["loc"], model), written if isinstance(written, dict) else {}
    )


def _table_around(tagged_location: Location, model: type[Section]) -> type[Section]:
    """Model of the table that holds the last key of a location."""
    table, inner = model, model
    for part in tagged_location:
        if isinstance(part, str) and part in CELL_FORMS:
            inner = CELL_FORMS[part]
        elif isinstance(part, str):
            table = inner
            inner = section_of(table.model_fields[part].annotation) or table if part in table.model_fields else table
    return table


def _header(finding: Finding) -> str:
    """The header that opens the table or list of tables at a location."""
    path = ".".join(key for key in finding.location if isinstance(key, str))
    return f"[[{path}]]" if is_list(finding.field.annotation) else f"[{path}]"


def _required_keys(section: type[Section]) -> str:
    return ", ".join(key for key, field in section.model_fields.items() if field.is_required())


def _how_to_write(finding: Finding) -> str:
    """A line for a key: a header for a table at the top or a list of tables, else an assignment."""
    section = section_of(finding.field.annotation)
    if section is None:
        return f"{finding.key} = {example_of(finding.field)}"
    if is_list(finding.field.annotation) or len(finding.location) == 1:
        return f"{_header(finding)} with {_required_keys(section)}"
    return f"{finding.key} = {example_of(finding.field)}"


def _missing(finding: Finding) -> Words:
    return Words(f"this key: {_lower(finding.field.description)}", _how_to_write(finding))


def _lower(description: str | None) -> str:
    text = (description or "").rstrip(".")
    return text[:1].lower() + text[1:]


def _unknown_key(finding: Finding) -> Words:
    known = list(finding.table.model_fields)
    free = [key for key in known if key not in finding.written]
    close = nearest(finding.key, free, 1)
    return Words(f"one of the keys {', '.join(known)}", close[0] if close else "")


def _choice(finding: Finding) -> Words:
    allowed = re.findall(r"'([^']*)'", str(finding.bounds["expected"]))
    given = finding.details["input"]
    close = nearest(given, allowed, 1) if isinstance(given, str) else []
    return Words("one of " + ", ".join(map(quoted, allowed)), quoted((close or allowed)[0]))


def _table_wanted(finding: Finding) -> Words:
    return Words("a table", _how_to_write(finding))


def _list_wanted(finding: Finding) -> Words:
    tables = section_of(finding.field.annotation) is not None
    return Words("a list of tables" if tables else "a list", _how_to_write(finding))


def _bound(words: str, name: str) -> Callable[[Finding], Words]:
    return lambda finding: Words(f"a number {words} {finding.bounds[name]:.12g}", _plain_example(finding))


def _of_type(wanted: str) -> Callable[[Finding], Words]:
    return lambda finding: Words(wanted, _plain_example(finding))


def _plain_example(finding: Finding) -> str:
    example = finding.field.examples[0] if finding.field.examples else ""
    return json.dumps(example[0] if isinstance(example, list) else example, ensure_ascii=False)


def _quantity(finding: Finding) -> Words:
    bounds = finding.bounds
    return Words(bounds["wanted"], bounds["write"], bounds["given"])


def _relation(finding: Finding) -> Words:
    written = {key: as_given(value) for key, value in finding.written.items()}
    return Words(finding.bounds["wanted"].format_map(written), finding.bounds["write"].format_map(written))


def _as_pydantic_says(finding: Finding) -> Words:
    return Words(_lower(finding.details["msg"]))


_WORDS: Final[Mapping[str, Callable[[Finding], Words]]] = {
    "missing": _missing,
    "extra_forbidden": _unknown_key,
    "literal_error": _choice,
    "model_type": _table_wanted,
    "list_type": _list_wanted,
    "too_short": lambda finding: Words("at least one entry", _how_to_write(finding)),
    "string_type": _of_type("text in double quotes"),
    "string_too_short": _of_type("text that is not empty"),
    "string_too_long": lambda finding: Words(f"text of at most {finding.bounds['max_length']} characters"),
    "bool_type": _of_type("true or false"),
    "int_type": _of_type("a whole number"),
    "float_type": _of_type("a number"),
    "finite_number": _of_type("a finite number"),
    "greater_than": _bound("above", "gt"),
    "greater_than_equal": _bound("of at least", "ge"),
    "less_than_equal": _bound("of at most", "le"),
    "quantity": _quantity,
    "relation": _relation,
}
