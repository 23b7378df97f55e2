#!/usr/bin/env python3
"""A horn file to begin with: by options, asked on a terminal, and onwards."""
import csv
import io
import os
import pty
import select
import subprocess
import sys
import time

sys.dont_write_bytecode = True

from tap import PROGRAM, expect, main, run

CORNET = ["--kind", "cornet", "--key", "Bb", "--valves", "3"]
BUGLE = ["--kind", "keyed bugle", "--key", "Bb", "--keys", "7"]
END = "\x04"


class _Terminal:
    """The program on a terminal: what it says, and what it is told."""

    def __init__(self, folder, *args):
        self.own, other = pty.openpty()
        self.process = subprocess.Popen(
            [str(PROGRAM), "new", *args], cwd=folder, stdin=other,
            stderr=other, stdout=other)
        os.close(other)
        self.said = ""

    def _more(self):
        if not select.select([self.own], [], [], 30)[0]:
            raise AssertionError("it says no more: " + self.said[-400:])
        try:
            data = os.read(self.own, 4096)
        except OSError:  # the other end is closed
            data = b""
        self.said += data.decode().replace("\r\n", "\n")
        return data != b""

    def until(self, wanted):
        """What it says up to those words."""
        while wanted not in self.said:
            assert self._more(), f"no '{wanted}' in: {self.said}"
        before, _, self.said = self.said.partition(wanted)
        return before

    def answer(self, usual, text):
        """Waits for the question with that in brackets, and types."""
        before = self.until(f"[{usual}] ")
        os.write(self.own, (text if text == END else text + "\n").encode())
        return before

    def end(self):
        while self._more():
            pass
        code = self.process.wait(30)
        os.close(self.own)
        return code, self.said


def options_ask_nothing_and_the_file_is_good(folder):
    result = expect(run("new", *BUGLE, "-o", "bugle.yaml", folder=folder), 0)
    assert result.stderr == "wrote bugle.yaml\n"
    facts = result.stdout.splitlines()
    assert facts[0] == ("bugle.yaml: the file is good: Keyed bugle in B flat, seven keys")
    assert "from the pattern keyed-bugle-b-flat-7-f-sharp" in facts[1]
    check = expect(run("check", "bugle.yaml", folder=folder), 0)
    assert check.stderr == ""
    assert check.stdout.splitlines()[0] == facts[0]
    assert check.stdout.splitlines()[1:] == facts[-len(
        check.stdout.splitlines()) + 1:]


def what_it_wrote_goes_through_check_chart_and_notes(folder):
    cases = [
        (BUGLE, "D#4", "4"), (CORNET, "F4", "1"),
        (["--kind", "ophicleide", "--key", "C", "--keys", "9"], "D2", "3"),
        (["--kind", "cornet", "--key", "Eb", "--valves", "3", "--lowers",
          "1 2 3"], "F4", "2"),
        (["--kind", "bugle", "--key", "G"], "G4", "0"),
        (["--pattern", "euphonium-b-flat-compensating-4"], "F4", "1"),
        (["--kind", "valve trombone", "--key", "Bb", "--valves", "3"],
         "D#3", "1"),
    ]
    for number, (args, note, fingering) in enumerate(cases):
        name = f"horn-{number}.yaml"
        expect(run("new", *args, "-q", "-o", name, folder=folder), 0)
        text = expect(run("check", name, folder=folder), 0).stdout
        assert f"{name}: the file is good: " in text, text
        expect(run("chart", name, "-o", f"{number}.pdf", folder=folder), 0)
        assert (folder / f"{number}.pdf").read_bytes().startswith(b"%PDF")
        table = expect(run("notes", name, "--format", "csv", folder=folder), 0)
        first = {row["written"]: row["label"]
                 for row in csv.DictReader(io.StringIO(table.stdout))
                 if row["rank"] == "1"}
        assert first[note] == fingering, (args, first)
    # And what a tuner shows goes into what was begun.
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nset: {main: 10, first: 2, second: 1, third: 3}\n"
        "readings:\n" + "".join(
            f"  - {{note: {note}, fingering: {label}, cents: -12}}\n"
            for note, label in (("G4", "0"), ("C5", "0"), ("E5", "0"),
                                ("F4", "1"), ("D5", "1"), ("B4", "2"))))
    expect(run("fit", "horn-1.yaml", "r.yaml", "-q", "-o", "fitted.yaml",
               folder=folder), 0)
    expect(run("check", "fitted.yaml", folder=folder), 0)


def to_standard_output_the_facts_go_beside(folder):
    result = expect(run("new", *CORNET, "-o", "-", folder=folder), 0)
    assert result.stdout.startswith("# A horn file to begin with")
    assert "standard output: the file is good: Cornet in B flat, three pistons" in (
        result.stderr)
    assert expect(run("new", *CORNET, folder=folder), 0).stdout == result.stdout
    quiet = expect(run("new", *CORNET, "-q", folder=folder), 0)
    assert quiet.stderr == "" and quiet.stdout == result.stdout
    assert list(folder.iterdir()) == []


def asked_into_a_pipe_it_asks_for_no_file(folder):
    own, other = pty.openpty()
    with subprocess.Popen([str(PROGRAM), "new", *CORNET[:4], "-q"], cwd=folder,
                          stdin=other, stderr=other,
                          stdout=subprocess.PIPE) as process:
        os.close(other)
        os.write(own, b"\n" * 8)
        out = process.communicate(timeout=60)[0].decode()
    os.close(own)
    assert process.returncode == 0
    assert out == expect(run("new", *CORNET, "-q"), 0).stdout
    assert list(folder.iterdir()) == []


def a_file_that_is_there_is_left_alone(folder):
    own = folder / "own.yaml"
    own.write_text("mine\n")
    result = expect(run("new", *CORNET, "-o", "own.yaml", folder=folder), 4)
    assert "own.yaml: error: is there already; give another name, or " \
           "--replace" in result.stderr
    assert own.read_text() == "mine\n"
    expect(run("new", *CORNET, "-o", "own.yaml", "--replace", folder=folder),
           0)
    assert "hornbook: 1\n" in own.read_text()
    result = expect(run("new", *CORNET, "-o", "own.pdf", folder=folder), 2)
    assert "a horn file has a name that ends in .yaml" in result.stderr


def without_a_terminal_what_is_missing_is_told(folder):
    for args, said in (
            ([], "--kind and --key are missing"),
            (["--kind", "cornet"], "--key and --valves are missing"),
            (["--kind", "ophicleide", "--key", "C"], "--keys is missing"),
            (["--kind", "bugle"], "--key is missing"),
            (["--kind", "cornett"], "--kind: 'cornett' is no kind of horn "
                                    "known here; did you mean 'cornet'?"),
            (CORNET + ["--lowers", "2 1"], "--lowers: the horn has 3 valves"),
            (["--pattern", "cornet-b-flat-bore"], "is no pattern"),
            (["--pattern", "cornet-b-flatt"], "did you mean 'cornet-b-flat'?"),
            (["bugle"], "'bugle' is not an option"),
            (CORNET + ["--paper", "A5"], "--paper goes with --form")):
        result = expect(run("new", *args, "-o", "x.yaml", folder=folder), 2)
        assert said in result.stderr, result.stderr
        assert result.stdout == ""
    assert list(folder.iterdir()) == []


def a_name_is_written_as_it_was_given(folder):
    for name in ('Bugle #3: "the good one"', "true", "C#", "Flügelhorn, alt"):
        expect(run("new", *CORNET, "--name", name, "--replace", "-o", "n.yaml",
                   folder=folder), 0)
        text = expect(run("check", "-q", "n.yaml", folder=folder), 0).stdout
        assert text == f"n.yaml: the file is good: {name}\n", text


def a_file_may_have_any_name_that_ends_so(folder):
    for name, shown in (("my horn.yaml", "'my horn.yaml'"),
                        ("it's $mine.yaml", "my-horn.yaml"),
                        ("two\nlines: x.yaml", "my-horn.yaml"),
                        ("Flügelhorn.yml", "Flügelhorn.yml")):
        expect(run("new", *CORNET, "-q", "-o", name, folder=folder), 0)
        text = (folder / name).read_text(encoding="utf-8")
        assert f"#   hornbook check {shown}\n" in text
        expect(run("check", "./" + name, folder=folder), 0)


def on_a_terminal_it_asks_one_thing_at_a_time(folder):
    term = _Terminal(folder)
    assert "Enter takes what stands in brackets" in term.answer("cornet",
                                                                "keyed bugel")
    assert "Did you mean" not in term.said
    said = term.answer("cornet", "keyed bugle")
    assert "did you mean 'keyed bugle'?" in said
    assert "In what key is it?" in term.answer("C", "Bb")
    assert "In what clef is it read?" in term.answer("treble", "")
    assert "How many keys has it?" in term.answer("6", "seven")
    assert "Write how many keys there are" in term.answer("6", "7")
    assert "How many valves" in term.answer("0", "")
    assert "open while nobody presses" in term.answer("1", "")
    assert "Which note is each key for" in term.answer(
        "B C# D Eb E F F#", "B C# D Eb Eb E F")
    term.answer("440", "443.5")
    term.answer("Keyed bugle in B flat, seven keys", "The attic bugle")
    term.answer("the-attic-bugle.yaml", "")
    code, out = term.end()
    assert code == 0
    assert "the-attic-bugle.yaml: the file is good: The attic bugle" in out
    # The names say which seven keys they are.
    assert "from the pattern keyed-bugle-b-flat-7-second-e-flat" in out
    text = (folder / "the-attic-bugle.yaml").read_text()
    assert "a4: 443.5" in text and "name: The attic bugle\n" in text


def enter_all_the_way_makes_the_usual_cornet(folder):
    term = _Terminal(folder, "-o", "c.yaml")
    for usual in ("cornet", "Bb", "treble", "3", "2 1 3", "piston", "", "440",
                  "Cornet in B flat, three pistons"):
        term.answer(usual, "")
    code, out = term.end()
    assert code == 0 and "c.yaml: the file is good: Cornet in B flat" in out
    own = expect(run("notes", "c.yaml", "--format", "csv", folder=folder), 0)
    shipped = expect(run("notes", "cornet-b-flat", "--format", "csv"), 0)
    assert own.stdout == shipped.stdout


def what_options_say_is_not_asked(folder):
    term = _Terminal(folder, "--kind", "cornet", "--key", "A", "-o", "c.yaml")
    said = term.answer("treble", "")
    assert "What horn" not in said and "what key" not in said
    term.answer("3", "2")
    for usual in ("2 1", "early piston", "", "440"):
        term.answer(usual, "")
    term.answer("Cornet in A, two valves", "")
    assert term.end()[0] == 0
    term = _Terminal(folder, *CORNET, "-o", "d.yaml")
    code, said = term.end()
    assert code == 0 and "[" not in said
    term = _Terminal(folder, *CORNET[:4])
    for usual in ("treble", "3", "2 1 3", "piston", "", "440",
                  "Cornet in B flat, three pistons"):
        term.answer(usual, "")
    (folder / "cornet-in-b-flat-three-pistons.yaml").write_text("mine\n")
    term.answer("cornet-in-b-flat-three-pistons.yaml", "")
    assert "That file is there already" in term.answer(
        "cornet-in-b-flat-three-pistons.yaml", "horn.txt")
    assert "ends in .yaml" in term.answer(
        "cornet-in-b-flat-three-pistons.yaml", "e.yaml")
    assert term.end()[0] == 0
    assert (folder / "e.yaml").exists()


def the_end_of_the_input_ends_it_cleanly(folder):
    for answers in ([], [("cornet", "")], [("cornet", ""), ("Bb", "C"),
                                           ("treble", ""), ("3", "")]):
        term = _Terminal(folder)
        for usual, text in answers:
            term.answer(usual, text)
        time.sleep(0.05)
        term.until("] ")
        os.write(term.own, END.encode())
        code, said = term.end()
        assert code == 2, (code, said)
        assert "nothing was written" in said
        assert list(folder.iterdir()) == []


def a_form_is_drawn_for_the_horns_that_are_asked_for(folder):
    result = expect(run("new", "--form", "-o", "f.svg", folder=folder), 0)
    assert result.stderr == "wrote f.svg, f-2.svg, f-3.svg, f-4.svg\n"
    for args in (["--kind", "ophicleide"], ["--valves", "4"],
                 ["--keys", "16"]):
        result = expect(run("new", "--form", *args, "-o", "g.png",
                            folder=folder), 0)
        assert result.stderr == "wrote g.png, g-2.png\n", args
    again = folder / "again.svg"
    expect(run("new", "--form", "-o", "again.svg", folder=folder), 0)
    assert again.read_bytes() == (folder / "f.svg").read_bytes()
    for args, said in (([], "say where the sheet goes: -o"),
                       (["-o", "f"], "end the file name so"),
                       (["-o", "f.yaml"], "forms are written as pdf, svg or"),
                       (["-o", "f.pdf", "--paper", "A5"],
                        "a form is on A4, A3 or Letter"),
                       (["-o", "f.pdf", "--keys", "99"], "0 to 16"),
                       (["-o", "f.pdf", "--kind", "x"], "is no kind")):
        result = expect(run("new", "--form", *args, folder=folder), 2)
        assert said in result.stderr, result.stderr


sys.exit(main(globals()))
