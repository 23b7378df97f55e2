#!/usr/bin/env python3
"""What a fit says of a page: what is odd, how sure, and no more than it knows."""
import json
import math
import re
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run

UNFITTED = ROOT / "tests/data/unfitted/keyed-bugle-c-6-munich.yaml"
CORNET = ROOT / "instruments/patterns/cornet-b-flat.yaml"

# Where the file has them, with the third slide as far out as PULLED flattens
# it; a few cents to and fro.
PAGE = [("C4", "0", 3), ("G4", "0", 5), ("C5", "0", 0), ("E5", "0", -15),
        ("G5", "0", 0), ("F4", "1", 0), ("D5", "1", -17), ("B4", "2", -4),
        ("A4", "1-2", 9), ("E4", "1-2", 10), ("D4", "1-3", 18),
        ("G#4", "2-3", -2), ("Eb4", "2-3", 2), ("C#4", "1-2-3", 40)]
FOUR = [("C5", "0", 4), ("G4", "0", -3), ("D5", "3", -9), ("E5", "0", -11)]


def _write(path, page, head=""):
    path.write_text("hornbook_readings: 1\n" + head + "readings:\n" + "".join(
        f"  - {{note: {note}, fingering: {label}, cents: {cents}}}\n"
        for note, label, cents in page))


def _pulled(cents):
    return [(note, label, at - (cents if "3" in label else 0))
            for note, label, at in PAGE]


def _fit(folder, *args):
    return json.loads(expect(run("fit", *args, "--json", "-q", folder=folder),
                             0).stdout)


def _measured(folder):
    text = CORNET.read_text()
    assert "valves: assumed" in text
    (folder / "horn.yaml").write_text(
        text.replace("valves: assumed", "valves: measured"))


def a_slide_that_was_pulled_is_asked_after(folder):
    _measured(folder)
    for cents in [0, 20, 30, 45, 60, 80]:
        _write(folder / "r.yaml", _pulled(cents))
        result = expect(run("fit", "horn.yaml", "r.yaml", "-o", "out.yaml",
                            folder=folder), 0)
        data = _fit(folder, "horn.yaml", "r.yaml")
        assert data["used"] == 14 and data["set_aside"] == 0, cents
        assert "read it again" not in result.stderr
        asked = "was its slide pulled?" in flat(result.stdout)
        assert asked == (cents > 0), (cents, result.stdout)
        assert "All readings together" not in flat(result.stdout)
        gone = [v["what"] for v in data["values"] if v["let_go"]]
        assert gone in ([], ["loop of valve 3"]) and (gone or cents < 30)
    # What is kept is the horn as it was read.
    again = _fit(folder, "out.yaml", "r.yaml")
    assert again["before_rms_cents"] < 4 and again["odd"] is None


def a_slip_or_two_stay_slips(folder):
    _measured(folder)
    for slips in [{"D4": -70}, {"D4": -70, "Eb4": 60}]:
        _write(folder / "r.yaml", [(note, label, cents + slips.get(note, 0))
                                   for note, label, cents in PAGE])
        result = expect(run("fit", "horn.yaml", "r.yaml", folder=folder), 0)
        assert result.stderr.count("read it again") == len(slips)
        assert "slide pulled" not in flat(result.stdout)


def a_reading_or_two_are_not_left_out(folder):
    for n in [1, 2, 4, 5]:
        _write(folder / "r.yaml", PAGE[:n])
        text = flat(expect(run("fit", "cornet-b-flat", "r.yaml", "-o",
                               "h.yaml", folder=folder), 0).stdout)
        assert f"fitted to {n} reading{'' if n == 1 else 's'}." in text
        assert ("too few to tell it" in text) == (n < 5)
        data = _fit(folder, "cornet-b-flat", "r.yaml")
        error = data["unread_error_cents"]
        assert error == max(data["left_out_rms_cents"],
                            data["notes_uncertainty_after_cents"])
        written = (folder / "h.yaml").read_text()
        assert f"left_out_error: {error:.1f}"[:-1] in written
        remark = re.search(r"Fitted to (\d+) (readings?) of a tuner; a note "
                           r"that was not read is good to some (\d+) cents\.",
                           flat(written))
        assert remark and int(remark[1]) == n, written
        assert remark[2] == ("reading" if n == 1 else "readings")
        assert abs(int(remark[3]) - error) <= 0.51
        assert f"you have not read: {remark[3]} cents" in text


def a_file_states_one_error(folder):
    _write(folder / "r.yaml", FOUR, "a4: 432\n")
    expect(run("fit", "--key-names", UNFITTED, "-o", "a.yaml", "-q",
               folder=folder), 0)
    assert "key names; a note is within some" in flat(
        (folder / "a.yaml").read_text())
    for older, newer in [("a.yaml", "b.yaml"), ("b.yaml", "c.yaml")]:
        expect(run("fit", older, "r.yaml", "-o", newer, "-q", folder=folder),
               0)
        text = flat((folder / newer).read_text())
        assert len(re.findall(r"some \d+ cents", text)) == 1
        assert ("Fitted to 4 readings of a tuner, after its shape to the key "
                "names; a note that was not read is good to some") in text


def beside_names_it_is_the_tuner_that_is_judged_by(folder):
    _write(folder / "r.yaml", FOUR, "a4: 432\n")
    data = _fit(folder, "--key-names", UNFITTED, "r.yaml")
    read = [r for r in data["readings"] if not r["is_name"]]
    assert len(read) == 4
    for name, of in [
            ("left_out_rms_cents", lambda r: r["left_out_cents"]),
            ("after_rms_cents",
             lambda r: r["reading_cents"] - r["after_cents"])]:
        square = sum(of(r) ** 2 for r in read) / 4
        assert abs(data[name] - math.sqrt(square)) < 0.02, name
    alone = _fit(folder, "--key-names", UNFITTED)
    square = sum(r["left_out_cents"] ** 2 for r in alone["readings"]
                 if r["state"] == "used") / alone["used"]
    assert abs(alone["left_out_rms_cents"] - math.sqrt(square)) < 0.02
    # The sums are for whoever checks them, not for a player.
    text = flat(expect(run("fit", "--key-names", UNFITTED), 0).stdout)
    assert "where 0 is best" not in text
    assert "the names would fit this horn worse" in text


def what_did_not_change_has_no_row(folder):
    _write(folder / "r.yaml", PAGE)
    text = expect(run("fit", "cornet-b-flat", "r.yaml", folder=folder),
                  0).stdout
    data = _fit(folder, "cornet-b-flat", "r.yaml")
    rows = text.split("\nlearned", 1)[1] if "\nlearned" in text else ""
    kept = flat(text).split("Found as the file has them", 1)[1].split(".")[0]
    for value in data["values"]:
        if value["is_players"] or value["learned"] < 0.05:
            continue
        moved = abs(value["after"] - value["before"])
        if moved > 1.05 * value["after_uncertainty"]:
            assert re.search(rf"^{value['what']}  ", rows, re.M), value
        elif moved < 0.95 * value["after_uncertainty"]:
            assert not re.search(rf"^{value['what']}  ", text, re.M), value
            assert value["what"] in kept, value


def no_note_is_asked_for_that_gains_nothing(folder):
    for n in [1, 4, 8, 14]:
        _write(folder / "r.yaml", PAGE[:n])
        data = _fit(folder, "cornet-b-flat", "r.yaml")
        within = data["notes_uncertainty_after_cents"]
        for note in data["next"]:
            then = note["notes_uncertainty_then_cents"]
            assert within - then > 0.48, (n, note)
            within = then


def one_is_no_plural(folder):
    _write(folder / "r.yaml", PAGE[:1])
    for args in [("cornet-b-flat",), ("cornet-b-flat-bore",)]:
        text = flat(expect(run("fit", *args, "r.yaml", "-o", "h.yaml",
                               folder=folder), 0).stdout)
        for said in [text, flat((folder / "h.yaml").read_text())]:
            assert not re.search(r"(?<![\d.])(?<!± )1 (readings|cents|notes)",
                                 said), said


sys.exit(main(globals()))
