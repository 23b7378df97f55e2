#!/usr/bin/env python3
"""Prints how long whole processes take; asserts nothing.

Each command runs in turn with the others, so that a change in the speed of
the machine meets all of them alike.
"""
import os
import pathlib
import resource
import statistics
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] /
                       "support"))

import collection

PROGRAM = pathlib.Path(sys.argv[1]).resolve()
BARE_PAGE = pathlib.Path(sys.argv[2]).resolve()
ROUNDS = 15


def order_of(count, folder):
    """An order of so many wall charts, of all shipped horns in turn."""
    listed = subprocess.run([PROGRAM, "horns"], check=True, text=True,
                            capture_output=True).stdout
    horns = [line.split()[0] for line in listed.splitlines() if line.strip()]
    order = pathlib.Path(folder) / "order.yaml"
    order.write_text(
        "hornbook_order: 1\nband: B\nsheets: [wall]\nplayers:\n" + "".join(
            f"  - {{name: P{i}, horn: {horns[i % len(horns)]}}}\n"
            for i in range(count)), encoding="utf-8")
    return order


def time_orders(folder):
    """300 charts by one order, in one process and in as many as there are."""
    order = order_of(300, folder)
    for words in (["--jobs", "1"], []):
        start = time.perf_counter()
        subprocess.run([PROGRAM, "print", order, "-o", f"{folder}/sheets",
                        *words], check=True, stdout=subprocess.DEVNULL)
        taken = time.perf_counter() - start
        print(f"300 charts {' '.join(words):10} {taken:7.2f} s  "
              f"{1000 * taken / 300:.0f} ms a chart")


def tune_of(count):
    """Eighth notes up and down the middle octave, eight in a bar."""
    names = "cdefgagf"
    bars = [" ".join(names[(i + 3 * bar) % 8] for i in range(8))
            for bar in range(count // 8)]
    return ("X:1\nT:Bench\nM:4/4\nL:1/8\nQ:1/4=100\nK:C\n" +
            " | ".join(bars) + " |]\n")


def score_of(bars):
    """MusicXML of so many bars, eight eighth notes in each, with slurs."""
    note = ("<note><pitch><step>{}</step><octave>{}</octave></pitch>"
            "<duration>1</duration><voice>1</voice><type>eighth</type>"
            "<notations>{}</notations></note>")
    out = ['<?xml version="1.0"?><score-partwise version="4.0"><part-list>'
           '<score-part id="P1"><part-name>Bench</part-name></score-part>'
           '</part-list><part id="P1">']
    for bar in range(bars):
        out.append(f'<measure number="{bar + 1}">')
        if bar == 0:
            out.append("<attributes><divisions>2</divisions><key><fifths>1"
                       "</fifths></key><time><beats>4</beats><beat-type>4"
                       "</beat-type></time></attributes>")
        for i in range(8):
            degree = (3 * bar + 2 * i * i) % 11
            slur = {0: '<slur number="1" type="start"/>',
                    3: '<slur number="1" type="stop"/>'}.get(i, "")
            out.append(note.format("CDEFGAB"[degree % 7], 4 + degree // 7,
                                   slur))
        out.append("</measure>")
    return "".join(out) + "</part></score-partwise>"


def time_collection():
    """300 bored horns and 200 notes: one thread, then all processors."""
    with tempfile.TemporaryDirectory() as folder:
        horns = pathlib.Path(folder) / "horns"
        horns.mkdir()
        collection.make(horns, 300, collection.BORED)
        tune = pathlib.Path(folder) / "t.abc"
        tune.write_text(tune_of(200))
        taken = []
        for jobs in (1, os.cpu_count() or 1):
            start = time.perf_counter()
            subprocess.run([PROGRAM, "choose", tune, horns, "--jobs",
                            str(jobs)], check=True, stdout=subprocess.DEVNULL)
            taken.append(time.perf_counter() - start)
            print(f"choose, 300 bored horns, {jobs} at once: "
                  f"{taken[-1]:.2f} s")
        print(f"gained by threads: {taken[0] / taken[1]:.2f}")


def compare_with_bare_page(folder, chart):
    """A chart beside a bare process that shows 300 words, turn by turn."""
    commands = {"bare page": [BARE_PAGE, f"{folder}/bare.pdf"]}
    for horn in ("keyed-bugle-c-6", "cornet-b-flat", "ophicleide-c-11"):
        commands[horn] = [PROGRAM, "chart", horn, "-q", "-o", chart]
    times = {name: [] for name in commands}
    for _ in range(ROUNDS):
        for name, words in commands.items():
            start = time.perf_counter()
            subprocess.run(words, check=True)
            times[name].append(1000 * (time.perf_counter() - start))
    base = statistics.median(times["bare page"])
    for name, taken in times.items():
        middle = statistics.median(taken)
        print(f"{name:20} {middle:7.1f} ms, {middle / base:.2f} bare pages")


def main():
    with tempfile.TemporaryDirectory() as folder:
        chart = str(pathlib.Path(folder) / "c.pdf")
        commands = {
            "nothing": ["--version"],
            "notes, 3 valves": ["notes", "cornet-b-flat"],
            "notes, 11 keys": ["notes", "ophicleide-c-11"],
            "notes, 6 keys bored": ["notes", "keyed-bugle-c-6-munich"],
            "notes, 11 keys bored": ["notes", "ophicleide-c-11-museum"],
            "chart, 3 valves": ["chart", "cornet-b-flat", "-o", chart],
            "chart, 11 keys": ["chart", "ophicleide-c-11", "-o", chart],
            "chart, 11 keys bored": ["chart", "ophicleide-c-11-museum", "-o",
                                     chart],
        }
        score = pathlib.Path(folder) / "score.musicxml"
        score.write_text(score_of(300))
        for horn in ("cornet-b-flat", "ophicleide-c-11", "keyed-bugle-c-6"):
            commands[f"300 bars, {horn[:10]}"] = ["passage", horn, score, "-o",
                                                  chart, "-q"]
        times = {name: [] for name in commands}
        for turn in range(ROUNDS + 1):
            for name, words in commands.items():
                start = time.perf_counter()
                # Notes out of reach of a horn end with 1.
                subprocess.run([PROGRAM, *words], check=words[0] != "passage",
                               stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
                if turn > 0:  # the first turn warms the caches
                    times[name].append(1000 * (time.perf_counter() - start))
        compare_with_bare_page(folder, chart)
        base = statistics.median(times["nothing"])
        print("whole process            min   median      max  ratio")
        for name, taken in times.items():
            middle = statistics.median(taken)
            print(f"{name:20} {min(taken):7.1f}  {middle:7.1f}  "
                  f"{max(taken):7.1f} ms {middle / base:5.1f}")
        time_collection()
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
        print(f"largest process {peak / 1024:.1f} MiB")
        time_orders(folder)


main()
