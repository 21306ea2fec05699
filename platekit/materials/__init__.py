"""Sheets and beams: what is cut, how thick it really is, and how wide the cut."""

from platekit.materials.beams import Beam, beam_for, known_kerfs
from platekit.materials.fits import Fit, Fits, Hold
from platekit.materials.sheets import Sheet, birch_plywood, sheet
from platekit.materials.stock import StockSize
from platekit.materials.strengths import Strength, strength_of
from platekit.materials.substances import Laser, Material, known_materials, material
from platekit.materials.suitability import sheet_findings
from platekit.materials.thickness import ThicknessBand, thickness_bands

__all__ = [
    "Beam",
    "Fit",
    "Fits",
    "Hold",
    "Laser",
    "Material",
    "Sheet",
    "StockSize",
    "Strength",
    "ThicknessBand",
    "beam_for",
    "birch_plywood",
    "known_kerfs",
    "known_materials",
    "material",
    "sheet",
    "sheet_findings",
    "strength_of",
    "thickness_bands",
]
