"""The family "made": can it be cut as drawn."""

from platekit.checks.check import Check
from platekit.checks.made.bed import drops, on_bed
from platekit.checks.made.drawn import DRAWN
from platekit.checks.made.grain import grain
from platekit.checks.made.heat import corners, dense
from platekit.checks.made.necks import necks
from platekit.checks.made.openings import holes, slots
from platekit.checks.made.pockets import nut_pockets
from platekit.checks.made.writing import letters

CHECKS: tuple[Check, ...] = (
    *DRAWN,
    Check(
        name="made.neck",
        asks="Is a part's own outline wide enough everywhere?",
        by="Where a ring faces itself across the material, exact, against the sheet's least web: "
        "its thickness, 2 mm at least for wood; half the thickness beside joints, whose openings "
        "are filled (common practice, no source), or what the plate asks for. Narrower than the "
        "cut it burns away. Sharp corners are no necks; webs between two cuts are made.web's.",
        run=necks,
    ),
    Check(
        name="made.hole",
        asks="Are holes large enough for the thickness?",
        by="The size of every round or small hole against half the thickness, 1 mm at least; under "
        "half of that it is a warning, else a note (common practice, no source).",
        run=holes,
    ),
    Check(
        name="made.slot",
        asks="Are slots and notches wide enough for the beam?",
        by="Where a ring faces itself across its void, exact, against two kerfs: of a slot as "
        "narrow nothing is left between its two cuts (common practice, no source). Slots narrower "
        "than the cut itself are made.kerf's.",
        run=slots,
    ),
    Check(
        name="made.bed",
        asks="Does every part fit the laser's bed?",
        by="Extents of the cut path against the bed that was given, turned in steps of 1 degree "
        "and of 0.01 near the best. Room for clamps is not looked at; sheets larger "
        "than the bed are told when they are laid out.",
        run=on_bed,
    ),
    Check(
        name="made.drops",
        asks="Does anything fall or tip through the bed's grid?",
        by="Longest sides against two cells of a honeycomb of 10 mm, or of the grid that "
        "--bed-grid gives (slats stand wider apart); parts are a warning; more than 40 cut-outs "
        "of one to two cells in one part, which may tip up, a note (common practice, no source).",
        run=drops,
    ),
    Check(
        name="made.corner",
        asks="Are there tips so sharp that they char away?",
        by="The angle of material between the edges at every corner, exact, against 30 degrees "
        "(common practice, no source).",
        run=corners,
    ),
    Check(
        name="made.heat",
        asks="Does the beam pass too often over one place?",
        by="Length of the cut path in squares of 20 x 20 mm over their area, against 0.5 mm/mm2, "
        "as of lines 2 mm apart (common practice, no source).",
        run=dense,
    ),
    Check(
        name="made.text",
        asks="Can what is scored be read, and does it lie on the material?",
        by="Height of letters against ten widths of a stroke (ISO 3098-1, lettering type B, from "
        "memory), the stroke as wide as the cut. Marks that run over an edge or a hole, and names "
        "that find no room, are told where the part is drawn.",
        run=letters,
    ),
    Check(
        name="made.grain",
        asks="Does the face grain of slender parts under load run along them?",
        by="Bending strength across the grain over that along it, from the table of strengths, "
        "for parts three times as long as wide that a load comes to; under 0.6 it should lie "
        "along (common practice, no source). Only where the sheet's grain counts.",
        run=grain,
    ),
    Check(
        name="made.nut_pocket",
        asks="Does the sheet guide a screw that enters its edge?",
        by="Thickness of the sheet, of a laminate all layers that have the pocket, against the "
        "screw's diameter (common practice, no source). Screwed joints tell it where they are "
        "dealt.",
        run=nut_pockets,
    ),
)
