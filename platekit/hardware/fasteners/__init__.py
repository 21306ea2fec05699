"""Fasteners by standard: screws, nuts, washers, inserts, the tools that turn them."""
