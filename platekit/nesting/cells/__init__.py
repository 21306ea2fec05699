"""Laying out on cells: each part in turn to the leftmost free place, in ever better orders."""
