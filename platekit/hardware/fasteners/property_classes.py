"""Property classes: how strong a fastener is, as its head or its box says."""

from __future__ import annotations

from platekit.errors import UnknownNameError

# ISO 898-1. A leading 0 says that the head is too low to carry what the class would let it carry.
_STEEL_SCREWS = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")
_LOW_HEADS = ("08.8", "010.9", "012.9")
# ISO 3506: stainless steels A2 and A4, then a tenth of the tensile strength in N/mm2.
_STAINLESS = ("A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80")
SCREW_CLASSES = (*_STEEL_SCREWS, *_LOW_HEADS, *_STAINLESS)
# ISO 898-2, stainless ISO 3506-2; thin nuts bear a leading 0.
NUT_CLASSES = ("04", "05", "5", "6", "8", "10", "12", *_STAINLESS, "A2-035", "A4-035")


def screw_class(property_class: str) -> str:
    """Return the property class of a screw as given.

    Raises:
        UnknownNameError: ISO 898-1 and ISO 3506-1 have none such.
    """
    return _among("property class of a screw", property_class, SCREW_CLASSES)


def nut_class(property_class: str) -> str:
    """Return the property class of a nut as given.

    Raises:
        UnknownNameError: ISO 898-2 and ISO 3506-2 have none such.
    """
    return _among("property class of a nut", property_class, NUT_CLASSES)


def _among(kind: str, given: str, known: tuple[str, ...]) -> str:
    if given not in known:
        raise UnknownNameError.among(kind, given, known)
    return given
