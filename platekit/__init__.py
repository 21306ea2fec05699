"""Short recipes in, laser-cut structures of flat plates out."""

__version__ = "0.1.0"
