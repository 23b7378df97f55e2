"""What the tests of the program share: to run it, and to report as TAP."""
import pathlib
import subprocess
import sys
import tempfile
import traceback

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(sys.argv[1]).resolve()

BAD_HORN = "hornbook: 1\nname: Broken\nlenght: 1400\n"
HIGH_PITCH = """\
hornbook: 1
name: High pitch cornet
written_c4_sounds: Bb3
tuning: {note: C5, a4: 452.5, temperature: 20}
compass: [C4, C6]
fundamental: Bb2
slides: [{slide: %s, travel: 60, legs: %d}]
crooks: [{crook: low, kind: shank, adds: 41.8}]
"""
OWN_HORN = """\
hornbook: 1
name: My attic horn
source: invented
written_c4_sounds: C4
fundamental: C3
keys:
  - {key: 1, rest: open, raises: -1, finger: right little}
  - {key: 2, rest: shut, raises: 2, finger: right index}
slides:
  - {slide: shank, travel: 20, legs: 1}
"""


def run(*args, folder=None, out=None):
    return subprocess.run(
        [str(PROGRAM), *map(str, args)],
        cwd=folder or ROOT,
        stdout=out or subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=out is None,
        timeout=60,
        check=False,
    )


def expect(result, code):
    assert result.returncode == code, (
        f"exit {result.returncode}, want {code}\n{result.stderr}")
    return result


def flat(text):
    """A text without the ends of its lines, which are those of 80 columns."""
    return " ".join(text.split())


def main(names, missing=()):
    """Calls every function of a script in a fresh folder; its name is the
    sentence that is tested. Nothing where a tool is missing."""
    if missing:
        print(f"1..0 # SKIP {', '.join(missing)} not installed")
        return 0
    cases = [f for name, f in names.items()
             if callable(f) and name.islower() and name[0] != "_" and
             getattr(f, "__module__", "") == "__main__"]
    print(f"1..{len(cases)}")
    failed = 0
    for number, case in enumerate(cases, 1):
        with tempfile.TemporaryDirectory() as folder:
            try:
                case(pathlib.Path(folder))
                print(f"ok {number} - {case.__name__}")
            except Exception:  # every failure is one line of TAP
                failed += 1
                print(f"not ok {number} - {case.__name__}")
                print("# " + traceback.format_exc().replace("\n", "\n# "))
    return 1 if failed else 0
