"""Comparing two builds: what changed in inputs, parts, joints, screws, sheets, findings."""
