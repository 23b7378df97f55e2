#!/usr/bin/env python3
"""What is read on a terminal, and what in a pipe or a file.

A pseudo-terminal of a given width stands for the player's own.
"""
import fcntl
import json
import os
import pathlib
import pty
import re
import struct
import subprocess
import sys
import termios

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import PROGRAM, ROOT, expect, flat, main, run

MUNICH = "keyed-bugle-c-6-munich"
CORNET = "cornet-b-flat-bore"
GALOP = "charts/attic-galop.abc"
PATTERN = "instruments/patterns/cornet-b-flat.yaml"
COLOR = re.compile(r"\x1b\[[0-9;]*m")


def _on_terminal(*args, columns=80, stdin=None, **environment):
    """What the terminal shows of both streams."""
    child, terminal = pty.fork()
    if child == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ,
                    struct.pack("HHHH", 40, columns, 0, 0))
        os.chdir(ROOT)
        os.environ.update({"TERM": "xterm", "LC_ALL": "C.UTF-8",
                           **environment})
        if stdin is not None:
            os.dup2(stdin, 0)
        os.execv(PROGRAM, ["hornbook", *map(str, args)])
    shown = b""
    while True:
        try:
            some = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            break
        if not some:
            break
        shown += some
    os.waitpid(child, 0)
    os.close(terminal)
    return shown.decode("utf-8").replace("\r\n", "\n")


def _answers():
    """Commands with their answers as text, over horns of every kind."""
    for horn in (MUNICH, CORNET, "cornopean-b-flat", "ophicleide-c-11",
                 "euphonium-b-flat-compensating-4", "bugle-b-flat",
                 "horn-f-ascending-third", "cornet-b-flat-third-two-tones"):
        yield "notes", horn
        yield "notes", horn, "--all", "--sounding", "--names", "solfege"
        yield "notes", horn, "--trills", "--sounding"
        yield "notes", horn, "--beside", "keyed-bugle-b-flat-6"
        yield "notes", horn, "--stuck", "slide:" + _slide(horn) + "=in"
        yield "notes", horn, "--hold", "C5 E5 G5"
        yield "scales", horn, "--names", "solfege"
        yield "slides", horn
        yield "check", horn
        yield "passage", horn, GALOP, "--choices", "3"
        yield "passage", horn, GALOP, "--brief"
        yield "choose", GALOP, horn, "cornet-b-flat"
        yield "pitch", horn, "cornet-b-flat"
    yield ("horns",)
    yield ("help",)
    for command in ("notes", "passage", "chart", "print", "fit"):
        yield "help", command
    yield "fit", "cornet-b-flat", "tests/data/readings/minimal.yaml"
    yield "identify", "tests/data/readings/minimal.yaml", "cornet-b-flat"


def _slide(horn):
    answer = json.loads(run("check", horn, "--json").stdout)["horns"][0]
    return answer["slides"][0]["slide"] if answer["slides"] else "main"


def no_line_of_a_pipe_is_over_80_columns(_):
    for asked in _answers():
        text = run(*asked).stdout
        for line in text.splitlines():
            assert len(line) <= 80, (asked, line)
            assert line == line.rstrip(), (asked, line)


def a_pipe_has_ascii_accidentals_and_no_color(_):
    for asked in _answers():
        text = run(*asked).stdout
        assert not set("♯♭𝄪𝄫\x1b\x00\x01\x02\x03\x1f\xa0") & set(text), asked


def a_file_is_as_a_pipe(folder):
    for asked in (("notes", MUNICH), ("slides", CORNET)):
        shown = run(*asked).stdout
        expect(run(*asked, "-o", folder / "x.txt"), 0)
        assert (folder / "x.txt").read_text() == shown
        seen = _on_terminal(*asked, "-q", "-o", folder / "y.txt")
        assert seen == "" and (folder / "y.txt").read_text() == shown


def a_terminal_has_the_signs_where_it_can(_):
    shown = _on_terminal("notes", MUNICH, NO_COLOR="1")
    assert "C♯4 D♭4" in shown and "#" not in shown
    plain = _on_terminal("notes", CORNET, NO_COLOR="1", LC_ALL="C")
    assert "C#4 Db4" in plain and plain.isascii()
    assert flat(plain).replace("'", "’").replace(" 20 C ", " 20 °C ") == flat(
        run("notes", CORNET).stdout)


def the_width_of_the_terminal_is_used(_):
    def lines(columns):
        shown = _on_terminal("notes", MUNICH, "--all", columns=columns,
                             NO_COLOR="1").splitlines()
        assert all(len(line) <= columns for line in shown)
        return shown

    assert min(len(lines(60)), len(lines(80))) > len(lines(120))
    assert max(map(len, lines(110))) > 80
    # Over 120 a line is hard to follow: our own choice.
    assert lines(300) == lines(120)
    words = {columns: " ".join(lines(columns)).split()
             for columns in (60, 80, 120)}
    assert words[60] == words[80] == words[120]


def color_is_for_terminals_that_want_it(_):
    shown = _on_terminal("notes", MUNICH)
    assert COLOR.search(shown)
    assert COLOR.sub("", shown) == _on_terminal("notes", MUNICH, NO_COLOR="1")
    assert not COLOR.search(_on_terminal("notes", MUNICH, TERM="dumb"))
    # Heads are bold, and what is 30 cents off is marked: nothing else.
    marked = re.findall(r"\x1b\[31m([^\x1b]*)\x1b\[0m", shown)
    assert marked and all(abs(int(cents)) >= 30 for cents in marked)
    refused = _on_terminal("notes", "tests/bad/choices.yaml")
    assert "\x1b[1;31merror:\x1b[0m" in refused
    assert "\x1b" not in run("notes", "tests/bad/choices.yaml").stderr


def what_lasts_is_said_to_be_at_work(_):
    """A horn that comes through a pipe only after more than a second."""
    def shown(*args):
        pipe, late_end = os.pipe()
        with subprocess.Popen(["sh", "-c", f"sleep 1.4; cat {PATTERN}"],
                              cwd=ROOT, stdout=late_end):
            os.close(late_end)
            told = _on_terminal("notes", "-", *args, stdin=pipe)
            os.close(pipe)
        return told

    told = shown()
    assert "\rnotes: at work for 1 s " in told
    # Before the answer the line is wiped.
    assert "\r\x1b[K" in told.split("at work for")[-1]
    assert told.split("\x1b[K")[-1].startswith("Cornet in B flat")
    assert "at work" not in shown("--quiet")


def no_file_steers_the_terminal(folder):
    own = folder / "x\x1b[31m.yaml"
    own.write_text((ROOT / "instruments/patterns/cornet-b-flat.yaml")
                   .read_text())
    assert "\x1b[31m" not in _on_terminal("check", own, NO_COLOR="1")


def three_alternates_are_shown_and_all_on_request(_):
    def most(*args):
        table = run("notes", MUNICH, *args).stdout.split("\n\n")[1]
        rows = re.split(r"\n(?=[A-G])", table)[1:]
        return max(len(re.findall(r"\(\d+, [+-]\d+\)", row)) for row in rows)

    every = json.loads(run("notes", MUNICH, "--json").stdout)["notes"]
    many = max(len(note["fingerings"]) for note in every) - 1
    assert many > 3 and most() == 3 and most("--all") == many
    text = run("notes", MUNICH).stdout
    assert re.search(r"\+\d+ more\n", text) and "--all shows every alternate" in text
    assert not re.search(r"\+\d+ more", run("notes", MUNICH, "--all").stdout)
    for asked in (("--all", "--json"), ("--all", "--trills"),
                  ("--brief", "--all"), ("--brief", "--sounding"),
                  ("--brief", "--format", "csv")):
        expect(run("notes", MUNICH, *asked), 2)


def the_brief_form_has_notes_and_fingerings_alone(_):
    lines = run("notes", "ophicleide-c-9", "--brief").stdout.splitlines()
    every = json.loads(
        run("notes", "ophicleide-c-9", "--json").stdout)["notes"]
    assert [line.split()[-1] for line in lines] == [
        note["fingerings"][0]["label"] if note["fingerings"] else "-"
        for note in every]
    assert "-" in {line.split()[-1] for line in lines}
    text = run("passage", CORNET, GALOP, "--brief").stdout
    data = json.loads(run("passage", CORNET, GALOP, "--json").stdout)
    assert re.findall(r"[A-G][#b]?\d ([0-9-]+)", text) == [
        note["label"] for note in data["notes"]]
    expect(run("passage", CORNET, GALOP, "--brief", "--choices", "2"), 2)
    expect(run("passage", CORNET, GALOP, "--brief", "--json"), 2)


sys.exit(main(globals()))
