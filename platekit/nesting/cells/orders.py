"""Orders: in which turn copies are laid and how they lean; the first ones, and changes to one."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence

from platekit.nesting.cells.filling import Ask, Lean
from platekit.nesting.cells.poses import Kind

# Chance of a small change: as a rule it keeps what is good in an order, now and then more is
# needed to get away from it.
SMALL = 0.6

RELEAN = 0.3  # share of the copies that lean another way after a large change, at most
SHUFFLE = 0.25  # how far a copy moves in a large change, as a share of the whole, at most

Order = tuple[Ask, ...]


def first_orders(kinds: Sequence[Kind], fitting: Sequence[int]) -> Iterator[Order]:
    """Yield the orders that are tried as they are: large parts first, by several measures.

    Args:
        kinds: Every kind.
        fitting: Those of them to lay.
    """
    measures: tuple[Callable[[Kind], float], ...] = (
        lambda kind: kind.hull_mm2,
        longest_side_mm,
        lambda kind: longest_side_mm(kind) * kind.hull_mm2,
        lambda kind: min(turn.width_mm for turn in kind.turns),
    )
    leans = list(Lean)
    for shift in range(len(leans)):  # each measure with each lean, both changing all the time
        for number, measure in enumerate(measures):
            # what must lie on one stock goes first: others may lie elsewhere
            keys = {k: (not kinds[k].part.on, -measure(kinds[k]), k) for k in fitting}
            lean = leans[(number + shift) % len(leans)]
            asks = tuple(
                Ask(k, lean)
                for k in sorted(fitting, key=keys.__getitem__)
                for _ in range(kinds[k].part.quantity)
            )
            yield gathered(asks, [kind.part.together for kind in kinds])


def gathered(order: Order, companies: Sequence[str]) -> Order:
    """Return the order with copies that lie together in a row, where the first of them was.

    Args:
        order: The copies.
        companies: The word by which each kind lies together with others; empty for none.
    """
    if not any(companies):
        return order
    rows: dict[object, list[Ask]] = {}
    for number, ask in enumerate(order):
        rows.setdefault(companies[ask.kind] or number, []).append(ask)
    return tuple(ask for row in rows.values() for ask in row)


def shuffled(order: Order, chance: random.Random) -> Order:
    """Return the order with some copies moved, and some leaning another way."""
    return _changed_a_little(order, chance) if chance.random() < SMALL else _mixed(order, chance)


def put_forward(order: Order, left: Iterable[Ask], chance: random.Random) -> Order:
    """Return the order with copies of what was left over moved towards the front."""
    asks, wanted = list(order), Counter(ask.kind for ask in left)
    for at in range(len(asks) - 1, -1, -1):
        kind = asks[at].kind
        if wanted[kind] > 0:
            wanted[kind] -= 1
            asks.insert(chance.randrange(at + 1), asks.pop(at))
    return tuple(asks)


def longest_side_mm(kind: Kind) -> float:
    """Return the longest side of any of the turns' boxes."""
    return max(max(turn.width_mm, turn.height_mm) for turn in kind.turns)


def _changed_a_little(order: Order, chance: random.Random) -> Order:
    asks, count = list(order), len(order)
    for _ in range(chance.randint(1, 3)):
        asks.insert(chance.randrange(count), asks.pop(chance.randrange(count)))
    for _ in range(chance.randint(0, 2)):
        at = chance.randrange(count)
        asks[at] = Ask(asks[at].kind, chance.choice(list(Lean)))
    return tuple(asks)


def _mixed(order: Order, chance: random.Random) -> Order:
    count = len(order)
    reach = SHUFFLE * count * chance.random() + 1.0
    keys = [
        place + (reach * chance.gauss(0.0, 1.0) if chance.random() < 0.5 else 0.0)
        for place in range(count)
    ]
    releaned = RELEAN * chance.random()
    return tuple(
        Ask(order[k].kind, chance.choice(list(Lean))) if chance.random() < releaned else order[k]
        for k in sorted(range(count), key=lambda k: (keys[k], k))
    )
