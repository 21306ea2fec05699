"""What pages are printed with: paper, press, pens, type, tables, and what stands on every page."""
