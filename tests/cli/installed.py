#!/usr/bin/env python3
"""What `meson install` puts down runs by itself: staged, moved, linked to."""
import os
import pathlib
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import PROGRAM, ROOT, expect, main, run

BUILD = PROGRAM.parent
LOG = BUILD / "meson-logs/install-log.txt"
# The horns must be found by where the program lies.
os.environ.pop("HORNBOOK_INSTRUMENTS", None)


def _build(*words, stage):
    environment = dict(os.environ, DESTDIR=str(stage))
    result = subprocess.run([*words], cwd=BUILD, env=environment,
                            capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stdout + result.stderr


def _install(stage):
    """Stages an install and returns its root. What the builder installed for
    good stays written down, so that it can still be taken away."""
    before = LOG.read_bytes() if LOG.exists() else None
    try:
        _build("meson", "install", "--no-rebuild", "--quiet", stage=stage)
        here = LOG.read_bytes()
    finally:
        if before is None:
            LOG.unlink(missing_ok=True)
        else:
            LOG.write_bytes(before)
    program, = stage.rglob("bin/hornbook")
    return program.parent.parent, here


def _runs(program, folder):
    """The program lists every horn and makes a chart of one by its name."""
    def told(*words):
        result = subprocess.run([str(program), *words], cwd=folder, text=True,
                                capture_output=True, check=False, timeout=60)
        assert result.returncode == 0, result.stderr
        return result.stdout
    assert told("horns") == expect(run("horns"), 0).stdout
    told("chart", "cornet-b-flat", "-o", "chart.pdf")
    assert (folder / "chart.pdf").read_bytes().startswith(b"%PDF")


def _files(folder):
    return {str(path.relative_to(folder)) for path in folder.rglob("*")
            if path.is_file()}


def everything_is_put_where_it_belongs(folder):
    root, _ = _install(folder / "stage")
    share = root / "share/hornbook"
    assert _files(share / "instruments") == _files(ROOT / "instruments")
    assert _files(share / "json") == _files(ROOT / "charts/json") | {
        "order.schema.json"}
    assert _files(share / "charts") == {"primer-tunes.abc"}
    for name in ("LICENSE", "README.md"):
        assert (root / "share/doc/hornbook" / name).read_bytes() == (
            ROOT / name).read_bytes()
    pages = [path.stem for path in (ROOT / "src/manual").glob("*.scd")]
    assert _files(root / "share/man") == {
        f"man{page[-1]}/{page}" for page in pages} and len(pages) >= 18
    for name in ("bash-completion/completions/hornbook",
                 "zsh/site-functions/_hornbook",
                 "fish/vendor_completions.d/hornbook.fish"):
        assert (root / "share" / name).read_bytes() == (
            BUILD / "src/manual" / pathlib.Path(name).name).read_bytes()
    links = [path for path in root.rglob("*") if path.is_symlink()]
    assert links == [], links


def it_runs_where_it_was_staged_and_where_it_is_moved_to(folder):
    root, _ = _install(folder / "a stage with spaces")
    _runs(root / "bin/hornbook", folder)
    moved = folder / "another place/of its own"
    shutil.move(root, moved)
    _runs(moved / "bin/hornbook", folder)
    link = folder / "hb"
    link.symlink_to(moved / "bin/hornbook")
    _runs(link, folder)


def its_pages_can_be_read(folder):
    root, _ = _install(folder / "a stage")
    for page in (root / "share/man").glob("man*/*"):
        result = subprocess.run(["mandoc", page], text=True,
                                capture_output=True, check=False)
        assert result.returncode == 0 and result.stderr == "", result
        title = f"{page.stem}({page.suffix[1:]})"
        assert result.stdout.startswith(title), (page, result.stdout[:80])


def a_program_without_its_horns_says_where_it_looked(folder):
    root, _ = _install(folder / "stage")
    shutil.copy(root / "bin/hornbook", folder / "alone")
    result = subprocess.run([str(folder / "alone"), "horns"], text=True,
                            capture_output=True, check=False,
                            env=dict(os.environ, HORNBOOK_INSTRUMENTS=""))
    named = root.relative_to(folder / "stage")
    if (pathlib.Path("/") / named / "share/hornbook/instruments").is_dir():
        expect(result, 0)
        return  # installed on this machine for good as well: found there
    assert result.returncode == 3 and result.stdout == "", result
    assert "hornbook/instruments; set HORNBOOK_INSTRUMENTS" in result.stderr


def the_program_names_no_folder_of_its_source(_):
    assert str(ROOT).encode() not in PROGRAM.read_bytes()


def what_was_installed_can_be_taken_away(folder):
    root, log = _install(folder / "stage")
    assert len(_files(root)) > 60
    before = LOG.read_bytes() if LOG.exists() else None
    try:
        LOG.write_bytes(log)
        _build("meson", "--internal", "uninstall", stage=folder / "stage")
    finally:
        if before is None:
            LOG.unlink(missing_ok=True)
        else:
            LOG.write_bytes(before)
    assert _files(root) == set()


TOOLS = ("meson", "scdoc", "mandoc")
sys.exit(main(globals(), [tool for tool in TOOLS
                          if shutil.which(tool) is None]))
