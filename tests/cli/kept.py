#!/usr/bin/env python3
"""Nothing of the user's is lost, and nothing of his hangs the program.

What was there before a command fails is there after it, byte for byte.
"""
import os
import pathlib
import shutil
import socket
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import OWN_HORN, PROGRAM, ROOT, expect, main, run

OLD = b"as it was\n"
TUNE = "X:1\nT:Reel\nM:4/4\nL:1/4\nQ:1/4=90\nK:C\nc d e c|c4|]\n"
READINGS = ("hornbook_readings: 1\nreadings:\n"
            "  - {note: C4, fingering: 0, cents: 4}\n"
            "  - {note: G4, fingering: 0, cents: 1}\n"
            "  - {note: C5, fingering: 0, cents: -3}\n")
LATER = "hornbook: 1\nbased_on: own.yaml\nname: A later one\n"


def _whole(folder):
    """Everything in a folder, hidden files too, with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes()
            for p in sorted(folder.rglob("*")) if p.is_file()}


def _attic(folder):
    """A horn, one based on it, a tune, and readings."""
    (folder / "own.yaml").write_text(OWN_HORN)
    (folder / "later.yaml").write_text(LATER)
    (folder / "reel.abc").write_text(TUNE)
    (folder / "page.yaml").write_text(READINGS)


def _order(folder, horn, extra=""):
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        "  - {name: Ada, horn: cornet-b-flat, sheets: [{sheet: card, "
        "paper: A6}]}\n"
        f"  - {{name: Ben, horn: {horn}, sheets: [wall{extra}]}}\n")


def _pages_of(folder, name="x.svg"):
    """The names of the files of a sheet of several pages."""
    expect(run("chart", "ophicleide-c-9", "--large", "-o", name,
               folder=folder), 0)
    pages = sorted(_whole(folder))
    assert {"x.svg", "x-2.svg", "x-3.svg"} <= set(pages), pages
    for page in pages:
        (folder / page).unlink()
    return pages


def a_message_names_its_file_when_the_sheet_is_gone(folder):
    """Of two pages the second cannot be written; the sheet's memory is
    released before the message is."""
    shutil.copytree(ROOT / "charts", folder / "charts")
    for jobs in "12":
        name = f"{jobs}/silas-threlkeld_ophicleide-c-9_card-2.svg"
        (folder / name).mkdir(parents=True)
        result = expect(run("print", "charts/larkmoor.yaml", "-o", jobs,
                            "--jobs", jobs, folder=folder), 4)
        assert result.stderr.splitlines()[0] == (
            f"{name}: error: cannot be written: Is a directory [H004]")


def a_failed_page_leaves_older_files_as_they_were(folder):
    pages = _pages_of(folder)[:3]
    for missing in pages:
        for bad in pages:
            for page in pages:
                if page not in (bad, missing):
                    (folder / page).write_bytes(OLD)
                    (folder / page).chmod(0o600)
            (folder / bad).mkdir()
            before = _whole(folder)
            result = expect(run("chart", "ophicleide-c-9", "--large",
                                "-o", "x.svg", folder=folder), 4)
            assert f"{bad}: error: cannot be written" in result.stderr
            assert _whole(folder) == before, (missing, bad)
            (folder / bad).rmdir()
            for page in before:
                (folder / page).unlink()


def older_pages_give_way_to_a_whole_sheet(folder):
    pages = _pages_of(folder)
    for page in pages:
        (folder / page).write_bytes(OLD)
    expect(run("chart", "ophicleide-c-9", "--large", "-o", "x.svg",
               folder=folder), 0)
    after = _whole(folder)
    assert sorted(after) == pages
    assert all(bytes_.startswith(b"<?xml") for bytes_ in after.values())


def two_pages_do_not_go_to_one_file(folder):
    pages = _pages_of(folder)
    first, second = (folder / page for page in pages[:2])
    first.write_bytes(OLD)
    second.symlink_to(first)
    result = expect(run("chart", "ophicleide-c-9", "--large", "-o",
                        "x.svg", folder=folder), 4)
    assert "[H007]" in result.stderr
    assert first.read_bytes() == OLD and second.is_symlink()
    assert len(list(folder.iterdir())) == 2


def _refuses(folder, output, *args):
    before = _whole(folder)
    result = expect(run(*args, folder=folder), 4)
    assert f"{output}: error: is a file that this command reads" in (
        result.stderr), (args, result.stderr)
    assert _whole(folder) == before, args


def no_command_writes_over_what_it_reads(folder):
    _attic(folder)
    for words in (["notes", "own.yaml"], ["slides", "own.yaml"],
                  ["scales", "own.yaml"],
                  ["notes", "later.yaml"], ["pitch", "later.yaml"],
                  ["pitch", ".", "--jobs", "2"],
                  ["choose", "reel.abc", "cornet-b-flat", "own.yaml"],
                  ["passage", "own.yaml", "reel.abc"],
                  ["identify", "page.yaml", "own.yaml", "cornet-b-flat"]):
        _refuses(folder, "own.yaml", *words, "--json", "-o", "own.yaml")
    measured = ROOT / "instruments/measured/keyed-bugle-c-6-munich.yaml"
    shutil.copy(measured, folder / "bore.yaml")
    _refuses(folder, "bore.yaml", "resonances", "bore.yaml", "--json", "-o",
             "bore.yaml")
    for words in (["choose", "reel.abc", "cornet-b-flat", "own.yaml"],
                  ["passage", "own.yaml", "reel.abc"]):
        _refuses(folder, "reel.abc", *words, "--json", "-o", "reel.abc")
    _refuses(folder, "page.yaml", "identify", "page.yaml", "own.yaml",
             "cornet-b-flat", "--json", "-o", "page.yaml")
    for words in (["chart", "own.yaml"], ["chart", "later.yaml"],
                  ["chart", "cornet-b-flat", "--layout", "wall", "--beside",
                   "own.yaml"],
                  ["passage", "later.yaml", "reel.abc"]):
        for kind in ("pdf", "svg", "png"):
            _refuses(folder, "own.yaml", *words, "--format", kind, "-o",
                     "own.yaml")
    (folder / "x-2.svg").write_text(OWN_HORN.replace("raises: 2", "raises: 3"))
    (folder / "on-a-page.yaml").write_text(
        LATER.replace("own.yaml", "./x-2.svg"))
    _refuses(folder, "x-2.svg", "chart", "on-a-page.yaml", "--layout",
             "trills", "--paper", "A5", "-o", "x.svg")


def a_fit_keeps_readings_and_horn(folder):
    """The fitted horn has no comments and its own idea of what is certain:
    the horn as it was could not be had back from it, and to fit that again
    to the same readings would count them twice."""
    _attic(folder)
    _refuses(folder, "page.yaml", "fit", "own.yaml", "page.yaml", "-o",
             "page.yaml")
    _refuses(folder, "own.yaml", "fit", "own.yaml", "page.yaml", "-o",
             "own.yaml")
    _refuses(folder, "own.yaml", "fit", "later.yaml", "page.yaml", "-o",
             "own.yaml")
    for name, to in (("page.txt", "page.yaml"), ("own.pdf", "own.yaml"),
                     ("parent.json", "own.yaml")):
        (folder / name).symlink_to(to)
        _refuses(folder, name, "fit", "later.yaml", "page.yaml", "-o",
                 "fitted.yaml", "--report", name)
    expect(run("fit", "own.yaml", "page.yaml", "-o", "fitted.yaml",
               folder=folder), 0)
    first = (folder / "fitted.yaml").read_bytes()
    (folder / "sheet.txt").symlink_to("fitted.yaml")
    result = expect(run("fit", "own.yaml", "page.yaml", "-o", "fitted.yaml",
                        "--report", "sheet.txt", folder=folder), 4)
    assert "sheet.txt: error:" in result.stderr
    assert (folder / "fitted.yaml").read_bytes() == first
    with (folder / "page.yaml").open(encoding="utf-8") as page:
        result = subprocess.run(
            [PROGRAM, "fit", "own.yaml", "-", "-o", "page.yaml"],
            cwd=folder, stdin=page, capture_output=True, text=True,
            timeout=60, check=False)
    expect(result, 4)
    assert (folder / "page.yaml").read_text() == READINGS


def a_file_is_known_by_any_name(folder):
    _attic(folder)
    (folder / "sub").mkdir()
    (folder / "link.yaml").symlink_to("own.yaml")
    (folder / "second.yaml").symlink_to("link.yaml")
    os.link(folder / "own.yaml", folder / "hard.yaml")
    for name in ("./own.yaml", "sub/../own.yaml", "link.yaml", "second.yaml",
                 "hard.yaml", folder / "own.yaml"):
        for horn in ("own.yaml", "later.yaml", "hard.yaml", "second.yaml"):
            _refuses(folder, name, "notes", horn, "--json", "-o",
                     name)


def a_tune_becomes_no_listing_and_no_other_format(folder):
    _attic(folder)
    for kind in ("text", "json", "musicxml", "mxl", "pdf", "svg", "png"):
        _refuses(folder, "reel.abc", "passage", "own.yaml", "reel.abc",
                 "--format", kind, "-o", "reel.abc")
    expect(run("passage", "own.yaml", "reel.abc", "-o", "reel.mxl",
               folder=folder), 0)
    for kind in ("text", "abc", "musicxml"):
        _refuses(folder, "reel.mxl", "passage", "own.yaml", "reel.mxl",
                 "--format", kind, "-o", "reel.mxl")


def fingerings_go_into_a_tune_and_out_again(folder):
    _attic(folder)
    (folder / "link.abc").symlink_to("reel.abc")
    for name in ("reel.abc", "./reel.abc", "link.abc"):
        expect(run("passage", "own.yaml", "reel.abc", "-o", name,
                   folder=folder), 0)
        marked = (folder / "reel.abc").read_bytes()
        assert marked != TUNE.encode()
        expect(run("passage", "own.yaml", name, "--bare", "-o", "reel.abc",
                   folder=folder), 0)
        assert (folder / "reel.abc").read_bytes() == TUNE.encode()
    assert (folder / "link.abc").is_symlink()
    for ending in ("musicxml", "mxl"):
        name = f"reel.{ending}"
        expect(run("passage", "own.yaml", "reel.abc", "-o", name,
                   folder=folder), 0)
        for more in (["--bare"], [], ["--bare"]):
            expect(run("passage", "own.yaml", name, *more, "-o", name,
                       folder=folder), 0)


def no_sheet_of_an_order_replaces_what_it_is_made_from(folder):
    """The sheet of one player, where a file of another lies."""
    _attic(folder)
    _order(folder, "later.yaml", ", {sheet: part, file: reel.abc}")
    sheet = folder / "out" / "ada_cornet-b-flat_card.svg"
    sheet.parent.mkdir()
    for name in ("own.yaml", "later.yaml", "reel.abc", "o.yaml"):
        for link in (os.link, os.symlink):
            link(folder / name, sheet)
            before = (folder / name).read_bytes()
            for jobs in "12":
                result = expect(run("print", "o.yaml", "-o", "out", "--jobs",
                                    jobs, folder=folder), 4)
                assert f"{sheet.relative_to(folder)}: error: is a file" in (
                    result.stderr), name
                assert sheet.read_bytes() == before
                assert (folder / name).read_bytes() == before
            sheet.unlink()
    expect(run("print", "o.yaml", "-o", "out", folder=folder), 0)
    (folder / "knows.yaml").write_text(OWN_HORN)
    os.link(folder / "knows.yaml", folder / "out" / "ada_own_trills.svg")
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        "  - {name: Ada, horn: own.yaml, sheets: [trills]}\n"
        "  - {name: Ben, horn: own.yaml, knows: knows.yaml, sheets: [wall]}\n")
    expect(run("print", "o.yaml", "-o", "out", folder=folder), 4)
    assert (folder / "knows.yaml").read_text() == OWN_HORN


def what_is_no_file_in_a_folder_is_passed_over(folder):
    _attic(folder)
    horns = folder / "horns"
    horns.mkdir()
    shutil.copy(ROOT / "instruments/patterns/cornet-b-flat.yaml", horns)
    os.mkfifo(horns / "pipe.yaml")
    os.symlink("pipe.yaml", horns / "link.yaml")
    os.symlink("/dev/null", horns / "null.yaml")
    (horns / "attic.yaml").mkdir()
    with socket.socket(socket.AF_UNIX) as server:
        here = os.getcwd()
        os.chdir(horns)
        server.bind("plug.yaml")
        os.chdir(here)
    for words in (["check"], ["pitch"], ["choose", "reel.abc"],
                  ["identify", "page.yaml", "own.yaml"]):
        result = run(*words, "horns", folder=folder)
        expect(result, 0)
        for name, what in (("pipe", "a pipe"), ("link", "a pipe"),
                           ("null", "a device"), ("attic", "a folder"),
                           ("plug", "a socket")):
            assert (f"horns/{name}.yaml: warning: this is {what} and no horn "
                    "file; it is passed over [H404]") in result.stderr, words
    (horns / "cornet-b-flat.yaml").unlink()
    assert "there is no horn file" in expect(
        run("check", "horns", folder=folder), 1).stderr


def a_pipe_in_place_of_any_file_is_told(folder):
    _attic(folder)
    os.mkfifo(folder / "pipe.yaml")
    (folder / "child.yaml").write_text(LATER.replace("own", "pipe"))
    _order(folder, "pipe.yaml")
    for words, code in (
        (["notes", "pipe.yaml"], 3), (["notes", "child.yaml"], 3),
        (["chart", "own.yaml", "--layout", "wall", "--beside", "pipe.yaml",
          "-o", "x.pdf"], 3),
        (["passage", "own.yaml", "pipe.yaml"], 3),
        (["choose", "pipe.yaml", "own.yaml"], 3),
        (["fit", "own.yaml", "pipe.yaml"], 3),
        (["fit", "pipe.yaml", "page.yaml"], 3),
        (["identify", "pipe.yaml", "own.yaml", "cornet-b-flat"], 3),
        (["identify", "page.yaml", "own.yaml", "pipe.yaml"], 1),
        (["pitch", "own.yaml", "pipe.yaml"], 1),
        (["print", "pipe.yaml"], 3), (["print", "o.yaml"], 1),
    ):
        result = expect(run(*words, folder=folder), code)
        assert "pipe.yaml" in result.stderr and "is not a file" in (
            result.stderr), (words, result.stderr)


def an_output_keeps_permissions_and_links(folder):
    _attic(folder)
    (folder / "sub").mkdir()
    target = folder / "sub" / "chart.txt"
    target.write_bytes(OLD)
    for mode in (0o600, 0o640, 0o666, 0o755):
        target.chmod(mode)
        expect(run("notes", "own.yaml", "-o", "sub/chart.txt",
                   folder=folder), 0)
        assert target.stat().st_mode & 0o7777 == mode
    link = folder / "link.txt"
    link.symlink_to("sub/chart.txt")
    target.write_bytes(OLD)
    expect(run("notes", "own.yaml", "-o", "link.txt", folder=folder), 0)
    assert link.is_symlink() and b"attic horn" in target.read_bytes()
    assert list(target.parent.iterdir()) == [target]
    target.unlink()
    before = _whole(folder)
    expect(run("notes", "own.yaml", "-o", "link.txt", folder=folder), 4)
    assert link.is_symlink() and _whole(folder) == before


def a_file_that_may_not_be_written_is_not_replaced(folder):
    """Nobody may write it; root may, unless his powers are taken away."""
    _attic(folder)
    target = folder / "chart.txt"
    target.write_bytes(OLD)
    target.chmod(0o444)
    before = _whole(folder)
    plain = ["setpriv", "--bounding-set=-all"] if os.geteuid() == 0 else []
    result = subprocess.run(
        [*plain, PROGRAM, "notes", "own.yaml", "-o", "chart.txt"],
        cwd=folder, capture_output=True, text=True, timeout=60, check=False)
    expect(result, 4)
    assert "chart.txt: error: cannot be written: Permission denied" in (
        result.stderr)
    assert _whole(folder) == before


def a_name_may_be_as_long_as_the_disk_takes_it(folder):
    _attic(folder)
    longest = os.pathconf(folder, "PC_NAME_MAX")
    for length in range(longest - 7, longest + 1):
        name = "n" * (length - 4) + ".txt"
        for _ in range(2):
            expect(run("notes", "own.yaml", "-o", name, folder=folder), 0)
            assert b"attic horn" in (folder / name).read_bytes()
        (folder / name).unlink()
    name = "n" * (longest - 3) + ".txt"
    before = _whole(folder)
    result = expect(run("notes", "own.yaml", "-o", name, folder=folder), 4)
    assert f"{name}: error: cannot be written" in result.stderr
    assert _whole(folder) == before


def a_link_to_standard_output_is_standard_output(folder):
    """A link of one's own, not /dev/stdout: what fails must not replace that."""
    _attic(folder)
    (folder / "stdout").symlink_to("/proc/self/fd/1")
    with (folder / "log").open("wb") as log:
        log.write(OLD)
        log.flush()
        expect(run("notes", "own.yaml", "--format", "text", "-o", "stdout",
                   folder=folder, out=log), 0)
    assert (folder / "stdout").is_symlink()
    told = (folder / "log").read_bytes()
    assert told.startswith(OLD) and b"attic horn" in told


def a_pipe_behind_a_link_is_written_as_it_stands(folder):
    """/dev/stdout and /dev/fd lead to a pipe that has no name of its own."""
    _attic(folder)
    want = expect(run("notes", "own.yaml", folder=folder), 0).stdout
    assert "attic horn" in want
    (folder / "stdout").symlink_to("/proc/self/fd/1")
    for name in ("/dev/stdout", "stdout"):
        result = expect(run("notes", "own.yaml", "--format", "text", "-o",
                            name, folder=folder), 0)
        assert (result.stdout, result.stderr) == (want, ""), name
    reader, writer = os.pipe()
    subprocess.run([str(PROGRAM), "notes", "own.yaml", "--format", "text",
                    "-o", f"/dev/fd/{writer}"], cwd=folder, check=True,
                   pass_fds=[writer], timeout=60)
    os.close(writer)
    with os.fdopen(reader, encoding="utf-8") as stream:
        assert stream.read() == want
    assert (folder / "stdout").is_symlink()


sys.exit(main(dict(globals())))
