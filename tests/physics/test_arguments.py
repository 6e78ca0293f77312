"""Named choices."""

from __future__ import annotations

import pytest

from finishplan.physics.arguments import chosen


def test_returns_the_entry_of_that_name() -> None:
    assert chosen({"up": 1, "down": -1}, "down", "lift: way") == -1


def test_names_the_options_when_there_is_no_such_entry() -> None:
    with pytest.raises(ValueError, match=r"^lift: way must be one of up, down, given 'left'$"):
        chosen({"up": 1, "down": -1}, "left", "lift: way")
