"""Styles of writing a number that are read differently from place to place, and what each may have meant."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final


def plain_readings(text: str) -> list[str]:
    """The plain numbers that text beginning with a number of another style may have meant; none if it is plain."""
    for pattern, mend in _MENDS:
        found = pattern.match(text)
        if found:
            return [number + text[found.end() :] for number in mend(found)]
    return []


def _without(marks: str) -> Callable[[re.Match[str]], list[str]]:
    table = str.maketrans("", "", marks)
    return lambda found: [found[0].translate(table)]


# Each style with the plain numbers that may have been meant. The first pattern that matches decides.
_MENDS: Final[tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], list[str]]], ...]] = (
    (re.compile(r"[+-]?\d{1,3}(?:,\d{3})+\.\d*", re.ASCII), _without(",")),
    (re.compile(r"[+-]?\d{1,3}(?:,\d{3}){2,}(?!\d)", re.ASCII), _without(",")),
    (
        re.compile(r"[+-]?\d{1,3}(?:\.\d{3})+,\d+", re.ASCII),
        lambda found: [found[0].replace(".", "").replace(",", ".")],
    ),
    (
        re.compile(r"[+-]?[1-9]\d{0,2},\d{3}(?!\d)", re.ASCII),
        lambda found: [found[0].replace(",", "."), found[0].replace(",", "")],
    ),
    (re.compile(r"[+-]?\d+,\d+", re.ASCII), lambda found: [found[0].replace(",", ".")]),
    (re.compile(r"[+-]?\d{1,3}(?:[ '\u2019_]\d{3})+(?:\.\d+)?", re.ASCII), _without(" '\u2019_")),
    (
        re.compile(r"(\d{1,6}) (\d{1,6})/([1-9]\d{0,5})", re.ASCII),
        lambda found: [f"{int(found[1]) + int(found[2]) / int(found[3]):.6g}"],
    ),
)
