"""The user's list of prices: read exactly, or one error that says where and what to do."""

from fractions import Fraction

import pytest

from platekit.errors import PlatekitError
from platekit.job.prices import folded, read_prices


@pytest.fixture
def listed(tmp_path):
    """A way to read a list from the disk."""

    def read(text, *, encoding="utf-8"):
        path = tmp_path / "prices.csv"
        path.write_bytes(text.encode(encoding) if isinstance(text, str) else text)
        return read_prices(path)

    return read


def test_prices_are_exactly_what_is_written(listed):
    """One in a hundred of a box, and 0.1, which no binary fraction is."""
    prices = listed('designation,price,per\nscrew ISO 4762 M5x16,4.50,100\n"encoder, 58 mm",0.1,\n')
    assert prices.price_of("screw ISO 4762 M5x16") == Fraction(45, 1000)
    assert prices.price_of("encoder, 58 mm") == Fraction(1, 10)
    assert prices.price_of("screw ISO 4762 M5x20") is None


@pytest.mark.parametrize(
    "name",
    [
        "SCREW iso 4762 m2.5 x 16",
        "screw ISO-4762 M2,5x16",
        " screw ISO 4762 M2.5\u00d716 ",  # a multiplication sign
        "screw ISO 4762 M2.5\u00a0x\u00a016",  # spaces that do not break
        "screw ISO 4762 M2.5\u2013x\u201316",  # dashes
    ],
)
def test_case_spaces_and_dashes_do_not_matter(listed, name):
    """A list typed by hand, or taken out of a document, finds what the bill calls it."""
    prices = listed("designation,price\nscrew ISO 4762 M2.5x16,2\n")
    assert prices.price_of(name) == 2


def test_the_bills_own_cell_is_found(listed):
    """Copied from the bill, where an apostrophe keeps it from being a formula."""
    assert listed("designation,price\n'-2 mm shim,2\n").price_of("-2 mm shim") == 2


def test_letters_of_every_alphabet_count():
    """Two words that differ in letters beyond Latin only are two things."""
    assert folded("\u0431\u043e\u043b\u0442 1") != folded("\u0433\u0430\u0439\u043a\u0430 1")
    assert folded("M5") != folded("M0.5")
    assert folded("M5+1") != folded("M51")


def test_a_spreadsheets_mark_and_line_ends_are_no_matter(listed):
    """A byte order mark, and lines that end as elsewhere."""
    assert listed(b"\xef\xbb\xbfdesignation,price\r\nnut,1.25\r\n").price_of("nut") == Fraction(
        5, 4
    )


def test_the_same_price_twice_is_one(listed):
    """One box or one piece at the same price: no contradiction."""
    text = "designation,price,per\nnut,2.00,4\nNut,0.5,\n"
    assert listed(text).price_of("nut") == Fraction(1, 2)


HEAD = "designation,price,per\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param(HEAD + "nut,-1,", "line 2, column price is '-1'; give figures", id="negative"),
        pytest.param(HEAD + "nut,nan,", "column price is 'nan'", id="no number"),
        pytest.param(HEAD + "nut,inf,", "column price is 'inf'", id="endless"),
        pytest.param(HEAD + "nut,1e3,", "column price is '1e3'", id="exponent"),
        pytest.param(HEAD + "nut,1_0,", "column price is '1_0'", id="underscore"),
        pytest.param(HEAD + "nut,\u0661,", "column price is '\u0661'", id="other figures"),
        pytest.param(HEAD + "nut,4 EUR,", "give figures alone", id="a currency"),
        pytest.param(HEAD + "nut,1000001,", "from 0 to 1000000", id="absurd"),
        pytest.param(
            HEAD + f"nut,{'9' * 5000},", f"column price is '{'9' * 40}...'", id="endless figures"
        ),
        pytest.param(HEAD + 'nut,"2,50",', "2.50 rather than 2,50", id="a decimal comma"),
        pytest.param(HEAD + "nut,1,\nbolt,,", "line 3, column price is empty", id="no price"),
        pytest.param(HEAD + ",1,", "line 2, column designation is empty", id="no designation"),
        pytest.param(HEAD + "-,1,", "column designation is '-'", id="a dash alone"),
        pytest.param(HEAD + "nut,1,0", "line 2, column per is 0", id="a box of none"),
        pytest.param(HEAD + "nut,1,2.5", "column per is 2.5", id="a box of halves"),
        pytest.param(HEAD + "nut,1,1e9", "column per is 1e+09", id="a box too large"),
        pytest.param(
            HEAD + "nut,1,\nbolt,1,\n N-ut,2,",
            "line 4, column designation names 'N-ut' once more, at another price than line 2",
            id="two prices",
        ),
        pytest.param("designation\nnut", "has no column price", id="no column of prices"),
        pytest.param("name,price\nnut,1", "has no column designation", id="another name"),
        pytest.param(
            "designation,price,euro\nnut,1,2", "line 1: column 'euro' is not known", id="unknown"
        ),
        pytest.param("designation,price,\nnut,1,", "line 1: column '' is not known", id="nameless"),
        pytest.param("designation,price,price\nnut,1,2", "'price' stands twice", id="twice"),
        pytest.param("designation;price\nnut;1", "has semicolons", id="semicolons"),
        pytest.param("", "is empty", id="empty"),
        pytest.param("designation,price\n", "holds no row", id="a header alone"),
        pytest.param("designation,price\nnut", "too many cells or too few", id="too few"),
        pytest.param('designation,price\n"nut,1', "cannot be read", id="an open quote"),
        pytest.param(b"designation,price\nm\xfctter,1\n", "is no UTF-8 text", id="not UTF-8"),
    ],
)
def test_what_is_wrong_is_said(listed, text, said):
    """File, line, column, value and remedy."""
    with pytest.raises(PlatekitError) as caught:
        listed(text)
    assert said in str(caught.value)
    assert "prices.csv" in str(caught.value)
    assert caught.value.remedy


def test_a_list_that_is_not_there_is_said(tmp_path):
    """No file, or a folder."""
    with pytest.raises(PlatekitError, match="is not there"):
        read_prices(tmp_path / "none.csv")
    with pytest.raises(PlatekitError, match="is a folder"):
        read_prices(tmp_path)
