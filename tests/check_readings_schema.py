#!/usr/bin/python3
"""The JSON Schema of readings, checked by a general-purpose validator.

It must accept tests/data/readings and refuse tests/bad_readings, but for what
only a horn can tell. The unit tests check the reader on the same files.
"""

import sys

import schema_check

HORN = "only the horn can tell"
AS_DATA = "YAML data looks the same without it"

BEYOND = {
    "no-such-key": HORN,
    "no-such-setting": HORN,
    "octave-out": HORN,
    "all-octave-out": HORN,
    "concert-names": HORN,
    "another-horn": HORN,
}

sys.exit(
    schema_check.agree(
        "instruments/readings.schema.json",
        ["tests/data/readings/*.yaml"],
        "tests/bad_readings",
        BEYOND,
    )
)
