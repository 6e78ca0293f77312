"""Bounds and named choices that the arguments of the physics functions share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, TypeVar

from finishplan.formula import INFINITY

Choice = TypeVar("Choice")

NON_NEGATIVE: Final = (0.0, INFINITY)

POSITIVE: Final = (1e-12, INFINITY)
"""Above zero, in whatever SI unit; nothing in a workshop is as small as the lower bound."""


def chosen(options: Mapping[str, Choice], name: str, argument: str) -> Choice:
    """The entry of `options` called `name`.

    Parameters
    ----------
    options : mapping
        What may be chosen, by its name.
    name : str
        The name given.
    argument : str
        Function and argument, as the message should name them.

    Raises
    ------
    ValueError
        A name that is not among the options.
    """
    try:
        return options[name]
    except KeyError:
        raise ValueError(f"{argument} must be one of {', '.join(options)}, given {name!r}") from None
