"""Checks: can it be made, will it fit, will it hold, will it drive."""
