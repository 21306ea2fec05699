"""The command line as a whole: versions, help, usage, and how it starts and ends."""

import os
import re
import subprocess
import sys

import pytest

import platekit
from platekit.cli import main

# The package under test, whether it is installed or not.
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}


def run(*words: str, **options) -> subprocess.CompletedProcess[str]:
    """Run ``python -m platekit`` as a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "platekit", *words],
        capture_output=True,
        text=True,
        check=False,
        env=ENVIRONMENT,
        **options,
    )


def test_the_version_is_the_packages():
    """``--version`` prints name and version, on standard output."""
    ended = run("--version")
    assert (ended.returncode, ended.stdout, ended.stderr) == (
        0,
        f"platekit {platekit.__version__}\n",
        "",
    )


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["make", "--help"],
        ["nest", "--help"],
        ["compare", "--help"],
        ["catalogue", "--help"],
        ["check", "--help"],
        ["page", "--help"],
        ["new", "-h"],
    ],
)
def test_help_is_an_answer(words, capsys):
    """Help goes to standard output and ends well."""
    assert main(words) == 0
    said = capsys.readouterr()
    assert said.out.startswith("usage: platekit")
    assert said.err == ""


def test_make_help_lists_the_whole_contract(capsys):
    """Every option of the contract is explained, each with unit or choices."""
    main(["make", "--help"])
    said = capsys.readouterr().out
    for option in (
        "--thickness MM",
        "--kerf MM",
        "--stock WxH[xN]",
        "--gap MM",
        "--margin MM",
        "--set NAME=VALUE",
        "--seconds S",
        "--seed N",
        "--out DIR",
        "--json",
    ):
        assert option in said


def test_nothing_heavy_is_imported_for_help():
    """numpy, shapely, ezdxf and manifold3d wait until a command needs them."""
    code = (
        "import sys; from platekit.cli import main; main(['--help']);"
        "print(sorted({'numpy', 'shapely', 'ezdxf', 'manifold3d'} & set(sys.modules)))"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env=ENVIRONMENT,
    )
    assert ended.stdout.splitlines()[-1] == "[]"


@pytest.mark.skipif(sys.platform == "win32", reason="a child's time at work is POSIX's to tell")
def test_help_comes_at_once():
    """Importing and printing help is less than 0.3 s of work beyond the interpreter's own start.

    Time at work (times, of POSIX), not by the clock: a machine may be busy with other tests.
    """

    def least_work_s(*words: str) -> float:
        times = []
        for _ in range(4):  # the first may have to read from the disk
            before = os.times()
            subprocess.run(
                [sys.executable, *words], capture_output=True, check=True, env=ENVIRONMENT
            )
            after = os.times()
            user = after.children_user - before.children_user
            times.append(user + after.children_system - before.children_system)
        return min(times)

    assert least_work_s("-m", "platekit", "--help") - least_work_s("-c", "pass") < 0.3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "no command given"),
        (["mak"], "'mak'"),
        (["make"], "no recipe given"),
        (["make", "x.py", "--thicknes", "3"], "--thicknes"),
        (["make", "x.py", "--thickness"], "--thickness"),
        (["make", "x.py", "--thickness", "thin"], "'thin' is no number"),
        (["make", "x.py", "--seed", "1.5"], "'1.5' is no whole number"),
        (["make", "x.py", "--stock", "big"], "'big'"),
        (["make", "x.py", "--stock", "600x0"], "600x0"),
        (["make", "x.py", "--set", "width_mm"], "'width_mm' is not NAME=VALUE"),
        (["make", "x.py", "--set", "=3"], "'=3' is not NAME=VALUE"),
        (["make", "x.py", "--join", "square"], "square"),
        (["make", "x.py", "y.py"], "y.py"),
        (["nest"], "FILE"),
        (["new"], "NAME"),
    ],
)
def test_a_command_line_without_sense_is_refused(words, said, capsys):
    """Exit 2, one line on standard error under the program's name, nothing on standard output."""
    assert main(words) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("platekit: ")
    assert told.err.count("\n") == 1
    assert said in told.err


def test_a_fault_of_ours_is_no_traceback(monkeypatch, capsys):
    """What nobody foresaw asks for a report; the traceback waits behind a variable."""
    import platekit.cli.new as writer

    def broken(*_, **__):
        raise ZeroDivisionError

    monkeypatch.setattr(writer, "write_first_recipe", broken)
    assert main(["new", "bracket"]) == 2
    told = capsys.readouterr().err
    assert "fault in platekit itself" in told
    assert "Traceback" not in told
    monkeypatch.setenv("PLATEKIT_TRACEBACK", "1")
    main(["new", "bracket"])
    assert "Traceback" in capsys.readouterr().err


def test_an_interrupt_ends_quietly(monkeypatch, capsys):
    """Ctrl-C: exit 130, one line, no traceback."""
    import platekit.cli.new as writer

    def interrupted(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr(writer, "write_first_recipe", interrupted)
    assert main(["new", "bracket"]) == 130
    assert re.fullmatch(r"platekit: interrupted[^\n]*\n", capsys.readouterr().err)


def test_a_reader_that_goes_away_is_no_fault():
    """A pipe that nobody reads any more: no traceback, no complaint."""
    read, write = os.pipe()
    os.close(read)
    try:
        ended = subprocess.run(
            [sys.executable, "-m", "platekit", "make", "--help"],
            stdout=write,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            env=ENVIRONMENT,
        )
    finally:
        os.close(write)
    assert ended.stderr == ""
    assert ended.returncode == 0
