"""What differs between two builds, in plain values."""

from __future__ import annotations

from platekit.job.comparing.values import (
    BillChange,
    Change,
    Comparison,
    JointChange,
    MovedStep,
    OrderChange,
)


def change_json(change: Change) -> dict[str, object]:
    """Return a change with ``old`` and ``new``, null where there is nothing."""
    return {
        "name": change.name,
        "fate": change.fate,
        "old": change.old,
        "new": change.new,
        "unit": change.unit,
    }


def bill_change_json(change: BillChange) -> dict[str, object]:
    """Return how many of a thing there were and are, and what took its place."""
    return {
        "name": change.name,
        "old": change.old,
        "new": change.new,
        **({"replaced_by": change.replaced_by} if change.replaced_by else {}),
    }


def assembly_changes_json(comparison: Comparison) -> dict[str, object]:
    """Return what differs in joints, screws and the order of assembly."""
    return {
        "joints": [_joint(one) for one in comparison.joints],
        "screws": [
            {"place": one.place, **bill_change_json(one.screws)} for one in comparison.screws
        ],
        "assembly": _order(comparison.order),
    }


def _joint(joint: JointChange) -> dict[str, object]:
    return {
        "between": joint.between,
        "kind": joint.kind,
        "fate": joint.fate,
        "changes": [change_json(one) for one in joint.changes],
    }


def _order(order: OrderChange) -> dict[str, object]:
    return {
        "order_changed": bool(order.moved),
        "gone": order.gone,
        "new": order.new,
        "moved": [_moved(one) for one in order.moved],
        "changed": [
            {"bring_in": one.brings, "changes": [change_json(change) for change in one.changes]}
            for one in order.changed
        ],
    }


def _moved(step: MovedStep) -> dict[str, object]:
    return {"bring_in": step.brings, "old": step.old, "new": step.new, "after": step.after}
