#!/usr/bin/env python3
"""The maxima of bored horns: tables, pictures, and slips in asking."""
import json
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run


BORED = ROOT / "tests/data/good/cornet-by-bore.yaml"


def resonances_tables_every_fingering(folder):
    result = expect(run("resonances", BORED, "--fingering", "0", "--fingering",
                        "1-3", "--to", "900", "--points", "300"), 0)
    lines = result.stdout.splitlines()
    assert lines[0] == ("hz,level_db 0,level_db 1-3,maximum_hz 0,played_hz 0,"
                        "maximum_hz 1-3,played_hz 1-3")
    assert len(lines) == 301
    assert lines[-1].startswith("900.000,")
    assert all(len(line.split(",")) == 7 for line in lines)
    maxima = [line.split(",") for line in lines[1:] if line.split(",")[3]]
    assert len(maxima) > 5
    for hz, _, _, maximum, heard, *_ in maxima:
        assert abs(float(hz) - float(maximum)) <= 1.5
        assert 0.9 < float(heard) / float(maximum) < 1.1
    expect(run("resonances", BORED, "-o", "c.csv", folder=folder), 0)
    assert len((folder / "c.csv").read_text().splitlines()) == 1001


def resonances_names_the_maxima(_):
    answer = json.loads(expect(run("resonances", BORED, "--json"), 0).stdout)
    assert answer["format"] == "hornbook-resonances/1" and answer["tuned"]
    assert len(answer["hz"]) == 1000
    [open_horn] = answer["fingerings"]
    assert open_horn["label"] == "0" and open_horn["press"] == []
    assert len(open_horn["level_db"]) == 1000
    fourth = open_horn["maxima"][3]
    assert fourth["partial"] == 4 and fourth["note"] == "C5"
    # The tuning note is heard as B flat 4 (ISO 16: 466.164 Hz).
    assert abs(fourth["played_hz"] - 466.164) < 0.01
    assert fourth["played_note"] == "C5" and abs(fourth["played_cents"]) < 0.05
    assert abs(fourth["hz"] - 466.164) < 5 and abs(fourth["cents"]) < 20
    for m in open_horn["maxima"]:
        assert m["height"] > 0 and m["q"] > 1 and "response_db" in m
        k = min(range(1000), key=lambda i: abs(answer["hz"][i] - m["hz"]))
        assert open_horn["level_db"][k] <= m["level_db"] + 1e-3
    raw = json.loads(expect(run("resonances", BORED, "--raw", "--format",
                                "json"), 0).stdout)
    assert not raw["tuned"]
    assert raw["fingerings"][0]["maxima"][3]["hz"] > fourth["hz"]


def resonances_are_drawn(folder):
    for name, start in [("c.pdf", b"%PDF"), ("c.png", b"\x89PNG"),
                        ("c.svg", b"<?xml")]:
        expect(run("resonances", BORED, "-o", name, "--fingering", "0",
                   "--fingering", "2-3", folder=folder), 0)
        first = (folder / name).read_bytes()
        assert first.startswith(start)
        expect(run("resonances", BORED, "-o", name, "--fingering", "0",
                   "--fingering", "2-3", folder=folder), 0)
        assert (folder / name).read_bytes() == first
    assert "stroke-dasharray" in (folder / "c.svg").read_text()


def resonances_of_a_horn_without_a_bore_is_answered_no(_):
    result = expect(run("resonances", "cornet-b-flat"), 1)
    assert "described by its length only; a bore is needed" in result.stderr
    assert result.stdout == ""


def slips_with_resonances_are_named(_):
    seven = [word for i in range(7) for word in ("--fingering", str(i))]
    for args, word in [
        ([], "name one horn"),
        ([BORED, "--fingering", "4"], "keys and valves of this horn"),
        ([BORED, "--fingering", "1-3", "--fingering", "3-1"], "given twice"),
        ([BORED, *seven], "6 times at most"),
        ([BORED, "--fingering", "1", "--stuck", "valve:1=up"],
         "presses what is stuck"),
        ([BORED, "--to", "90"], "200 to 4000 Hz"),
        ([BORED, "--points", "1e9"], "50 to 20000"),
        ([BORED, "--points", "99.5"], "whole number"),
        ([BORED, "--format", "text"], "written as csv, json"),
        ([BORED, "--format", "pdf"], "-o resonances.pdf"),
        ([BORED, "--layout", "wall"], "does not belong"),
        ([BORED, "-o", "c.pdf", "--paper", "B4"], "A4, A5"),
    ]:
        result = expect(run("resonances", *args), 2)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)


sys.exit(main(globals()))
