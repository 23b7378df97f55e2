#!/usr/bin/env python3
"""Runs and parts: fingerings, hard places, and parts for another horn."""
import json
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run


FAST_RUN = "F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5 | D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4"
OWN_TUNE = """\
X:1
T:Own tune
M:4/4
L:1/4
Q:1/4=100
K:C
C "_3"E G2 | % a remark
"_1-2"D "_7"C z2 |]
"""


def a_fast_run_gets_alternates_with_reasons(_):
    text = expect(
        run("passage", "cornet-b-flat", "--run", FAST_RUN, "--tempo", "126"),
        0).stdout
    assert "Tempo: quarter = 126, as asked" in text
    assert "with 0, after F#5: the partial changes from 6 to 5" in text
    assert "valve 3 up as valve 2 goes down (right ring" in text
    assert "* alternate fingering" in text
    slow = expect(
        run("passage", "cornet-b-flat", "--run", FAST_RUN, "--tempo", "40"),
        0).stdout
    assert "0 alternate fingerings" in slow and "*" not in slow


def a_tempo_nobody_gave_is_told(_):
    text = expect(
        run("passage", "cornet-b-flat", "--run", "C5 D5"), 0).stdout
    assert ("quarter = 100, for the tune gives none; say another with --tempo"
            in text)


def hard_places_name_their_tempo(_):
    text = expect(run("passage", "cornet-b-flat", "charts/attic-galop.abc",
                      "--tempo", "150"), 0).stdout
    assert "Hard places (!)" in text
    assert "playable from about quarter = 135 down" in text


def a_passage_as_json_carries_the_public_fields(_):
    data = json.loads(expect(
        run("passage", "keyed-bugle-c-6", "charts/attic-galop.abc", "--json",
            "--choices", "3"), 0).stdout)
    assert data["format"] == "hornbook-passage/2" and data["exact"]
    assert data["tempo"] == {"quarters": 126, "asked": False, "assumed": False}
    assert data["not_available"] == [] and data["moved_semitones"] == 0
    assert len(data["ways"]) == 4
    prices = [way["total_cost"] for way in data["ways"]]
    assert prices == sorted(prices)
    assert len(data["notes"]) == len(data["ways"][0]["labels"]) == 73
    for i, note in enumerate(data["notes"]):
        assert {"bar", "onset", "length", "written", "press", "label",
                "partial", "cents", "usual", "others"} <= set(note)
        assert note["label"] == data["ways"][0]["labels"][i]
        assert note["usual"] == ("why" not in note)
        dearer = [other["extra_cost"] for other in note["others"]]
        assert dearer == sorted(dearer) and len(dearer) <= 3
    assert sum(not note["usual"] for note in data["notes"]) == data[
        "alternates"] > 0
    assert any(note.get("trill", {}).get("kind") == "easy"
               for note in data["notes"])


def fingerings_go_into_ones_own_file_and_nowhere_else(folder):
    own = (ROOT / "charts" / "attic-galop.abc").read_text()
    (folder / "own.abc").write_text(own)
    expect(run("passage", "cornet-b-flat", "own.abc", "-o", "out.abc",
               "--only-departures", folder=folder), 0)
    out = (folder / "out.abc").read_text()
    assert (folder / "own.abc").read_text() == own
    assert '(D"_3"ED"_3"E)' in out and out.count('"_') == 9
    kept = [line for line in out.splitlines() if "fingerings by" not in line]
    plain = "\n".join(kept) + "\n"
    for label in ('"_3"', '"_1-2"'):
        plain = plain.replace(label, "")
    assert plain == own
    # Once more over the result: nothing doubled.
    expect(run("passage", "cornet-b-flat", "out.abc", "-o", "twice.abc",
               "--only-departures", folder=folder), 0)
    assert (folder / "twice.abc").read_text() == out


def a_score_comes_back_with_fingerings(folder):
    source = ROOT / "tests" / "data" / "march.musicxml"
    expect(run("passage", "keyed-bugle-c-6", source, "-o", "out.musicxml",
               "--choices", "2", folder=folder), 0)
    text = (folder / "out.musicxml").read_text()
    assert text.count("<fingering") > source.read_text().count("<fingering")
    assert 'alternate="yes"' in text
    for name, start in [("out.mxl", b"PK"), ("out.xml", b"<?xml"),
                        ("out.abc", b"%abc")]:
        expect(run("passage", "keyed-bugle-c-6", "--run", "C5 D5 E5", "-o",
                   name, folder=folder), 0)
        assert (folder / name).read_bytes().startswith(start), name


def a_part_is_engraved_with_its_fingerings(folder):
    tune = ROOT / "charts" / "attic-galop.abc"
    for name, start in [("p.pdf", b"%PDF"), ("p.png", b"\x89PNG"),
                        ("p.svg", b"<?xml")]:
        for extra in ([], ["--circles", "--paper", "A5", "--bars", "2-3"]):
            expect(run("passage", "cornet-b-flat", tune, "-o", name, *extra,
                       folder=folder), 0)
            first = (folder / name).read_bytes()
            assert first.startswith(start)
            expect(run("passage", "cornet-b-flat", tune, "-o", name, *extra,
                       folder=folder), 0)
            assert (folder / name).read_bytes() == first
    expect(run("passage", "cornet-b-flat", tune, "-o", "p.pdf", "--title",
               "Our galop", "--tempo", "150", folder=folder), 0)
    if shutil.which("pdftotext"):
        text = subprocess.run(["pdftotext", "-layout", "p.pdf", "-"],
                              cwd=folder, capture_output=True, text=True,
                              check=True).stdout
        text = " ".join(text.split())
        for word in ("Our galop", "Cornet in B flat", "Hard places",
                     "from about quarter = 135", "1-2", "1-3"):
            assert word in text, word
    # A note out of reach: the part is there, and the answer is no.
    expect(run("passage", "cornet-b-flat-two-valve", tune, "-o", "no.pdf",
               folder=folder), 1)
    assert (folder / "no.pdf").read_bytes().startswith(b"%PDF")


def bars_choose_what_is_shown_only(_):
    whole = json.loads(expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--json"),
        0).stdout)
    part = json.loads(expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--json",
            "--bars", "2-3"), 0).stdout)
    want = [note for note in whole["notes"] if note["bar"] in ("2", "3")]
    assert part["notes"] == want and len(want) == 12
    result = expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--bars",
            "9-99"), 2)
    assert "from bar 1 to bar" in result.stderr
    result = expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--bars",
            "3-2"), 2)
    assert "takes bars as 23-26 or 23, not '3-2'" in result.stderr
    assert result.stdout == ""


def kept_fingerings_are_honoured_or_named(folder):
    (folder / "own.abc").write_text(OWN_TUNE)
    result = expect(run("passage", "cornet-b-flat", "own.abc", "--keep",
                        "--json", folder=folder), 0)
    notes = json.loads(result.stdout)["notes"]
    assert [note["file"] for note in notes] == [
        "free", "kept", "free", "unplayable", "unknown"]
    assert notes[1]["label"] == "3" and notes[3]["label"] == "1-3"
    assert "does not play D4 with '1-2'" in result.stderr
    assert "bar 2, beat 1" in result.stderr and "[H303]" in result.stderr
    assert "'7' is no fingering of this horn" in result.stderr
    result = expect(run("passage", "cornet-b-flat", "own.abc", folder=folder),
                    0)
    assert result.stderr.count("[") == 1 and "[H312]" in result.stderr
    assert "0 alternate fingerings" in result.stdout


def notes_out_of_reach_are_answered_no(folder):
    result = expect(
        run("passage", "cornet-b-flat-two-valve", "--run", "C4 D4 E4", "-o",
            "out.abc", folder=folder), 1)
    assert "bar 1, beat 2: D4 is not available on this horn [H301]" in (
        result.stderr)
    assert '"_0"C' in (folder / "out.abc").read_text()
    text = run("passage", "cornet-b-flat-two-valve", "--run", "C4 D4",
               "--sounding").stdout
    assert "1 not available" in text and "D4    C4      not available" in text


def a_part_for_another_horn_is_moved(folder):
    part = OWN_TUNE.replace("K:C", "K:C transpose=-9")  # for a horn in E flat
    (folder / "alto.abc").write_text(part)
    text = run("passage", "cornet-b-flat", "alto.abc", folder=folder).stdout
    assert "The part is moved down by a fifth for this horn" in text
    data = json.loads(expect(
        run("passage", "cornet-b-flat", "--from-sounding", "--run", "Bb3 C4",
            "--json"), 0).stdout)
    assert [note["written"] for note in data["notes"]] == ["C4", "D4"]
    assert data["moved_semitones"] == 2
    # What is written back is the user's own part, unmoved.
    run("passage", "cornet-b-flat", "alto.abc", "-o", "out.abc", folder=folder)
    assert "G2 | % a remark" in (folder / "out.abc").read_text()


def slips_with_passage_are_named(_):
    for args, word in [
        (["cornet-b-flat"], "one horn and one tune"),
        (["cornet-b-flat", "x.abc", "--run", "C4"], "one horn and one tune"),
        (["cornet-b-flat", "--run", "C4", "--part", "2"], "no tunes, parts"),
        (["cornet-b-flat", "--run", "C4", "--tempo", "0"], "5 to 1000"),
        (["cornet-b-flat", "--run", "C4", "--choices", "1.5"], "whole number"),
        (["cornet-b-flat", "--run", "C4", "--bars", "x"], "23-26 or 23"),
        (["cornet-b-flat", "--run", "C4", "--format", "csv"], "text, json"),
        (["cornet-b-flat", "--run", "C4", "--format", "pdf"],
         "-o passage.pdf"),
        (["cornet-b-flat", "--run", "C4", "-o", "x.pdf", "--paper", "B4"],
         "A4, A5"),
        (["cornet-b-flat", "--run", "C4", "--circles"], "-o part.pdf"),
        (["cornet-b-flat", "--run", "C4", "-o", "x.abc", "--practice"],
         "--practice is for a sheet, text or json"),
    ]:
        result = expect(run("passage", *args), 2)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)
    result = expect(run("passage", "cornet-b-flat", "--run", "H4"), 3)
    assert "--run:1:1: error" in result.stderr and "[H270]" in result.stderr
    assert result.stdout == ""
    result = expect(run("passage", "cornet-b-flat", "no-such.abc"), 3)
    assert "[H001]" in result.stderr


def endless_and_tangled_repeats_end(folder):
    head = "X:1\nT:t\nM:none\nL:1/16\nQ:1/4=131\nK:C\n"
    bar = "CDEFGABc"
    (folder / "endless.abc").write_text(
        head + "|:" + (bar + "|\n") * 1000 + "|1-60 c:|61 c|]\n")
    result = expect(run("passage", "cornet-b-flat", "endless.abc",
                        folder=folder), 3)
    assert "[H300]" in result.stderr and result.stdout == ""
    letters = "ABCDEFGHIJKLMNOP"
    order = "".join(a + b for a in letters for b in letters)
    (folder / "tangled.abc").write_text(
        head.replace("K:C", f"P:{order}\nK:C") +
        "".join(f"P:{part}\n{bar}|\n" for part in letters))
    result = expect(run("passage", "keyed-bugle-e-flat-bore", "tangled.abc",
                        folder=folder), 0)
    assert "too complex to optimize together" in flat(result.stdout)
    high = "g" + 3 * "'"
    (folder / "high.abc").write_text(
        head.replace("K:C", "K:C transpose=40") + high + "|]\n")
    result = expect(run("passage", "ophicleide-c-9", "high.abc",
                        folder=folder), 3)
    assert "[H304]" in result.stderr


sys.exit(main(globals()))
