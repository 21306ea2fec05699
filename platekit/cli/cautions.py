"""The few lines about laser work that every job ends with."""

# What each line rests on: IEC 60825-1 (class 4 source inside an enclosed cutter), the harm done
# by hydrogen chloride from PVC, and common practice on attendance, extraction and fire; all of it
# is general knowledge of the trade, told here as a reminder and not as instruction.
CAUTIONS = (
    "Before the laser runs:",
    "  - stay with it until it stops, with something to put a fire out at arm's length;",
    "  - run extraction and air first; let the smoke clear before the lid opens;",
    "  - never cut PVC, vinyl, PTFE or a board you cannot name: the fumes harm lungs and machine;",
    "  - leave covers and interlocks alone: the beam inside blinds and burns, and is not seen.",
    "Cut one small part first and measure it. The rules of your workshop and country come first.",
)
