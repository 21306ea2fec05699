"""Faces of bought parts: the numbers and patterns that plates must meet."""
