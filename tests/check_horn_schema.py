#!/usr/bin/python3
"""The JSON Schema of horn files, checked by a general-purpose validator.

The schema must accept each file the C reader accepts (tests/data/good,
tests/doubtful and every shipped horn) and refuse each that the reader refuses
(tests/bad; the unit tests check the reader itself on the same files). What no
JSON Schema can say is listed in BEYOND, with the reason.
"""

import sys

import schema_check

# Faults that need more than one value, or another file, to be seen.
ACROSS = "compares values in different places"
OTHER_FILE = "depends on the horn it is based on"
NAMES = "a name must, or must not, occur elsewhere in the file"
AS_DATA = "YAML data looks the same without it"

BEYOND = {
    "added-valve-incomplete": OTHER_FILE,
    "alias": AS_DATA,
    "anchor": AS_DATA,
    "backbore-order": ACROSS,
    "bore-assumed": ACROSS,
    "bore-assumed-beyond": ACROSS,
    "bore-assumed-length": NAMES,
    "base-circle": OTHER_FILE,
    "base-circle-back": OTHER_FILE,
    "base-itself": OTHER_FILE,
    "base-loses-tube-length": OTHER_FILE,
    "base-not-found": OTHER_FILE,
    "base-not-shipped": OTHER_FILE,
    "base-not-shipped-nearly": OTHER_FILE,
    "base-not-yaml": OTHER_FILE,
    "base-too-deep": OTHER_FILE,
    "base-unreadable": OTHER_FILE,
    "bore-order": ACROSS,
    "bore-step-at-the-ends": ACROSS,
    "bore-step-of-three": ACROSS,
    "bore-step-same-diameter": ACROSS,
    "column-vanishes": ACROSS,
    "compass-upside-down": ACROSS,
    "crook-outside-tube": ACROSS,
    "crook-twice": NAMES,
    "duplicate-name": AS_DATA,
    "hole-beyond-bell-at": ACROSS,
    "hole-beyond-fundamental": ACROSS,
    "hole-beyond-mouthpiece": ACROSS,
    "hole-too-wide": ACROSS,
    "holes-together": ACROSS,
    "leading-zero": AS_DATA,
    "loop-longer-than-horn": ACROSS,
    "mouthpiece-swallows-the-bore": ACROSS,
    "no-such-valve": NAMES,
    "not-together": NAMES,
    "not-together-alone": NAMES,
    "nothing-to-remove": OTHER_FILE,
    "opens-no-such-key": NAMES,
    "opens-open-key": NAMES,
    "opens-touch-without-hole": NAMES,
    "pad-too-small": ACROSS,
    "partials-above-default": ACROSS,
    "partials-upside-down": ACROSS,
    "player-twice": ACROSS,
    "same-key-twice": NAMES,
    "same-override-twice": NAMES,
    "same-valve-twice": NAMES,
    "slide-outside-tube": ACROSS,
    "slide-twice": NAMES,
    "stands-beyond-travel": ACROSS,
    "stuck-names": NAMES,
    "stuck-twofold": ACROSS,
    "tag": AS_DATA,
    "too-many-controls": ACROSS,
    "too-many-sites": ACROSS,
    "too-many-touches": NAMES,
    "trigger-on-loop-in": NAMES,
    "tuning-fingering": NAMES,
    "tuning-note-outside": ACROSS,
    "when-no-such-valve": NAMES,
    "when-without-own": NAMES,
}

sys.exit(
    schema_check.agree(
        "instruments/horn.schema.json",
        [
            "tests/data/good/*.yaml",
            "tests/data/records/*.yaml",
            "tests/bad/parents/*.yaml",
            "tests/doubtful/*.yaml",
            "instruments/patterns/*.yaml",
            "instruments/measured/*.yaml",
        ],
        "tests/bad",
        BEYOND,
    )
)
