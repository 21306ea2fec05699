"""Assemblies: panels placed in space, and joints that share out what two of them claim."""
