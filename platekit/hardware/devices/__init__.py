"""Bought parts as they are mounted: what they fill, pass through, and are held by."""
