"""Exact plane geometry: lines, arcs, circles, and what a workshop does with them."""
