"""One run from a recipe to its files: the only room that knows the whole chain."""
