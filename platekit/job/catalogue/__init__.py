"""The catalogue: what a recipe may name, with its figures and sources."""
