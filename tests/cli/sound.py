#!/usr/bin/env python3
"""What passage --sound writes: pitches, lengths, repeats; all files or none."""
import array
import cmath
import json
import math
import sys
import wave

sys.dont_write_bytecode = True

from tap import expect, main, run

RATE = 44100
WINDOW = 8192
HANN = [1.0 - math.cos(2.0 * math.pi * i / WINDOW) for i in range(WINDOW)]


def _samples(path):
    with wave.open(str(path), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate(),
                file.getcomptype()) == (1, 2, RATE, "NONE")
        samples = array.array("h", file.readframes(file.getnframes()))
    if sys.byteorder == "big":
        samples.byteswap()
    return samples


def _phase(samples, hz, start):
    turn = -2j * math.pi * hz / RATE
    return sum(HANN[i] * samples[start + i] * cmath.exp(turn * (start + i))
               for i in range(WINDOW))


def _pitch(samples, near_hz, start_s):
    """By how the phase goes on, first from near and then from far."""
    start = round(start_s * RATE)
    hz = near_hz
    for hop in (512, 4096):
        drift = (_phase(samples, hz, start + hop) /
                 _phase(samples, hz, start))
        hz += cmath.phase(drift) * RATE / (2.0 * math.pi * hop)
    return hz


def _cents(samples, hz, start_s):
    """How far what sounds is from `hz`, looked for a third of a tone off."""
    return 1200.0 * math.log2(_pitch(samples, 1.02 * hz, start_s) / hz)


def _loud(samples, start_s, length_s=0.02):
    part = samples[round(start_s * RATE):round((start_s + length_s) * RATE)]
    return math.sqrt(sum(x * x for x in part) / len(part))


def _notes(horn, *args, folder):
    expect(run("passage", horn, *args, "-q", "--sound", "s.wav", "-o",
               "s.json", folder=folder), 0)
    return json.loads((folder / "s.json").read_text())["notes"]


def long_notes_have_the_pitch_that_is_told(folder):
    # A cornet's 1-2-3, and horns that are far from equal temperament.
    for horn, typed in (("cornet-b-flat", "C#4:1 C4:1 E5:1 Bb4:1"),
                        ("keyed-bugle-c-6-munich", "D4:1 G4:1 B4:1"),
                        ("ophicleide-b-flat-11-museum", "D3:1 E3:1")):
        notes = _notes(horn, "--run", typed, "--tempo", "160", folder=folder)
        samples = _samples(folder / "s.wav")
        assert len(samples) == math.ceil(len(notes) * 1.5 * RATE)
        for i, note in enumerate(notes):
            assert abs(_cents(samples, note["hz"], i * 1.5 + 0.5)) < 2.0, note
        assert horn == "cornet-b-flat" or any(
            abs(note["cents"]) > 5.0 for note in notes)


def another_pitch_and_crook_are_heard(folder):
    heard = []
    for a4 in ("440", "446"):
        notes = _notes("cornopean-b-flat", "--run", "C5:1", "--tempo", "120",
                       "--a4", a4, folder=folder)
        heard.append(_pitch(_samples(folder / "s.wav"), notes[0]["hz"], 0.5))
    assert abs(1200.0 * math.log2(heard[1] / heard[0]) -
               1200.0 * math.log2(446.0 / 440.0)) < 2.0, heard


def rests_and_repeats_take_their_time(folder):
    (folder / "r.abc").write_text(
        "X:1\nM:4/4\nL:1/4\nQ:1/4=120\nK:C\n|:C2z2|1G4:|2c4|]\n")
    notes = _notes("cornet-b-flat", "r.abc", folder=folder)
    samples = _samples(folder / "s.wav")
    assert len(samples) == 8 * RATE  # sixteen beats at 120
    hz = {note["written"]: note["hz"] for note in notes}
    for start_s, name in ((0.0, "C4"), (2.0, "G4"), (4.0, "C4"), (6.0, "C5")):
        assert abs(_cents(samples, hz[name], start_s + 0.3)) < 2.0, name
        assert _loud(samples, start_s + 0.1) > 1000
    for silent_s in (1.0, 1.98, 5.5):
        assert not any(samples[round(silent_s * RATE):
                               round((silent_s + 0.01) * RATE)]), silent_s
    assert samples[0] == samples[-1] == 0


def a_da_capo_is_heard(folder):
    (folder / "d.abc").write_text(
        "X:1\nM:2/4\nL:1/4\nQ:1/4=120\nK:C\nC2|!fine!D2|E2|F2!D.C.!|]\n")
    notes = _notes("cornet-b-flat", "d.abc", folder=folder)
    samples = _samples(folder / "s.wav")
    assert len(samples) == 6 * RATE
    assert abs(_cents(samples, notes[0]["hz"], 4.3)) < 2.0
    assert abs(_cents(samples, notes[1]["hz"], 5.3)) < 2.0


def the_tempo_is_kept(folder):
    for args, seconds in ((("--tempo", "60"), 8.0), (("--tempo", "240"), 2.0),
                          ((), 1.0 + 7 * 0.5)):
        (folder / "t.abc").write_text(
            "X:1\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\nC[Q:1/4=120]DEF|GABc|]\n")
        _notes("cornet-b-flat", "t.abc", *args, folder=folder)
        length = len(_samples(folder / "s.wav")) / RATE
        assert abs(length - seconds) < 0.001, (args, length)


def ties_and_slurs_go_on_and_tonguing_parts(folder):
    (folder / "t.abc").write_text(
        "X:1\nM:4/4\nL:1/4\nQ:1/4=120\nK:C\nC-C (DE)|FF .GG|]\n")
    _notes("cornet-b-flat", "t.abc", folder=folder)
    samples = _samples(folder / "s.wav")
    full = _loud(samples, 0.25)
    assert _loud(samples, 0.49) > 0.9 * full          # tied
    assert _loud(samples, 1.49) > 0.7 * full          # slurred
    assert not any(samples[round(2.48 * RATE):round(2.495 * RATE)])
    assert _loud(samples, 3.2) > 0.7 * full           # staccato: half
    assert not any(samples[round(3.26 * RATE):round(3.49 * RATE)])


def a_grace_note_after_a_cut_is_as_long_as_any(folder):
    (folder / "c.abc").write_text(
        "X:1\nM:4/4\nL:1/4\nQ:1/4=120\nK:C\n|:{g}C4|G4:|\n")
    notes = _notes("cornet-b-flat", "c.abc", "--bars", "1", folder=folder)
    samples = _samples(folder / "s.wav")
    # 0.08 s of it, and two seconds of its note, twice.
    assert abs(len(samples) / RATE - 4.08) < 0.001
    assert notes[0]["written"] == "G5"
    first = [_loud(samples, s, 0.01) for s in (0.02, 0.04, 0.06)]
    again = [_loud(samples, s, 0.01) for s in (2.02, 2.04, 2.06)]
    assert all(abs(a - b) < 0.05 * b for a, b in zip(again, first)), again


def grace_notes_come_before_the_beat_and_trills_go_to_and_fro(folder):
    (folder / "g.abc").write_text(
        "X:1\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\n{B}c2 z2|{d}G2 !trill!A2|]\n")
    notes = _notes("cornet-b-flat", "g.abc", folder=folder)
    samples = _samples(folder / "s.wav")
    # A grace note before the tune begins it, and all else comes later.
    assert len(samples) == math.ceil(8.08 * RATE)
    by_name = {note["written"]: note for note in notes}
    assert abs(_cents(samples, by_name["C5"]["hz"], 0.08 + 0.5)) < 2.0
    assert _loud(samples, 4.02) > 1000   # the grace note, in the rest's end
    assert abs(_cents(samples, by_name["G4"]["hz"], 4.08 + 0.5)) < 2.0
    # While it trills, main and upper note both are there.
    start = round(6.6 * RATE)
    trill = by_name["A4"]["trill"]
    assert trill["semitones"] == 2

    def strength(hz):
        return abs(sum(samples[i] * cmath.exp(-2j * math.pi * hz * i / RATE)
                       for i in range(start, start + RATE)))
    main_hz = by_name["A4"]["hz"]
    upper_hz = main_hz * 2.0 ** (2.0 / 12.0)
    between = strength(main_hz * 2.0 ** (-2.5 / 12.0))
    assert strength(main_hz) > 4.0 * between
    assert max(strength(upper_hz * 2.0 ** (cents / 1200.0))
               for cents in range(-25, 26, 5)) > 4.0 * between


def bars_are_heard_alone_as_often_as_they_are_played(folder):
    (folder / "b.abc").write_text(
        "X:1\nM:2/4\nL:1/4\nQ:1/4=120\nK:C\nC2|:D2|E2:|F2|]\n")
    notes = _notes("cornet-b-flat", "b.abc", "--bars", "2", folder=folder)
    samples = _samples(folder / "s.wav")
    assert len(samples) == 2 * RATE and len(notes) == 1
    for start_s in (0.3, 1.3):
        assert abs(_cents(samples, notes[0]["hz"], start_s)) < 2.0


def what_is_not_available_is_silent(folder):
    (folder / "n.abc").write_text(
        "X:1\nM:4/4\nL:1/4\nQ:1/4=120\nK:C\nC2D2|]\n")
    result = run("passage", "cornet-b-flat-two-valve", "n.abc", "--sound",
                 "s.wav", folder=folder)
    expect(result, 1)
    assert "not available" in result.stderr
    samples = _samples(folder / "s.wav")
    assert len(samples) == 2 * RATE
    assert _loud(samples, 0.5) > 1000 and not any(samples[RATE:])


def the_same_tune_makes_the_same_bytes(folder):
    made = []
    for name in ("one.wav", "two.wav"):
        result = expect(run("passage", "keyed-bugle-c-6",
                            "charts/attic-galop.abc", "--bars", "1-4",
                            "--sound", folder / name), 0)
        assert result.stderr == f"wrote {folder / name}\n", result.stderr
        made.append((folder / name).read_bytes())
    assert made[0] == made[1]


def all_files_are_written_or_none(folder):
    typed = ("passage", "cornet-b-flat", "--run", "C4 D4")
    for form in ("p.txt", "p.json", "p.pdf", "p.musicxml"):
        result = run(*typed, "--sound", "s.wav", "-o", f"gone/{form}",
                     folder=folder)
        expect(result, 4)
        assert not (folder / "s.wav").exists()
        result = run(*typed, "--sound", "gone/s.wav", "-o", form, folder=folder)
        expect(result, 4)
        assert not (folder / form).exists()
        result = expect(run(*typed, "--sound", "s.wav", "-o", form,
                            folder=folder), 0)
        assert result.stderr == f"wrote {form}\nwrote s.wav\n", result.stderr
        (folder / "s.wav").unlink()
    # Sound and tune: the file is written over with its fingerings, as ever.
    (folder / "o.abc").write_text("X:1\nL:1/4\nK:C\nCDEF|]\n")
    expect(run("passage", "cornet-b-flat", "o.abc", "-o", "o.abc", "--sound",
               "o.wav", folder=folder), 0)
    assert '"_1-3"D' in (folder / "o.abc").read_text()
    assert len(_samples(folder / "o.wav")) > RATE


def what_makes_no_sound_is_told(folder):
    (folder / "o.abc").write_text("X:1\nL:1/4\nK:C\nCDEF|]\n")
    typed = ("passage", "cornet-b-flat", "--run", "C4 D4")
    for name in ("s.mp3", "-", ".wav"):
        result = expect(run(*typed, "--sound", name, folder=folder), 2)
        assert "ends in .wav" in result.stderr
    result = expect(run("passage", "cornet-b-flat", "o.abc", "--bare",
                        "--sound", "s.wav", folder=folder), 2)
    assert "--bare" in result.stderr
    result = expect(run("passage", "cornet-b-flat", "--run",
                        " ".join(["C4:8"] * 200), "--tempo", "5", "--sound",
                        "s.wav", folder=folder), 3)
    assert "[H319]" in result.stderr and "minutes" in result.stderr
    assert not (folder / "s.wav").exists()


sys.exit(main(globals()))
