"""The stroke table: letters a laser can score with single lines and arcs.

Drawn for this project. A letter stands in a cell 12 units high, its width given first. Then its
strokes, parted by "|"; each is a row of points, two base-36 digits x and y each, the first where
the stroke begins. A bare point is reached straight; "(" and ")" reach it by a quarter turn to the
left or right, "((" and "))" by a half turn.

Zero carries a slash and the letter O does not; one has a foot, I has two serifs: what is scored
at 3 mm in brown wood must not be guessed at.
"""

from __future__ import annotations

CELL_HEIGHT = 12
GAP = 3  # between letters

STROKES: dict[str, tuple[int, str]] = {
    " ": (4, ""),
    "A": (8, "00 4c 80|13 73"),
    "B": (8, "00 0c 5c ))56 06|56 ))50 00"),
    "C": (8, "89 88 ((08 04 ((84 83"),
    "D": (8, "00 0c 4c )88 84 )40 00"),
    "E": (7, "7c 0c 00 70|06 56"),
    "F": (7, "7c 0c 00|06 56"),
    "G": (8, "89 88 ((08 04 ((84 86 56"),
    "H": (8, "00 0c|80 8c|06 86"),
    "I": (4, "00 40|20 2c|0c 4c"),
    "J": (7, "7c 73 ))13"),
    "K": (8, "00 0c|8c 04|37 80"),
    "L": (7, "0c 00 70"),
    "M": (8, "00 0c 45 8c 80"),
    "N": (8, "00 0c 80 8c"),
    "O": (8, "04 08 ))88 84 ))04"),
    "P": (8, "00 0c 5c ))56 06"),
    "Q": (8, "04 08 ))88 84 ))04|53 80"),
    "R": (8, "00 0c 5c ))56 06|46 80"),
    "S": (8, "89 (5c 3c ((36 56 ))50 30 )03"),
    "T": (8, "0c 8c|4c 40"),
    "U": (8, "0c 04 ((84 8c"),
    "V": (8, "0c 40 8c"),
    "W": (8, "0c 20 48 60 8c"),
    "X": (8, "00 8c|0c 80"),
    "Y": (8, "0c 46 8c|46 40"),
    "Z": (8, "0c 8c 00 80"),
    "0": (8, "04 08 ))88 84 ))04|34 58"),
    "1": (6, "09 3c 30|00 60"),
    "2": (8, "08 ))88 00 80"),
    "3": (8, "09 )3c 5c ))56 36|56 ))50 30 )03"),
    "4": (8, "60 6c 03 83"),
    "5": (8, "7c 0c 07 47 ))40 00"),
    "6": (8, "7c 4c (08 04 ((84 ((04"),
    "7": (8, "0c 8c 30"),
    "8": (8, "19 ))79 ))19|13 ))73 ))13"),
    "9": (8, "10 40 (84 88 ((08 ((88"),
    "-": (6, "06 66"),
    "_": (8, "00 80"),
    ".": (0, "00 01"),
    ",": (1, "11 00"),
    ":": (0, "02 03|08 09"),
    "/": (6, "00 6c"),
    "+": (6, "06 66|33 39"),
    "=": (6, "04 64|08 68"),
    "(": (3, "3c (30"),
    ")": (3, "0c )00"),
    "#": (8, "20 2c|60 6c|04 84|08 88"),
    "\N{LATIN CAPITAL LETTER O WITH STROKE}": (8, "04 08 ))88 84 ))04|00 8c"),
}
