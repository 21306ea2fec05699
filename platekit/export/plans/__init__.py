"""Plans on paper: full-size outlines, dimensioned drawings, steps and lists in one PDF."""
