#!/usr/bin/env python3
"""Chords and divided parts: one line is read, and everyone is told which."""
import json
import re
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run

HORN = "cornet-b-flat"
SCORES = ROOT / "tests/data/scores"
DUET = ("X:1\nT:Duet\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n"
        "C D [EG]2|[CEG]4|e4 & G4|c4|]\n")


def _notes(*args, **more):
    text = expect(run("passage", HORN, *args, "--brief", "-q", **more), 0).stdout
    return re.findall(r"\b[A-G][#b]?\d\b", text)


def a_line_is_chosen_by_its_place(folder):
    (folder / "duet.abc").write_text(DUET)
    for line, want in {
            None: "C4 D4 G4 G4 E5 C5", "top": "C4 D4 G4 G4 E5 C5",
            "1": "C4 D4 G4 G4 E5 C5", "2": "C4 D4 E4 E4 G4 C5",
            "3": "C4 D4 E4 C4 G4 C5", "bottom": "C4 D4 E4 C4 G4 C5"}.items():
        asked = [] if line is None else ["--line", line]
        assert _notes("duet.abc", *asked, folder=folder) == want.split(), line


def what_is_taken_is_told_and_can_be_silenced(folder):
    (folder / "duet.abc").write_text(DUET)
    told = expect(run("passage", HORN, "duet.abc", folder=folder), 0)
    assert ("duet.abc: warning: 2 chords: the top note is taken; --line 2 or "
            "--line bottom takes another [H292]\n") in told.stderr
    assert ("duet.abc: warning: 1 bar with a second voice: the upper one is "
            "taken; --line 2 or --line bottom takes another [H293]"
            ) in told.stderr
    assert "Read: the top line of chords and voices.\n" in told.stdout
    quiet = expect(run("passage", HORN, "duet.abc", "-q", folder=folder), 0)
    assert quiet.stderr == ""
    (folder / "solo.abc").write_text(DUET.replace("[EG]", "E").replace(
        "[CEG]", "C").replace(" & G4", ""))
    alone = expect(run("passage", HORN, "solo.abc", "--line", "bottom",
                       folder=folder), 0)
    assert "[H29" not in alone.stderr and "Read:" not in alone.stdout


def a_sheet_says_which_line_it_is(folder):
    (folder / "duet.abc").write_text(DUET)
    for line, words in {"top": "the top line of chords and voices",
                        "bottom": "the bottom line of chords and voices",
                        "2": "line 2 from the top of chords and voices"}.items():
        expect(run("passage", HORN, "duet.abc", "--line", line, "-q", "-o",
                   "part.svg", folder=folder), 0)
        svg = (folder / "part.svg").read_text()
        said = flat(re.sub(r"<[^>]*>", " ", svg))
        assert words in said, (line, said)


def json_says_which_line_it_is(folder):
    (folder / "duet.abc").write_text(DUET)
    for line, read in {"top": "top", "1": "top", "2": "2", "bottom": "bottom"}.items():
        for words in (["passage", HORN, "duet.abc"],
                      ["choose", "duet.abc", HORN]):
            data = json.loads(expect(run(*words, "--json", "-q", "--line", line,
                                         folder=folder), 0).stdout)
            assert data["line"] == {"read": read, "chords": 2, "bars": 1,
                                    "staves": 1}, data["line"]


def a_line_that_cannot_be_is_refused(folder):
    (folder / "duet.abc").write_text(DUET)
    for line in ("0", "upper", "10", ""):
        for words in (["passage", HORN, "duet.abc"],
                      ["choose", "duet.abc", HORN]):
            result = expect(run(*words, "--line", line, folder=folder), 2)
            assert f"--line takes top, bottom, or a number from 1 to 9 counted "\
                   f"from the top, not '{line}'" in flat(result.stderr)
    result = expect(run("passage", HORN, "--run", "C5", "--line", "top"), 2)
    assert "lines to choose from" in flat(result.stderr)


def fingerings_are_written_at_the_line_and_taken_out_again(folder):
    (folder / "duet.abc").write_text(DUET)
    scores = {"duet.abc": DUET}
    for path in sorted(SCORES.glob("*.musicxml")):
        scores[path.name] = path.read_text()
        (folder / path.name).write_text(scores[path.name])
    tried = 0
    for name in scores:
        ending = name.split(".")[1]
        for line in ("top", "bottom"):
            # The file as it is written where nothing is put into it.
            first = run("passage", HORN, name, "--bare", "--line", line, "-q",
                        "-o", "as-is." + ending, folder=folder)
            if first.returncode == 3:
                assert "error:" in first.stderr, name
                continue
            written = run("passage", HORN, name, "--line", line, "-q", "-o",
                          "in." + ending, folder=folder)
            assert written.returncode in (0, 1), (name, written.stderr)
            expect(run("passage", HORN, "in." + ending, "--bare", "--line",
                       line, "-q", "-o", "out." + ending, folder=folder), 0)
            assert ((folder / ("out." + ending)).read_bytes() ==
                    (folder / ("as-is." + ending)).read_bytes()), (name, line)
            asked = [run("passage", HORN, file, *more, "--line", line,
                         "--brief", "-q", folder=folder).stdout
                     for file, more in ((name, []), ("in." + ending, ["--keep"]))]
            assert asked[0] == asked[1], (name, line)
            tried += 1
    assert tried >= 2 * 20
    assert '"_1-2"[EG]2' in expect(run(
        "passage", HORN, "duet.abc", "--line", "bottom", "-q", "--format", "abc",
        folder=folder), 0).stdout


def every_score_is_read_or_refused_with_a_reason(folder):
    """In every format that goes out, in every line."""
    reasons = {"percussion": "only notes without pitch"}
    paths = sorted(SCORES.glob("*.musicxml"))
    assert len(paths) >= 25
    for path in paths:
        for line in ("top", "bottom", "2"):
            for ending in ("pdf", "abc", "musicxml", "mxl", "json"):
                result = run("passage", HORN, path, "--line", line, "-q", "-o",
                             folder / ("o." + ending))
                if path.stem in reasons:
                    expect(result, 3)
                    assert reasons[path.stem] in flat(result.stderr)
                else:
                    assert result.returncode in (0, 1), (path, result.stderr)
    both = [expect(run("passage", HORN, SCORES / "timewise.musicxml", "--part",
                       part, "--brief", "-q"), 0).stdout for part in "12"]
    assert "E5" in both[0] and "E4" in both[1]


def an_order_takes_a_line(folder):
    (folder / "duet.abc").write_text(DUET)
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor Town Band\nformat: svg\nplayers:\n"
        "  - {name: Ada, horn: cornet-b-flat, sheets: "
        "[{sheet: part, file: duet.abc}]}\n"
        "  - {name: Ben, horn: cornet-b-flat, sheets: "
        "[{sheet: part, file: duet.abc, line: bottom}]}\n"
        "  - {name: Cy, horn: cornet-b-flat, sheets: "
        "[{sheet: part, file: duet.abc, line: 2}]}\n")
    expect(run("print", "o.yaml", folder=folder), 0)
    said = {path.name[:3]: flat(re.sub(r"<[^>]*>", " ", path.read_text()))
            for path in (folder / "o").iterdir()}
    assert "the top line of" in said["ada"]
    assert "the bottom line of" in said["ben"]
    assert "line 2 from the top of" in said["cy_"]


def a_part_of_the_same_name_is_taken(folder):
    """Whom a score is for is known: the player, or the horn he plays."""
    score = (SCORES / "timewise.musicxml").read_text().replace("Alto", "Ben Hall")
    (folder / "score.musicxml").write_text(score)
    told = expect(run("passage", HORN, "score.musicxml", "--brief",
                      folder=folder), 0)
    assert "of 2 parts Cornet is read, by its name" in flat(told.stderr)
    assert "E5" in told.stdout
    refused = expect(run("passage", "bass-e-flat", "score.musicxml",
                         folder=folder), 3)
    assert "choose one of P1 (Cornet), P2 (Ben Hall)" in flat(refused.stderr)
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor Town Band\nformat: svg\n"
        "sheets: [{sheet: part, file: score.musicxml}]\nplayers:\n"
        "  - {name: Ada Lane, horn: cornet-b-flat}\n"
        "  - {name: Ben Hall, horn: cornet-b-flat}\n"
        "  - {name: Cy Moor, horn: alto-e-flat}\n")
    result = expect(run("print", "o.yaml", folder=folder), 1)
    made = sorted(path.name[:3] for path in (folder / "o").iterdir())
    assert made == ["ada", "ben"], (made, result.stderr)
    said = flat(result.stderr)
    assert "of 2 parts Cornet is read" in said
    assert "of 2 parts Ben Hall is read" in said
    assert "there are several parts in it" in said


if __name__ == "__main__":
    sys.exit(main(globals()))
