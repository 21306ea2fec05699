"""Lines of the bill."""

import pytest

from platekit.errors import PartError
from platekit.hardware.items import Item, gathered


def test_equal_lines_are_added_up():
    """By designation and note, in alphabetical order."""
    lines = [Item("washer", 2), Item("screw", 4, "lid"), Item("washer", 3), Item("screw", 1)]
    assert gathered(lines) == (Item("screw", 1), Item("screw", 4, "lid"), Item("washer", 5))
    assert gathered([]) == ()


def test_copies_multiply_the_quantity():
    """Two plates, twice the screws."""
    assert Item("screw", 4, "lid").times(2) == Item("screw", 8, "lid")


@pytest.mark.parametrize("quantity", [0, -1, 1.0, True, "4", None])
def test_a_quantity_is_a_whole_number_from_one_up(quantity):
    """Nothing else can be ordered."""
    with pytest.raises(PartError, match="quantity of screw"):
        Item("screw", quantity)


def test_an_item_says_what_to_order():
    """An empty line is refused."""
    with pytest.raises(PartError, match="no designation"):
        Item("  ", 1)
