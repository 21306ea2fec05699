"""The family "drive"."""

from platekit.checks.check import Check
from platekit.checks.drive import belts, currents, heat, speed, telling, torque, wiring

CHECKS: tuple[Check, ...] = (
    *torque.CHECKS,
    *speed.CHECKS,
    *currents.CHECKS,
    *wiring.CHECKS,
    *heat.CHECKS,
    *belts.CHECKS,
    *telling.CHECKS,
)
