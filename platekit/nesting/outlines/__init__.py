"""Laying out by outlines: a solver shoves polygons about, a linear program packs them tight."""
