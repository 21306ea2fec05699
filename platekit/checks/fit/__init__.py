"""The family "fit": joints, seats and shafts in line, by the scatter of sheet and beam."""

from platekit.checks.check import Check
from platekit.checks.fit.joints import as_bought, go_together, hold_still
from platekit.checks.fit.seats import seated
from platekit.checks.fit.stacks import in_line

CHECKS: tuple[Check, ...] = (
    Check(
        name="fit.joint",
        asks="Does a joint go together?",
        by="Joints are drawn by lot: along the joint its play is the clearance and twice the "
        "kerf's error, across it the clearance and the kerf's error less the thickness's, each "
        "less the range of the tabs' places, since every tab must find its slot at once, and so "
        "must the halvings of a grid. The "
        "share above the least play counts: 0 to slide, what the material gives way by to be "
        "glued or pressed. Thickness and kerf are one size each in a joint. Scatter is normal, "
        "its half band three standard deviations; sheets are as thick as said. Taper of the cut, "
        "moisture and warp are left out. What misses by less than the kerf is known to is a note. "
        "Scatter: common practice, no source.",
        run=go_together,
    ),
    Check(
        name="fit.rattle",
        asks="Does a joint hold still once it is together?",
        by="The same joints drawn by lot: a glued one where its gaps are no wider than glue "
        "fills, one that slides where its play is no more than is felt, a pressed one where it "
        "is tight along or across. Joints drawn together by screws are left out. Limits: common "
        "practice, no source.",
        run=hold_still,
    ),
    Check(
        name="fit.seat",
        asks="Does a bought part go into its hole, and does a pressed one sit in it?",
        by="Holes are drawn by lot: hole less part, the kerf's error and the path's, less what "
        "layers lie beside each other. A part that nothing else holds may be as tight as the "
        "material gives way; it sits where the hole is no wider than the part, which is a note "
        "only, since glue helps. The dowels of a laminate must all find the holes of each layer. "
        "Bought parts are taken at their nominal size. Scatter: common practice, no source.",
        run=seated,
    ),
    Check(
        name="fit.sheet",
        asks="What becomes of the joints of a sheet that was not measured?",
        by="A sheet whose thickness is its nominal one is taken as not measured: anywhere in the "
        "narrowest band of its standard (EN 315, EN 622-1, ISO 7823), evenly. The joints that "
        "grip it are drawn again with that.",
        run=as_bought,
    ),
    Check(
        name="fit.stack",
        asks="Do the supports of one shaft lie on one line, and does a belt's travel do?",
        by="Between two panels lie, along the chain of joints that scatters least, the places of "
        "tabs and slots and half of every clearance; at its ends the holes. Their root sum square "
        "counts, the worst case is told with it; what two centres share counts once, by the lever "
        "that it has. Two bearings are held against the tilt between their rings, a motor or a "
        "third bearing against the line of the outer two, a belt's distance against what its "
        "travel leaves. Layers of a laminate count as one. Limits: common practice "
        "and makers' catalogues, from memory.",
        run=in_line,
    ),
)
