"""A drawing of each part to lay it out by: dimensions, tables, title block."""
