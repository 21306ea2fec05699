"""Tables that ship with the package: read strictly, every row with a source."""

import random
from importlib import resources

import pytest

from platekit import handbook
from platekit.errors import PlatekitError, UnknownNameError

HEADER = "name,size_mm,count,ready,known,source\n"
TABLES = [
    *(
        ("platekit.hardware", f"tables/{path.name}")
        for path in (resources.files("platekit.hardware") / "tables").iterdir()
    ),
    *(
        ("platekit.materials", path.name)
        for path in resources.files("platekit.materials").iterdir()
        if path.name.endswith(".csv")
    ),
]


def _row(line: str) -> handbook.Row:
    return handbook.parse(HEADER + line, file="trial.csv")[0]


def test_there_are_tables_to_look_at():
    """Both rooms ship tables; an empty walk would prove nothing."""
    assert {package for package, _ in TABLES} == {"platekit.hardware", "platekit.materials"}
    assert len(TABLES) >= 16


@pytest.mark.parametrize(("package", "file"), TABLES, ids=str)
def test_every_row_that_ships_says_its_source_and_how_it_is_known(package, file):
    """No figure reaches a part without saying where it comes from."""
    for row in handbook.read(package, file):
        assert row.source.endswith(tuple(f"({known})" for known in handbook.KNOWN))
        if row.text("known") == "looked up":
            assert len(row.text("source")) >= len("ISO 15")


def test_a_sound_row_is_read_cell_by_cell():
    """Text, length, count, flag and source come back as typed."""
    row = _row("bolt,5.5,3,yes,looked up,ISO 273\n")
    assert row.text("name") == "bolt"
    assert row.length_mm("size_mm") == 5.5
    assert row.count("count") == 3
    assert row.flag("ready") is True
    assert row.source == "ISO 273 (looked up)"


@pytest.mark.parametrize("size", ["", "0", "-3", "nan", "inf", "five", "1e9"])
def test_an_absurd_length_names_file_line_and_column(size):
    """A slip in a table is found by its place, not by a spoiled sheet."""
    with pytest.raises(handbook.TableError) as caught:
        _row(f"bolt,{size},3,yes,looked up,ISO 273\n").length_mm("size_mm")
    assert "trial.csv, line 2, column size_mm" in str(caught.value)
    assert isinstance(caught.value, PlatekitError)
    assert isinstance(caught.value, ValueError)
    assert caught.value.remedy


@pytest.mark.parametrize("count", ["0", "-1", "2.5", "", "nan"])
def test_a_count_is_a_whole_number_from_one_up(count):
    """Half a hole is a slip."""
    with pytest.raises(handbook.TableError, match="column count"):
        _row(f"bolt,5,{count},yes,looked up,ISO 273\n").count("count")


def test_a_flag_says_yes_or_no():
    """Anything else is a slip."""
    with pytest.raises(handbook.TableError, match="yes or no"):
        _row("bolt,5,3,maybe,looked up,ISO 273\n").flag("ready")


def test_a_row_without_source_or_with_a_made_up_one_is_refused():
    """`known` is one of four words, and the source is never empty."""
    with pytest.raises(handbook.TableError, match="column known"):
        _ = _row("bolt,5,3,yes,hearsay,ISO 273\n").source
    with pytest.raises(handbook.TableError, match="column source"):
        _ = _row("bolt,5,3,yes,looked up,\n").source


@pytest.mark.parametrize("line", ["bolt,5,3,yes,looked up\n", "bolt,5,3,yes,looked up,ISO 273,x\n"])
def test_a_row_with_a_cell_too_many_or_too_few_is_refused(line):
    """A forgotten comma must not shift a diameter into a length."""
    with pytest.raises(handbook.TableError, match="too many cells or too few"):
        _row(line)


def test_an_empty_or_missing_table_is_refused():
    """A package that lost its tables says so."""
    with pytest.raises(handbook.TableError, match="holds no row"):
        handbook.parse(HEADER, file="trial.csv")
    with pytest.raises(handbook.TableError, match="cannot be read"):
        handbook.read("platekit.hardware", "tables/no_such.csv")


def test_lengths_of_a_list_rise():
    """A list of preferred lengths is in order, each once."""
    text = "lengths\n3;4;5\n"
    assert handbook.parse(text, file="t.csv")[0].lengths_mm("lengths") == (3.0, 4.0, 5.0)
    for wrong in ("3;5;4", "3;3;4", "", "3;-4"):
        row = handbook.Row("t.csv", 2, {"lengths": wrong})
        with pytest.raises(handbook.TableError):
            row.lengths_mm("lengths")


@pytest.mark.parametrize("asked", ["M2.5", "m2.5", " M 2,5 ", "M-2.5"])
def test_lookups_pass_over_case_spaces_dashes_and_decimal_commas(asked):
    """A name is found as it is spoken."""
    catalogue = handbook.Catalogue.of("screw", ["M2", "M2.5", "M25"], name=str)
    assert catalogue[asked] == "M2.5"


def test_an_unknown_name_is_offered_the_nearest():
    """The message lists what is known."""
    catalogue = handbook.Catalogue.of("screw", ["M2", "M2.5", "M25"], name=str)
    with pytest.raises(UnknownNameError, match=r"unknown screw 'M2.6'; did you mean .*M2.5"):
        catalogue["M2.6"]


def test_two_entries_under_one_name_are_refused():
    """Else one would hide the other."""
    with pytest.raises(handbook.TableError, match="stands twice"):
        handbook.Catalogue.of("screw", ["M 5", "m5"], name=str)


def _written(folder, content, name="own.csv"):
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("ending", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_a_users_table_is_read_as_spreadsheets_write_it(tmp_path, mark, ending):
    """UTF-8 with or without mark, either line end, empty lines passed over (RFC 4180)."""
    text = ending.join([HEADER.strip(), '"b, long",5.5,3,yes,measured,part in hand', ",,,,,", ""])
    rows = handbook.read_file(_written(tmp_path, mark + text.encode()))
    assert [row.text("name") for row in rows] == ["b, long"]
    assert rows[0].length_mm("size_mm") == 5.5
    assert rows[0].line == 2


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (HEADER.replace(",", ";") + "bolt;5;3;yes;measured;part\n", "semicolons"),
        (HEADER.replace(",", "\t") + "bolt\t5\t3\tyes\tmeasured\tpart\n", "tabs"),
        ("", "is empty"),
        (" \n\n", "is empty"),
        (HEADER, "holds no row"),
        ("größe,x\n1,2\n".encode("latin-1"), "no UTF-8"),
        ((HEADER + "bolt,5\n").encode("utf-16"), "no UTF-8"),
        (HEADER + 'bolt,"5,3,yes,measured,part\n', "line 2 cannot be read"),
        ("name,name\n1,2\n", "stands twice"),
        (HEADER + "bolt,5\n", "too many cells or too few"),
    ],
)
def test_a_users_table_that_cannot_be_read_is_named_with_its_cure(tmp_path, content, said):
    """The message names the file and says in a word what is wrong with it."""
    path = _written(tmp_path, content)
    with pytest.raises(handbook.TableError, match=said) as caught:
        handbook.read_file(path)
    assert str(path) in str(caught.value)
    assert caught.value.remedy


def test_a_table_that_is_not_there_or_is_a_folder_or_huge_is_refused(tmp_path):
    """No traceback of the operating system reaches the user."""
    with pytest.raises(handbook.TableError, match=r"none\.csv is not there"):
        handbook.read_file(tmp_path / "none.csv")
    with pytest.raises(handbook.TableError, match="is a folder"):
        handbook.read_file(tmp_path)
    huge = _written(tmp_path, b"a" * (handbook.LARGEST_FILE_BYTES + 1))
    with pytest.raises(handbook.TableError, match="bytes"):
        handbook.read_file(huge)
    with pytest.raises(handbook.TableError, match="nul"):
        handbook.read_file("nul\0byte.csv")
    with pytest.raises(handbook.TableError, match="no plain file"):
        handbook.read_file("/dev/null")


def test_blank_lines_before_the_header_do_not_hide_it(tmp_path):
    """Spreadsheets leave them where a title stood."""
    text = "\n,,,\n" + HEADER + "bolt,5,3,yes,measured,part\n"
    assert handbook.read_file(_written(tmp_path, text))[0].text("name") == "bolt"
    with pytest.raises(handbook.TableError, match="is empty"):
        handbook.read_file(_written(tmp_path, ",,,\n,,\n"))


@pytest.mark.parametrize("seed", range(40))
def test_a_spoiled_table_never_escapes_as_another_error(tmp_path, seed):
    """Bytes changed at random, seeded: rows come back, or one TableError that names the file."""
    chance = random.Random(seed)  # noqa: S311 - seeded trials
    content = bytearray((HEADER + 'bolt,"5",3,yes,measured,"part, in hand"\n' * 3).encode())
    for _ in range(chance.randint(1, 6)):
        content[chance.randrange(len(content))] = chance.choice(b'",;\n\r\0\xff\xc3-9e')
    path = _written(tmp_path, bytes(content))
    try:
        rows = handbook.read_file(path)
        for row in rows:
            row.length_mm("size_mm")
            row.count("count")
            row.points_mm("size_mm")
    except handbook.TableError as err:
        assert str(path) in str(err)  # noqa: PT017 - sound tables come back without an error


def test_points_are_read_in_pairs():
    """Two numbers in mm each, either sign; nothing where the cell is empty."""
    row = handbook.Row("t.csv", 2, {"holes": "-10 0; 10.5 2 ", "none": ""})
    assert row.points_mm("holes") == ((-10.0, 0.0), (10.5, 2.0))
    assert row.points_mm("none") == ()
    for wrong in ("1", "1 2 3", "a b", "1,2", "nan 0", "0 inf", "0 2001"):
        with pytest.raises(handbook.TableError, match="x y; x y"):
            handbook.Row("t.csv", 2, {"holes": wrong}).points_mm("holes")


def test_an_angle_lies_within_one_turn():
    """A slip of the finger is no angle."""
    assert handbook.Row("t.csv", 2, {"deg": "-90"}).angle_deg("deg") == -90
    with pytest.raises(handbook.TableError, match="within 360"):
        handbook.Row("t.csv", 2, {"deg": "361"}).angle_deg("deg")


def test_a_decimal_comma_is_met_with_its_cure():
    """Spreadsheets of half the world write 2,5."""
    with pytest.raises(handbook.TableError, match="decimal point"):
        _row('bolt,"5,5",3,yes,measured,part\n').length_mm("size_mm")


def test_a_table_without_a_column_says_which_it_needs():
    """Before any cell is read."""
    rows = handbook.parse("name,size_mm\na,3\n", file="trial.csv")
    handbook.require_columns(rows, ["size_mm", "name"])
    with pytest.raises(handbook.TableError, match=r"trial\.csv has no column width_mm; .*name"):
        handbook.require_columns(rows, ["name", "width_mm"])


def test_a_nought_in_a_cell_that_may_stay_empty_says_so():
    """Who writes 0 for "none" is told how none is written."""
    row = handbook.Row("parts.csv", 2, {"room_mm": "0", "spacer_mm": ""})
    with pytest.raises(handbook.TableError, match=r"line 2, .*room_mm is 0 mm; leave the cell"):
        row.optional_mm("room_mm")
    assert row.optional_mm("spacer_mm") is None
