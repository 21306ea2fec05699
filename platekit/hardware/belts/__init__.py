"""Synchronous belts: profiles, drives, pulleys."""
