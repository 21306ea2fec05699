"""Formulas of strength, drive and fit: plain numbers in, plain numbers out, a source beside each.

Nothing here knows a plate or a motor; the checks put numbers in and say what comes out. Units are
mm, N, N mm, MPa, degrees, A, V, kg, s unless a name says otherwise. Estimates, never a certificate.
"""
