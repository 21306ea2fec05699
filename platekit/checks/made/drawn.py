"""What is asked while a part or a joint is drawn; the findings come from where it is drawn."""

from __future__ import annotations

from platekit.checks.check import Check

DRAWN: tuple[Check, ...] = (
    Check(
        name="made.material",
        asks="May a laser cut the sheet, and what is to be minded?",
        by="A table of substances by what they give off under the beam: what harms people or the "
        "machine (PVC and all that holds chlorine, fluorine, glass or carbon fibre) is an error, "
        "nothing is made of it; what burns or smokes badly (polycarbonate, ABS, POM) is a "
        "warning. Laser safety pages of universities, looked up, and common practice of laser "
        "workshops, from memory; the table says which.",
    ),
    Check(
        name="made.thickness",
        asks="Does the sheet measure what a sheet sold as that thickness measures?",
        by="Limits of EN 315 (plywood), EN 622-1 (fibreboard), ISO 7823-1 and -2 (acrylic), as "
        "typed in thickness_tolerance.csv with how each is known; a tenth of the nominal where "
        "none is typed (common practice, no source).",
    ),
    Check(
        name="made.web",
        asks="Is enough material left between two cuts, and between a cut and the edge?",
        by="Exact distance between every pair of rings of a plate, against the sheet's least web: "
        "its thickness, 2 mm at least for wood, half as much between openings that panels fill "
        "(common practice, no source), or what the plate asks for.",
    ),
    Check(
        name="made.kerf",
        asks="What is the beam too wide for?",
        by="Every edge moves out by half the kerf (Minkowski sum with a disc, de Berg et al., "
        "Computational Geometry, 3rd ed., chapter 13): what vanishes, splits or closes on the way "
        "is an error that names the feature; a width within 0.004 mm of the kerf a warning; a "
        "detail that comes out rounder a note.",
    ),
    Check(
        name="made.doubled",
        asks="Does the beam run along one line twice?",
        by="Lengths that lines and arcs of the cut paths share within 0.001 mm, on a part and on a "
        "whole sheet. A second pass burns the edge and may set the sheet alight (common practice, "
        "no source).",
    ),
    Check(
        name="made.pocket",
        asks="Would a panel have to end inside another one?",
        by="A laser cuts right through, so that no pocket is blind: an edge that ends part way "
        "into another panel stops the job.",
    ),
    Check(
        name="made.finger",
        asks="Are fingers and tabs wide enough?",
        by="Their width as dealt, against the sheet's least finger (a thickness for plywood, more "
        "for what is brittle: common practice, no source).",
    ),
    Check(
        name="made.room",
        asks="Is the room that nuts, locks and connectors need clear?",
        by="Exact distance from the room a catalogue part needs on the plate to other cuts and to "
        "the edge.",
    ),
    Check(
        name="made.thread",
        asks="Does enough of a screw's thread go into what is tapped?",
        by="What the longest screw that is made engages, against the length at which it breaks "
        "before its thread strips: a diameter in steel, more in softer metals (workshop handbooks' "
        "rule of thumb for a class 8.8 screw, from memory). A little less is a note.",
    ),
    Check(
        name="made.clamped",
        asks="Can what is clamped into a plate grip its thickness?",
        by="The greatest panel thickness in the table of panel cut-outs, which says where it is "
        "from.",
    ),
)
