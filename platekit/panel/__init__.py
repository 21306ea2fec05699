"""Plates: an outline, the features in it, the marks on it."""
