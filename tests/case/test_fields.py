"""Ends of the range of a number: with them or without, as the key says, and told in its own words."""

import pytest

from rigcheck.case.schema.kinds import Quantity, RefusedError


def test_the_least_belongs_to_the_range_and_what_is_less_does_not():
    key = Quantity("length", "2 in", "9 in")
    assert (key.read("2 in"), key.read("9 in")) == (2.0, 9.0)
    with pytest.raises(RefusedError, match="must be at least 2 in"):
        key.read("1.99 in")
    with pytest.raises(RefusedError, match="must be at most 9 in"):
        key.read("9.01 in")


def test_what_must_be_over_its_least_is_refused_there():
    key = Quantity("length", "2 in", "9 in", above=True)
    assert key.read("2.01 in") == 2.01
    for low in ("2 in", "1 in"):
        with pytest.raises(RefusedError, match="must be over 2 in"):
            key.read(low)
