#!/usr/bin/env python3
"""The Tab key offers what can stand there: in bash, zsh and fish."""
import os
import pathlib
import pty
import re
import shlex
import shutil
import subprocess
import sys
import time

sys.dont_write_bytecode = True

from tap import PROGRAM, expect, main, run

BUILT = PROGRAM.parent / "src/manual"
FILES = {"bash": BUILT / "hornbook", "zsh": BUILT / "_hornbook",
         "fish": BUILT / "hornbook.fish"}
OWN_HORN = """\
hornbook: 1
based_on: cornopean-b-flat
name: With crooks of its own
crooks:
  - {crook: A flat, adds: 180} # crook: Z
  - crook: "E"
    adds: 700
"""


def _asked(shell, words, folder):
    result = subprocess.run([*shell, words], cwd=folder, text=True,
                            capture_output=True, check=True, timeout=60)
    assert result.stderr == "", result.stderr
    return [line for line in result.stdout.splitlines() if line]


def _bash(folder, *words):
    """What the completion of bash offers for the last of these words."""
    line = " ".join(map(shlex.quote, words))
    return _asked(["bash", "--norc", "-c"], (
        f"source {shlex.quote(str(FILES['bash']))}\n"
        f"COMP_WORDS=({line}) COMP_CWORD={len(words) - 1}\n_hornbook\n"
        "printf '%s\\n' \"${COMPREPLY[@]}\""), folder)


def _fish(folder, line):
    offered = _asked(["fish", "--no-config", "-c"], (
        f"source {shlex.quote(str(FILES['fish']))}\n"
        f"complete -C {shlex.quote(line)}"), folder)
    return [word.partition("\t")[0] for word in offered]


# Tells what is offered, and ends the shell: the Tab key is the last one.
ZSH_RC = """\
PS1= fpath=({functions} $fpath)
autoload -Uz compinit
compinit -u -D
compadd() {{
    local -a hits
    if [[ ${{@[1,(i)(-|--)]}} != *-(O|A|D)\\ * ]]; then
        builtin compadd -O hits "$@"
        print -rl -- $hits >>told
    fi
    builtin compadd "$@"
}}
tell() {{ zle complete-word; print -r -- '=' >>told; exit }}
zle -N tell
bindkey '^I' tell
cd {folder}
"""


def _zsh(folder, line):
    """The same in an interactive zsh, as it completes in no other."""
    (folder / ".zshrc").write_text(ZSH_RC.format(
        functions=shlex.quote(str(BUILT)), folder=shlex.quote(str(folder))))
    told = folder / "told"
    told.unlink(missing_ok=True)
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(ZDOTDIR=str(folder), TERM="dumb", LC_ALL="C.UTF-8")
        os.execvp("zsh", ["zsh", "--no-globalrcs", "-i"])
    os.write(terminal, line.encode() + b"\t")
    until = time.monotonic() + 60
    while time.monotonic() < until:
        try:
            os.read(terminal, 4096)
        except OSError:
            break  # it has ended
    os.close(terminal)
    os.waitpid(child, 0)
    *offered, end = told.read_text().splitlines()
    assert end == "=", offered
    return [word for word in dict.fromkeys(offered) if word]


def _commands():
    text = expect(run("--help"), 0).stdout
    return re.findall(r"^  ([a-z]+) +", text, re.M)


def _options(command):
    text = expect(run(command, "--help"), 0).stdout
    pairs = re.findall(r"^  (?:(-\w), )?(--[\w-]+)", text, re.M)
    return {name for pair in pairs for name in pair if name}


def _horns():
    return expect(run("horns", "--brief"), 0).stdout.split()


def _put_files(folder):
    for name in ("my-horn.yaml", "tune.abc", "score.mxl", "notes.txt"):
        (folder / name).write_text(OWN_HORN)
    (folder / "horns").mkdir()


def bash_offers_commands_and_their_options(folder):
    assert _bash(folder, "hornbook", "") == [*_commands(), "help", "--help",
                                             "--version"]
    assert _bash(folder, "hornbook", "no") == ["notes"]
    assert _bash(folder, "hornbook", "help", "sc") == ["scales"]
    for command in _commands():
        offered = _bash(folder, "hornbook", command, "-")
        assert set(offered) == _options(command), command
        assert len(set(offered)) == len(offered) >= 4
    assert _bash(folder, "hornbook", "notes", "x", "--na") == ["--names"]
    assert set(_bash(folder, "hornbook", "horns", "")) == _options("horns")


def bash_offers_what_an_option_takes(folder):
    _put_files(folder)
    for words, want in [
            (["chart", "x", "--layout", ""],
             "plate wall stand card large trills"),
            (["chart", "x", "--layout", "=", "st"], "stand"),
            (["chart", "x", "--layout", "="],
             "plate wall stand card large trills"),
            (["slides", "--paper", ""], "A4 A3 A5 A6 Letter"),
            (["notes", "--reads", "treble-"], "treble-bflat treble-eflat"),
            (["notes", "--names", ""], "english german solfege"),
            (["pitch", "--valve-slides", ""], "own in best"),
            (["notes", "x", "--format", ""], "text csv json"),
            (["chart", "x", "--format", ""], "pdf svg png"),
            (["passage", "--format", ""],
             "text json pdf svg png abc musicxml mxl"),
            (["notes", "--a4", ""], ""),
            (["notes", "--sounding", "my"], "my-horn.yaml"),
            (["print", "-o", ""], "horns"),
            (["chart", "--beside", "saxhorn"], "saxhorn-soprano-b-flat")]:
        assert _bash(folder, "hornbook", *words) == want.split(), words
    assert set(_bash(folder, "hornbook", "notes", "-o", "")) == {
        "horns", "my-horn.yaml", "tune.abc", "score.mxl", "notes.txt"}


def the_program_takes_each_word_that_is_offered(folder):
    taken = 0
    for command, option in [
            ("notes", "--names"), ("notes", "--reads"), ("notes", "--format"),
            ("notes", "--valve-slides"), ("chart", "--layout"),
            ("chart", "--paper"), ("slides", "--format")]:
        for word in _bash(folder, "hornbook", command, option, ""):
            name = f"{taken}"
            ending = word if option == "--format" else "pdf"
            output = [] if command == "notes" else ["-o", f"{name}.{ending}"]
            expect(run(command, "cornet-b-flat", option, word, *output,
                       folder=folder), 0)
            taken += 1
    assert taken >= 31, taken


def bash_offers_what_stands_at_a_place(folder):
    _put_files(folder)
    own = {"horns", "my-horn.yaml"}
    every = set(_horns()) | own
    tunes = {"horns", "tune.abc", "score.mxl"}
    for words, want in [
            (["notes", ""], every),
            (["notes", "--a4", "443", ""], every),
            (["passage", "cornet-b-flat", ""], tunes),
            (["choose", ""], tunes),
            (["choose", "tune.abc", "cornet-b-flat", ""], every),
            (["identify", ""], own),
            (["identify", "page.yaml", ""], every),
            (["fit", "cornet-b-flat", ""], own),
            (["print", ""], own)]:
        assert set(_bash(folder, "hornbook", *words)) == want, words
    assert _bash(folder, "hornbook", "chart", "cornop") == ["cornopean-b-flat"]


def bash_offers_the_crooks_of_the_horn(folder):
    _put_files(folder)
    some = 0
    for horn in _horns():
        told = run("notes", horn, "--crook", "none such").stderr
        have = re.search(r"this horn has: (.*)", told)
        want = have[1].split(", ") if have else []
        assert _bash(folder, "hornbook", "notes", horn, "--crook",
                     "") == want, horn
        some += len(want)
    assert some >= 3
    assert _bash(folder, "hornbook", "notes", "--crook", "A",
                 ) == []
    own = ["hornbook", "chart", "my-horn.yaml", "--crook"]
    assert _bash(folder, *own, "") == ["A\\ flat", "E", "A", "Ab", "G"]
    assert _bash(folder, *own, '"A ') == ["A flat"]
    assert _bash(folder, *own, "=", "A\\ ") == ["A\\ flat"]
    (folder / "a.yaml").write_text("hornbook: 1\nbased_on: a.yaml\n")
    assert _bash(folder, "hornbook", "notes", "a.yaml", "--crook", "") == []


def fish_offers_the_same(folder):
    _put_files(folder)
    assert set(_fish(folder, "hornbook ")) == {*_commands(), "help"}
    for command in _commands():
        offered = _fish(folder, f"hornbook {command} --")
        long = {name for name in _options(command) if name[1] == "-"}
        assert set(offered) == long, command
    for line, want in [
            ("hornbook notes cornop", {"cornopean-b-flat"}),
            ("hornbook notes my", {"my-horn.yaml"}),
            ("hornbook chart --layout st", {"stand"}),
            ("hornbook choose ", {"tune.abc", "score.mxl", "horns/"}),
            ("hornbook help sc", {"scales"}),
            ("hornbook notes x --format ", {"text", "csv", "json"}),
            ("hornbook notes cornopean-b-flat --crook ", {"A", "Ab", "G"}),
            ("hornbook notes my-horn.yaml --crook ",
             {"A flat", "E", "A", "Ab", "G"}),
            ("hornbook notes --a4 ", set())]:
        assert set(_fish(folder, line)) == want, (line, _fish(folder, line))


def zsh_offers_the_same(folder):
    _put_files(folder)
    assert set(_zsh(folder, "hornbook ")) >= {*_commands(), "help"}
    for line, want in [
            ("hornbook no", {"notes"}),
            ("hornbook notes cornop", {"cornopean-b-flat"}),
            ("hornbook notes my", {"my-horn.yaml"}),
            ("hornbook chart --layout ",
             {"plate", "wall", "stand", "card", "large", "trills"}),
            ("hornbook choose ", {"tune.abc", "score.mxl", "horns"}),
            ("hornbook notes cornopean-b-flat --crook ", {"A", "Ab", "G"}),
            ("hornbook notes my-horn.yaml --crook=",
             {"A flat", "E", "A", "Ab", "G"})]:
        offered = set(_zsh(folder, line))
        assert offered == want, (line, offered)
    long = {name for name in _options("scales") if name[1] == "-"}
    assert set(_zsh(folder, "hornbook scales --")) >= long


def the_files_are_sound_for_their_shells(folder):
    for shell, path in FILES.items():
        result = subprocess.run([shell, "-n", path], capture_output=True,
                                text=True, check=False)
        assert result.returncode == 0 and result.stderr == "", result


sys.exit(main(globals(), [shell for shell in FILES
                          if shutil.which(shell) is None]))
