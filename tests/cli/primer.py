#!/usr/bin/env python3
"""The primer as a user asks for it: its pages, folded too, and in an order."""
import re
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import expect, main, run

MISSING = [tool for tool in ("pdfinfo", "pdftotext") if not shutil.which(tool)]


def _pages(path):
    """How many, and the size of each in points."""
    told = subprocess.run(["pdfinfo", "-l", "999", str(path)], check=True,
                          capture_output=True, text=True).stdout
    sizes = re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+)", told, re.M)
    return [(round(float(w)), round(float(h))) for w, h in sizes]


def _words(path):
    return " ".join(subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], check=True,
        capture_output=True, text=True).stdout.split())


def a_primer_begins_with_the_horn_and_ends_with_the_tuner(folder):
    path = folder / "p.pdf"
    expect(run("primer", "keyed-bugle-c-6", "-o", path), 0)
    words = _words(path)
    chapters = ["this horn", "care before the first note",
                "the first five notes", "lessons take one", "tunes more",
                "scales and movements", "your tuners page"]
    squeezed = re.sub(r"[^A-Za-z]", "", words).lower()
    at = [squeezed.find(chapter.replace(" ", "")) for chapter in chapters]
    assert -1 not in at, at
    assert at == sorted(at), at
    assert "key 1: open at rest; pressed, it lowers a semitone" in words


def the_first_tone_is_one_that_the_first_lesson_has(folder):
    path = folder / "first.pdf"
    expect(run("primer", "cornet-six-independent", "-o", path), 0)
    # With nothing pressed the long tube sounds, which no lesson has.
    assert "Press 1. Hold the note that comes" in _words(path)


def it_is_the_same_each_time(folder):
    for name in ("a.pdf", "b.pdf"):
        expect(run("primer", "cornet-b-flat", "-o", folder / name), 0)
    assert (folder / "a.pdf").read_bytes() == (folder / "b.pdf").read_bytes()


def a_horn_that_is_known_is_compared(folder):
    for more in ([], ["--fold"]):
        path = folder / "k.pdf"
        expect(run("primer", "cornet-b-flat-semitone-first", "--knows",
                   "cornet-b-flat", "-o", path, *more), 0)
        words = _words(path)
        assert "REVERSED VALVES" in words
        # The table: what keeps its fingering, and what changes.
        assert "the horn you know 1-2-3" in words.lower(), words
        # What the hands must unlearn; G4, E4 and C4 are as they were.
        told = re.findall(r"On the horn you know it is ([\d-]+)\.", words)
        assert set(told) == {"1", "1-3", "2", "2-3"}, told
    expect(run("primer", "cornet-b-flat-semitone-first", "-o", path), 0)
    assert "horn you know" not in _words(path)


def folded_sheets_are_twice_a_page_and_have_two_sides(folder):
    for paper, size in (("A5", (842, 595)), ("A4", (1191, 842))):
        path = folder / f"{paper}.pdf"
        expect(run("primer", "keyed-bugle-c-6", "--fold", "--paper", paper,
                   "-o", path), 0)
        pages = _pages(path)
        assert set(pages) == {size}, pages
        assert len(pages) % 2 == 0
    expect(run("primer", "keyed-bugle-c-6", "--fold", "-o", folder / "f.pdf"),
           0)
    assert (folder / "f.pdf").read_bytes() == (folder / "A5.pdf").read_bytes()
    result = expect(run("primer", "keyed-bugle-c-6", "--fold", "--paper",
                        "Letter", "-o", path), 2)
    assert "--fold makes pages of A5" in result.stderr


def a_range_keeps_the_lessons_small(folder):
    words = {}
    for name, asked in (("all", []), ("few", ["--range", "C4-G4"])):
        path = folder / f"{name}.pdf"
        expect(run("primer", "cornet-b-flat", *asked, "-o", path), 0)
        words[name] = _words(path)
    assert len(words["few"]) < len(words["all"])
    result = expect(run("primer", "cornet-b-flat", "--range", "G4-C4", "-o",
                        folder / "x.pdf"), 2)
    assert "does not rise" in result.stderr


def wrong_usage_is_told(folder):
    for asked, told in ((["cornet-b-flat"], "-o primer.pdf"),
                        ([], "name one horn"),
                        (["cornet-b-flat", "-o", folder / "x.pdf", "--paper",
                          "A3"], "A5, A4 or Letter")):
        result = expect(run("primer", *asked), 2)
        assert told in result.stderr, result.stderr


def an_order_prints_it_too(folder):
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor\nplayers:\n"
        "  - {name: Ada, horn: keyed-bugle-c-6, knows: cornet-b-flat, "
        "sheets: [primer]}\n"
        "  - {name: Ben, horn: bugle-b-flat, "
        "sheets: [{sheet: primer, paper: A5}]}\n")
    expect(run("print", folder / "o.yaml", "-o", folder / "o"), 0)
    files = {path.name: path for path in (folder / "o").iterdir()}
    assert len(files) == 2, files
    words = [_words(path) for _, path in sorted(files.items())]
    assert "Lesson" in words[0].title() and "For Ada, Larkmoor" in words[0]
    assert "calls that are made of them" in words[1]
    for wrong, told in (
            ("paper: A6", "a primer needs paper of A5, A4 or Letter"),
            ("fold: true, paper: Letter", "a folded primer has pages of A5"),
            ("range: G4-C4", "'range': 'G4-C4' does not rise")):
        (folder / "bad.yaml").write_text(
            "hornbook_order: 1\nband: Larkmoor\nplayers:\n"
            "  - {name: Ada, horn: keyed-bugle-c-6, "
            f"sheets: [{{sheet: primer, {wrong}}}]}}\n")
        result = expect(run("print", folder / "bad.yaml", "-o", folder / "b"),
                        1)
        assert told in result.stderr, result.stderr


def an_order_asks_for_it_as_the_command_does(folder):
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor\npaper: A3\nplayers:\n"
        "  - name: Ada\n    horn: cornet-b-flat\n    sheets:\n"
        "      - {sheet: primer, fold: true, range: C4-G4, title: Folded}\n"
        "      - {sheet: primer, large: true, range: C4-G4, title: Large,"
        " paper: A4}\n")
    expect(run("print", folder / "o.yaml", "-o", folder / "o"), 0)
    files = sorted((folder / "o").iterdir())
    assert len(files) == 2, files
    sizes = {path: set(_pages(path)) for path in files}
    folded = [path for path in files if sizes[path] == {(1191, 842)}]
    assert len(folded) == 1, sizes
    large = [path for path in files if path not in folded][0]
    expect(run("primer", "cornet-b-flat", "--large", *["--range", "C4-G4"],
               "-o", folder / "l.pdf"), 0)
    assert len(_pages(large)) == len(_pages(folder / "l.pdf"))
    assert "A4 is" not in _words(large)


if __name__ == "__main__":
    sys.exit(main(dict(globals()), MISSING))
