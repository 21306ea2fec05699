"""``platekit catalogue``: what a recipe may name, and that it is true."""

import csv
import json
import os
import re
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

import platekit
from platekit import hardware
from platekit.cli import main
from platekit.errors import PartError
from platekit.job.catalogue.kinds import KINDS

PACKAGE = Path(str(resources.files("platekit")))
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}

# What the entries of each kind are called, as printed.
NAMES = {
    kind.name: tuple(
        table.columns[0].cell(row)
        for table in kind.tables
        if not table.aside
        for row in table.rows()
    )
    for kind in KINDS
}


@pytest.fixture
def told(capsys, monkeypatch):
    """Return what one command line prints, on a terminal of so many columns."""

    def _told(*words: str, columns: int = 100) -> str:
        monkeypatch.setenv("COLUMNS", str(columns))
        assert main(["catalogue", *words]) == 0
        said = capsys.readouterr()
        assert said.err == ""
        return said.out

    return _told


def cells(text: str, name: str, *, below: str = "") -> list[str]:
    """Return the cells of the printed row called `name`, of the first table below a line."""
    start = text.index(f"\n{below}\n") if below else 0
    for line in text[start:].splitlines():
        found = re.split(r"  +", line.strip())
        if found[0] == name and len(found) > 2:
            return found
    raise AssertionError(f"no row {name}")


def rows_in(file: Path) -> list[dict[str, str]]:
    """Read a table with nothing of ours."""
    with file.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_no_table_is_forgotten():
    """Every table that ships stands in some kind: a new one must be added to the catalogue."""
    shown = {table.file for kind in KINDS for table in kind.tables}
    ship = {path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.csv")}
    assert len(ship) > 25
    assert shown == ship


def test_every_kind_is_listed_with_its_entries_and_its_call(told):
    """One line a kind: its name, how many rows its tables have, the call that takes them."""
    lines = told().splitlines()
    for kind in KINDS:
        found = next(line for line in lines if line.split()[:1] == [kind.name])
        count = sum(len(rows_in(PACKAGE / t.file)) for t in kind.tables if not t.aside)
        assert found.split()[1] == (str(count) if count else "-")
        for call in kind.calls[:1]:
            assert found.endswith(call)


@pytest.mark.parametrize("call", [call for kind in KINDS for call in kind.calls])
def test_a_call_can_be_copied_into_a_recipe(call):
    """What is shown as a call runs as it stands, with the public names and no others."""
    public = {name: getattr(platekit, name) for name in platekit.__all__}
    assert eval(call, {"__builtins__": {}}, public) is not None  # noqa: S307  our own text


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.own], ids=lambda kind: kind.name)
def test_a_table_of_ones_own_is_read_as_told(kind):
    """The function named reads a table whose columns are those that ``--json`` shows."""
    read = getattr(platekit, kind.own)
    found = read(PACKAGE / kind.tables[0].file)
    assert tuple(found) == NAMES[kind.name]


# How a name of each kind is taken; sizes that the call needs besides are any that can be.
TAKEN_BY = {
    "encoders": lambda name: platekit.encoder(name, body_length_mm=50, shaft_length_mm=20),
    "bearings": platekit.ball_bearing,
    "hubs": lambda name: platekit.hub(name, bore_mm=6, thickness_mm=10, pilot_height_mm=3),
    "belts": lambda name: platekit.pulley(name, 40, bore_mm=5, width_mm=10),
    "cutouts": platekit.panel_device,
    "glands": platekit.gland,
    "devices": platekit.device,
    "nuts": lambda name: hardware.nut("ISO 4032", name),
    "washers": lambda name: hardware.washer("ISO 7089", name),
    "inserts": hardware.heat_set_insert,
    "holes": platekit.hole,
    "threads": lambda name: platekit.bolted(name, on="base", side="up"),
}


@pytest.mark.parametrize(
    ("kind", "name"), [(kind, name) for kind in TAKEN_BY for name in dict.fromkeys(NAMES[kind])]
)
def test_every_name_printed_is_taken(kind, name):
    """What the catalogue calls a thing is what a recipe may call it."""
    assert TAKEN_BY[kind](name) is not None


def test_every_face_printed_carries_a_motor(told):
    """Each face is taken: with a flange where its holes are bored, without where tapped."""
    text = told("motors")
    for name in NAMES["motors"]:
        bored = cells(text, name)[4] != "tapped"
        made = platekit.motor(
            name, body_length_mm=300, shaft_length_mm=60, flange_mm=10 if bored else None
        )
        assert (made.fixing.flange_mm is not None) == bored
        assert made.fixing.thread == cells(text, name)[2].partition(" x ")[2]


@pytest.mark.parametrize(
    ("file", "taken_by"),
    [
        ("screws.csv", hardware.screw_by),
        ("nuts.csv", hardware.nut),
        ("washers.csv", hardware.washer),
    ],
)
def test_every_standard_printed_is_taken_with_its_threads(file, taken_by, told):
    """The heading above a list and the threads in it find the fastener."""
    text = told(file.removesuffix(".csv"))
    for row in rows_in(PACKAGE / "hardware/tables" / file):
        assert cells(text, row["thread"], below=row["standard"])
        assert taken_by(row["standard"], row["thread"]).thread == row["thread"]


def test_pins_of_every_size_printed_are_taken(told):
    """Diameter, shortest and longest length of each standard make a pin."""
    text = told("pins")
    for row in rows_in(PACKAGE / "hardware/tables/pins.csv"):
        diameter, _, lengths, _ = cells(text, row["diameter_mm"], below=row["standard"])
        for length in lengths.split(" to "):
            made = platekit.dowel_pin(float(diameter), float(length), standard=row["standard"])
            assert row["standard"] in made.designation


def test_sheets_printed_can_be_cut_and_the_others_cannot(told):
    """Each material is taken in the first thickness printed; what is refused stays refused."""
    text = told("materials")
    for name in NAMES["materials"]:
        first = float(cells(text, name)[4].split(",")[0])
        assert platekit.sheet(name, nominal_mm=first).material.name == name
    for row in rows_in(PACKAGE / "materials/refused.csv"):
        assert cells(text, row["name"])
        with pytest.raises(PartError):
            platekit.sheet(row["name"], nominal_mm=3)


@pytest.mark.parametrize(
    ("kind", "below", "name", "figures"),
    [
        pytest.param(
            "motors",
            "",
            "NEMA 34",
            # Circle 3.875 in, spigot 2.875 in, shaft 0.375 in.
            ["4 x M5", "98.425", "73.025", "9.525"],
            id="NEMA ICS 16, inch values times 25.4",
        ),
        pytest.param(
            "motors", "", "IEC 80 B14", ["4 x M6", "100", "80", "19"], id="IEC 60072-1, FT100"
        ),
        pytest.param("bearings", "", "6004", ["20", "42", "12", "0.6"], id="ISO 15, series 10"),
        pytest.param("hubs", "", "ISO 9409-1-50-4-M6", ["4 x M6", "50", "31.5"], id="ISO 9409-1"),
        pytest.param("holes", "", "M5", ["5.3", "5.5", "5.8"], id="ISO 273:1979"),
        pytest.param("screws", "ISO 4762", "M5", ["8.5", "5", "4"], id="ISO 4762:2004"),
        pytest.param("nuts", "ISO 4032", "M5", ["8", "8.79", "4.7"], id="ISO 4032"),
        pytest.param("washers", "ISO 7089", "M5", ["5.3", "10", "1"], id="ISO 7089:2000"),
        pytest.param("threads", "", "M5", ["0.8", "4.2", "14.2"], id="ISO 261, ISO 898-1"),
        pytest.param("keys", "", "12 / 17", ["5 x 5", "3", "2.3"], id="DIN 6885-1, from memory"),
        pytest.param("belts", "", "T10", ["10"], id="ISO 17396"),
        pytest.param("fits", "", "18 / 30", ["9", "13", "21", "33"], id="ISO 286-1, IT5 to IT8"),
    ],
)
def test_figures_are_the_standards(kind, below, name, figures, told):
    """What a builder reads off is what the standard says, in the order printed."""
    row = iter(cells(told(kind), name, below=below))
    for figure in figures:
        assert figure in row


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_a_list_tells_how_each_is_known_and_all_doubts(kind, told):
    """How every row is known stands beside it; every doubt and every source stands below."""
    text = told(kind)
    flat = " ".join(text.split())
    for table in next(one for one in KINDS if one.name == kind).tables:
        for row in rows_in(PACKAGE / table.file):
            assert row["known"] in flat
            assert (row.get("doubt") or "") in flat
            for piece in row["source"].split(", ", maxsplit=1):
                assert piece in flat


@pytest.mark.parametrize("kind", ["devices", "cutouts"])
def test_what_can_hurt_is_said(kind, told):
    """Each hazard of the tables stands below the list, with the devices that bring it."""
    text = " ".join(told(kind).split())
    rows = rows_in(PACKAGE / next(one for one in KINDS if one.name == kind).tables[0].file)
    hazards = {word.strip() for row in rows for word in row["hazards"].split(";") if word.strip()}
    assert hazards
    for hazard in hazards:
        said = text.split(f"caution, {hazard}: ")[1]
        names = [row["designation"] for row in rows if hazard in row["hazards"]]
        assert said.startswith(", ".join(names))


def test_every_source_is_said_of_its_rows(told):
    """A source stands with the rows it holds for; "the others" is said once in a list at most."""
    for kind in KINDS:
        for part in told(kind.name).split("\n\n"):
            assert part.count("(the others)") <= 1
    text = " ".join(told("bearings").split())
    unsure = re.search(r"ISO 15; chamfer unsure \(([^)]*)\)", text)
    assert unsure is not None
    assert unsure[1].split(", ") == [
        row["designation"]
        for row in rows_in(PACKAGE / "hardware/tables/bearings.csv")
        if row["source"] == "ISO 15; chamfer unsure"
    ]


@pytest.mark.parametrize("kind", ["", *(kind.name for kind in KINDS)])
@pytest.mark.parametrize(("columns", "most"), [(100, 100), (80, 80), (20, 80), (500, 100)])
def test_lines_fit_the_terminal(kind, columns, most, told):
    """Nothing is wider than the terminal, 100 columns at most; lists never need more than 80."""
    lines = told(*filter(None, [kind]), columns=columns).splitlines()
    assert max(map(len, lines)) <= most


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        ("motors", "motors"),
        ("motor", "motors"),
        ("MOTOR-FACES", "motors"),
        ("motor faces", "motors"),
        ("ball_bearing", "bearings"),
        ("panel_device", "cutouts"),
        ("Cut-outs", "cutouts"),
        ("heat-set inserts", "inserts"),
        ("rails", "sized"),
        ("sheet", "materials"),
    ],
)
def test_a_kind_is_found_however_it_is_called(asked, kind, told):
    """Case, spaces, dashes, singular and the name of the call make no difference."""
    assert told(asked).startswith(f"{kind}: ")
    assert told(*asked.split()) == told(kind)


@pytest.mark.parametrize(
    ("asked", "offer"),
    [
        ("moters", "did you mean motors"),
        ("skrews", "did you mean screws"),
        ("bering", "did you mean bearings"),
        ("NEMA 34", "it stands among motors"),
        ("nema34", "it stands among motors"),
        ("xyz", "kinds: motors, encoders"),
        ("-", "kinds: motors, encoders"),
        ("\N{SNOWMAN}", "kinds: motors, encoders"),
    ],
)
@pytest.mark.parametrize("more", [[], ["--json"]])
def test_an_unknown_kind_is_told_with_the_nearest(asked, offer, more, capsys):
    """Exit 2, one line that offers something, nothing on standard output."""
    assert main(["catalogue", asked, *more]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert offer in said.err
    assert said.err.count("\n") == 1
    assert "Traceback" not in said.err


def _same(found: object, written: str) -> bool:
    """Return whether a value of the JSON object is what a cell of the table says."""
    if isinstance(found, list):
        parts = [part.strip() for part in written.split(";") if part.strip()]
        return len(found) == len(parts) and all(map(_same, found, parts))
    if isinstance(found, bool):
        return written == {True: "yes", False: "no"}[found]
    if isinstance(found, int | float):
        return float(written) == found
    return (found or "") == written.strip()


def _same_point(found: object, written: str) -> bool:
    pairs = [[float(word) for word in pair.split()] for pair in written.split(";") if pair]
    return found == pairs


def test_json_holds_every_field_of_every_table(told):
    """One object and nothing else, cell by cell what the tables say, unrounded."""
    whole = json.loads(told("--json"))
    assert [one["kind"] for one in whole["kinds"]] == [kind.name for kind in KINDS]
    seen = set()
    for kind in whole["kinds"]:
        for table in kind["tables"]:
            (file,) = PACKAGE.rglob(table["file"])
            seen.add(file)
            for found, written in zip(table["rows"], rows_in(file), strict=True):
                assert found.keys() == written.keys()
                for name, text in written.items():
                    same = _same_point if name == "holes" else _same
                    assert same(found[name], text), (file, name, found[name], text)
    assert seen == set(PACKAGE.rglob("*.csv"))


def test_json_of_one_kind_keeps_names_as_text_and_sizes_as_numbers(told):
    """A bearing's designation is a name, its bore a number; a nut's class "04" is no four."""
    (bearings,) = json.loads(told("bearings", "--json"))["kinds"]
    row = next(row for row in bearings["tables"][0]["rows"] if row["designation"] == "6004")
    assert (row["bore_mm"], row["series"], row["other_names"]) == (20, "10", [])
    (nuts,) = json.loads(told("nuts", "--json"))["kinds"]
    assert "04" in {row["property_class"] for row in nuts["tables"][0]["rows"]}


def test_nothing_heavy_is_imported():
    """The lists come at once: neither geometry nor drawing is loaded for them."""
    code = (
        "import sys; from platekit.cli import main; main(['catalogue']);"
        "main(['catalogue', 'nuts']);"
        "print(sorted({'numpy', 'shapely', 'ezdxf', 'manifold3d'} & set(sys.modules)))"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=ENVIRONMENT
    )
    assert ended.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("words", [[], ["motors"], ["--json"]])
def test_a_reader_that_goes_away_is_no_fault(words):
    """A pipe that nobody reads any more: no traceback, no complaint."""
    read, write = os.pipe()
    os.close(read)
    try:
        ended = subprocess.run(
            [sys.executable, "-m", "platekit", "catalogue", *words],
            stdout=write,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            env=ENVIRONMENT,
        )
    finally:
        os.close(write)
    assert (ended.returncode, ended.stderr) == (0, "")


def test_a_terminal_of_few_signs_gets_every_line(told):
    """Plain signs only: nothing in the lists that an old terminal could not show."""
    for kind in KINDS:
        assert told(kind.name).isascii()
