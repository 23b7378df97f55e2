#!/usr/bin/env python3
"""Makes every reference number of the acoustics' tests again, by column.py,
ends.py and bessel.py, and compares it with what stands in the tests.

    compare.py           compares: test lines, exit code 1 when one differs
    compare.py --print   what the tests should say

What is compared is arithmetic: column.py has the formulas of the program."""

import re
import sys
from pathlib import Path

sys.dont_write_bytecode = True
try:
    import numpy as np
except ImportError:
    print("1..0 # SKIP python3-numpy is missing")
    sys.exit(0)

import bessel
import column
import ends
from column import Air, Column

TESTS = Path(__file__).resolve().parent.parent


def cylinder(length, radius, bell="unflanged"):
    return Column(("tube", length, radius, radius), bell=bell)


def one_hole(**hole):
    return Column(("tube", 0.7, 0.01, 0.01),
                  ("hole", 0, {"radius": 0.007, "chimney": 0.0092, **hole}),
                  ("tube", 0.3, 0.01, 0.01))


def cone_holes():
    at = [0.0, 0.80, 0.95, 1.08, 1.2]
    radius = [0.009, 0.011, 0.013]
    elements = []
    for i in range(4):
        near, far = (0.006 + 0.034 / 1.2 * x for x in at[i:i + 2])
        elements.append(("tube", at[i + 1] - at[i], near, far))
        if i < 3:
            elements.append(("hole", i, {"radius": radius[i],
                                         "chimney": 0.004, "rim": "wide"}))
    return Column(*elements)


def profile(x, radius):
    return [("tube", x[i + 1] - x[i], radius[i], radius[i + 1])
            for i in range(len(x) - 1) if x[i + 1] > x[i]]


# Kemp 2002, thesis Edinburgh, table 4.1.
BELL = profile(
    0.01 * np.array([0, 0.2, 0.7, 7.0, 11.02, 11.87, 16.21, 20.73, 25.0, 29.7,
                     34.5, 36.9, 39.0, 42.5, 45.4, 48.2, 49.7, 50.4]),
    0.001 * np.array([6.8, 6.5, 6.5, 6.5, 6.5, 6.72, 7.32, 8.25, 9.12, 10.07,
                      11.7, 12.7, 13.7, 16.2, 19.8, 32.7, 47.5, 64.5]))

# An invented trumpet that begins with a cup like a bowl: mm.
BOWL = 0.001 * np.array(
    [[0, 8.25], [2, 8.1], [4, 7.5], [6, 6.5], [8, 5.0], [9.5, 3.5],
     [10.5, 2.4], [12, 1.83], [15, 1.83], [75, 4.3], [250, 5.85], [900, 5.85],
     [1050, 7.2], [1150, 9.0], [1220, 11.8], [1270, 16.0], [1300, 21.5],
     [1320, 29.0], [1335, 41.0], [1345, 60.0]])
BOWL_CUP = 7  # tubes up to the throat

COLUMNS = {
    "cylinder 1 m, a 8 mm": (cylinder(1.0, 0.008), 0),
    "cylinder 2 m, a 6 mm": (cylinder(2.0, 0.006), 0),
    "cylinder 1 m, a 8 mm, flanged": (cylinder(1.0, 0.008, "flanged"), 0),
    "cone 0.5 to 50 mm, 2.4 m": (Column(("tube", 2.4, 0.0005, 0.05)), 0),
    "cone 6 to 40 mm, 1.2 m": (Column(("tube", 1.2, 0.006, 0.04)), 0),
    "cone 6 to 100 mm, 2.4 m": (Column(("tube", 2.4, 0.006, 0.1)), 0),
    "cylinder, shut hole": (one_hole(rim="wide"), 0),
    "cylinder, open hole": (one_hole(rim="wide"), 1),
    "cylinder, open hole under a pad":
        (one_hole(rim="wide", wall=0.0005, pad=0.009, lift=0.005), 1),
    "cylinder, open hole in its wall": (one_hole(rim="cylinder"), 1),
    "cylinder, open hole with a collar": (one_hole(rim="thin", wall=0.002), 1),
    "cone, three shut holes": (cone_holes(), 0),
    "cone, lowest hole open": (cone_holes(), 4),
    "trumpet bell section": (Column(*BELL), 0),
    "trumpet bell section, spherical": (Column(*BELL, spherical=True), 0),
    "cylinder 2 m behind a cup":
        (Column(("cup", 1.5e-6), ("tube", 0.02, 0.0019, 0.0019),
                ("tube", 2.0, 0.006, 0.006)), 0),
    "trumpet with a bowl":
        (Column(*profile(*BOWL.T), spherical=True, cup=BOWL_CUP), 0),
}


def source(path, after, end):
    """The numbers that stand between two marks of a test, comments left out."""
    text = (TESTS / path).read_text()
    start = text.index(after) + len(after)
    block = text[text.index("{", start):text.index(end, start)]
    block = re.sub(r"/\*.*?\*/", "", block, flags=re.S)
    return [float(x) for x in re.findall(r"-?\d+\.\d+(?:e-?\d+)?", block)]


def columns():
    for name, (tubes, word) in COLUMNS.items():
        text = source("support/tubes.h", f'{{"{name}"', "}}}")
        modes = len(text) // 2
        made = []
        for celsius in (20.0, 27.0):
            limit = 1.02 * max(text)
            found = column.maxima(tubes, Air(celsius), limit, word)
            made.extend(found[:modes])
        yield name, text, made, 0.0011


def closed_forms():
    """Without losses, between a closed end and no pressure."""
    c = Air(20.0).speed
    n = np.arange(1, 9)

    def roots(f, count):
        k = np.linspace(0.05, 2.0 * np.pi * 1400.0 / c, 1001)
        value = f(k)
        found = []
        for i in np.flatnonzero(value[:-1] * value[1:] < 0.0):
            # A tangent that runs through infinity is no root.
            if abs(value[i]) + abs(value[i + 1]) > 1e3:
                continue
            low, high = k[i], k[i + 1]
            for _ in range(60):
                middle = 0.5 * (low + high)
                if f(np.array(middle)) * f(np.array(low)) > 0.0:
                    low = middle
                else:
                    high = middle
            found.append(low)
        return np.array(found[:count]) * c / (2.0 * np.pi)

    def cone(near, far, length):
        apex = near * length / (far - near)
        return roots(lambda k: np.sin(k * length)
                     + k * apex * np.cos(k * length), 8)

    def exponential(k):
        m = 2.0 * np.log(10.0)
        b = np.sqrt(np.maximum(k**2 - 0.25 * m**2, 1e-9))
        return m * np.sin(b) + 2.0 * b * np.cos(b)

    def bessel_horn(k):
        a, b = 0.01 * k, 1.01 * k
        return (bessel.j(1.2, a) * bessel.y(0.2, b)
                - bessel.y(1.2, a) * bessel.j(0.2, b))

    def hole(is_open):
        share = 0.49

        def f(k):
            t = 0.0092 * k
            side = share / np.tan(t) if is_open else -share * np.tan(t)
            a, b = 0.7 * k, 0.3 * k
            return (np.sin(a) * np.sin(b)
                    - np.cos(a) * (np.cos(b) + side * np.sin(b)))
        return roots(f, 6)

    forms = {
        "f = (2n - 1) c / 4L": (2 * n - 1) * c / 4.0,
        "f = n c / 2L": n * c / 4.8,
        "tan kL = -k x1, x1 = 0.211764706 m": cone(0.006, 0.04, 1.2),
        "tan kL = -k x1, x1 = 0.153191489 m": cone(0.006, 0.1, 2.4),
        "tan bL = -2b/m, k^2 = b^2 + m^2/4, m = 4.605170186":
            roots(exponential, 8),
        "J1.2(k y0) Y0.2(k y1) = Y1.2(k y0) J0.2(k y1)": roots(bessel_horn, 8),
        "tan k 0.7 = cot k 0.3 + (b/a)^2 cot kt": hole(True),
        "tan k 0.7 = cot k 0.3 - (b/a)^2 tan kt": hole(False),
    }
    for name, made in forms.items():
        text = source("support/tubes.h", f'{{"{name}"', "}}")
        yield name, text[-len(made):], list(made), 1.1e-6




def open_ends():
    path = "unit/test_radiation.c"
    after = "the_unflanged_end_follows_levine_and_schwinger(void"
    text = source(path, after + " **state)\n{", "};")
    made = np.column_stack(
        [text[::3], *ends.levine_schwinger(np.array(text[::3]))])
    yield "Levine and Schwinger's integrals", text, list(made.ravel()), 1.1e-6
    text = source(path, "} tiny[] =", "};")
    made = ends.levine_schwinger(np.array(text[::2]))[0]
    yield "the same for small ends", text[1::2], list(made), 1.1e-10
    text = source(path, "} near[] =", "};")
    made = ends.levine_schwinger(np.array(text[::2]))[0]
    yield "the same above 3.5", text[1::2], list(made), 1.1e-7
    text = source(path, "} far[] =", "};")

    def modulus(ka):
        return np.sqrt(np.pi * ka) * np.exp(-ka) * (1 + 3 / (32 * ka**2))

    made = modulus(np.array(text[::2])) / modulus(4.0)
    yield "their formula for large ka", text[1::2], list(made), 1.1e-8
    text = source(path, "the_flanged_end_follows_a_modal_solution(void"
                  " **state)\n{", "};")
    made = [x for ka in text[::3] for x in (ka, *ends.flanged_by_modes(ka))]
    yield "an end in a wall by 32 modes", text, made, 1.1e-4


def walls():
    """A wave in a wide tube: attenuation, and how much slower it is."""
    air = Air(20.0)
    text = source("unit/test_losses.c", "MODELLED[] =", "};")
    made = []
    for radius, hz in ((0.005, 1000.0), (0.004, 200.0)):
        omega = 2.0 * np.pi * np.array([hz])
        z, y = column.line(air, omega, np.array([radius]))
        g = complex(np.sqrt(z * y)[0])
        made += [radius, hz, g.real, 1.0 - omega[0] / (g.imag * air.speed)]
    yield "attenuation and speed", text, made, 6e-6


def main():
    number = 0
    failed = 0
    for group in (columns, closed_forms, open_ends, walls):
        for name, text, made, tolerance in group():
            number += 1
            if "--print" in sys.argv:
                print(name, np.array2string(
                    np.array(made), precision=9, suppress_small=True))
                continue
            same = len(text) == len(made) > 0 and np.allclose(
                text, made, rtol=0.0, atol=tolerance)
            failed += not same
            print("ok" if same else "not ok", number, "-", name)
            if not same:
                print("# stands:", text, "\n# made:", list(np.round(made, 9)))
    if "--print" not in sys.argv:
        print(f"1..{number}")
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
