"""The air column once more: the formulas of src/acoustics written anew and
solved by other means. It checks arithmetic, not physics: what is wrong with
the formulas is wrong here too.

Tubes: the two line equations are integrated along the wall by Magnus' method
of the fourth order, where the program multiplies closed forms of cones.
Bessel functions and the reflection at the bell: bessel.py, ends.py."""

import numpy as np

import bessel
import ends


class Air:
    """Keefe 1984, 17 to 37 degrees Celsius."""

    def __init__(self, celsius):
        dt = celsius - 26.85
        self.speed = 347.23 * (1.0 + 0.00166 * dt)
        self.density = 1.1769 * (1.0 - 0.00335 * dt)
        self.viscosity = 1.846e-5 * (1.0 + 0.0025 * dt)
        self.gamma = 1.4017 * (1.0 - 0.00002 * dt)
        self.root_prandtl = 0.8410 * (1.0 - 0.0002 * dt)


class Column:
    """Elements from the mouthpiece: ("tube", length, near, far), ("loop",
    site, length, near, far), ("hole", site, dict), ("cup", volume). `cup`
    tubes at the start have plane fronts whatever the others have."""

    def __init__(self, *elements, spherical=False, bell="unflanged", cup=0,
                 step_inertance=False):
        self.elements = elements
        self.spherical = spherical
        self.bell = bell
        self.cup = cup
        self.step_inertance = step_inertance


def line(air, omega, radius):
    """Series impedance times S and shunt admittance over S, per metre."""
    shear = radius * np.sqrt(omega * air.density / air.viscosity)
    turn = np.exp(-0.25j * np.pi)

    def f(x):
        return 2.0 * bessel.j1_over_j0(x) / (x * turn)

    z = 1j * omega * air.density / (1.0 - f(shear))
    y = 1j * omega / (air.density * air.speed**2) * (
        1.0 + (air.gamma - 1.0) * f(air.root_prandtl * shear))
    return z, y


def steps_of(length, near, far, fine):
    """Where the wall is cut: steps short beside the radius and the wave."""
    ratio, longest = (1.02, 0.008) if fine else (1.10, 0.040)
    if near == far:
        n = int(np.ceil(length / (0.06 if fine else 0.1)))
        return np.linspace(0.0, length, n + 1)
    slope = (far - near) / length
    cuts = [0.0]
    while cuts[-1] < length:
        a = near + slope * cuts[-1]
        cuts.append(cuts[-1] + min(longest, (ratio - 1.0) * a / abs(slope)))
    cuts[-1] = length
    return np.array(cuts)


def tube(air, omega, length, near, far, spherical, fine, wave):
    """Carries (p, U) from the far end of a tube to its near end."""
    slope = (far - near) / length
    stretch = np.hypot(1.0, slope) if spherical else 1.0
    cap = 2.0 / (1.0 + 1.0 / stretch)
    cuts = steps_of(length, near, far, fine)
    h = np.diff(cuts)[::-1]
    middle = (0.5 * (cuts[1:] + cuts[:-1]))[::-1]
    off = h * np.sqrt(3.0) / 6.0
    h = (h * stretch)[:, None]
    pair = []
    for x in (middle + off, middle - off):
        a = (near + slope * x)[:, None]
        z, y = line(air, omega[None, :], a)
        s = np.pi * a**2 * cap
        pair.append((z / s, y * s))
    (z1, y1), (z2, y2) = pair
    b = 0.5 * h * (z1 + z2)
    c = 0.5 * h * (y1 + y2)
    d = np.sqrt(3.0) / 12.0 * h**2 * (z1 * y2 - z2 * y1)
    theta = np.sqrt(d * d + b * c)
    ch = np.cosh(theta)
    sh = np.sinh(theta) / theta
    p, u = wave
    for i in range(len(h)):
        p, u = ((ch[i] - sh[i] * d[i]) * p + sh[i] * b[i] * u,
                sh[i] * c[i] * p + (ch[i] + sh[i] * d[i]) * u)
    return p, u


def step(air, omega, near, far, wave):
    """Karal 1953 (from memory): the inertance of a jump in the bore."""
    a1, a2 = min(near, far), max(near, far)
    length = 0.82 * a1 * max(0.0, 1.0 - 1.25 * a1 / a2)
    p, u = wave
    return p + 1j * omega * air.density * length / (np.pi * a1**2) * u, u


def end_load(air, omega, kind, radius, extra=0.0):
    area = np.pi * radius**2
    z = 1j * omega * air.density * extra / area
    if kind != "ideal":
        ka = omega * radius / air.speed
        modulus, length = (ends.unflanged(ka) if kind == "unflanged"
                           else ends.flanged_fit(ka))
        r = -modulus * np.exp(-2j * ka * length)
        z = z + air.density * air.speed / area * (1.0 + r) / (1.0 - r)
    return z, np.ones_like(omega, complex)


def pad(hole):
    """Dalmont, Nederveen and Joly 2001 (from memory)."""
    if not hole.get("pad"):
        return 0.0
    b = hole["radius"]
    h = hole["lift"] / b
    w = hole.get("wall", 0.0) / b
    return b / (3.5 * h**0.8 * (h + 3.0 * w) ** -0.4
                + 30.0 * (hole["lift"] / hole["pad"]) ** 2.6)


def rim_load(air, omega, hole, bore):
    b = hole["radius"]
    rim = hole["rim"]
    if rim == "wide":
        return end_load(air, omega, "flanged", b, pad(hole))
    if rim == "thin":
        ratio = b / (b + hole.get("wall", 0.0))
        collar = 0.8216 + ratio * (0.612701 - 0.8216) + 0.057 * ratio * (
            1.0 - ratio**5) - 0.612701
        return end_load(air, omega, "unflanged", b, pad(hole) + b * collar)
    length = b * (0.822 - 0.47 * (b / (bore + hole["chimney"])) ** 0.8)
    z, u = end_load(air, omega, "ideal", b, length + pad(hole))
    k = omega / air.speed
    return z + air.density * air.speed / (np.pi * b**2) * (k * b) ** 2 / 4.0, u


def side_hole(air, omega, hole, bore, is_open, fine, wave):
    """Lefebvre and Scavone 2012 (from memory)."""
    b, t = hole["radius"], hole["chimney"]
    d = b / bore
    matching = b * d / 8.0 * (1.0 + 0.207 * d**3)
    load = (rim_load(air, omega, hole, bore) if is_open
            else (np.ones_like(omega, complex), np.zeros_like(omega, complex)))
    q, v = tube(air, omega, t + matching, b, b, False, fine, load)
    inner = 0.822 - 0.095 * d - 1.566 * d**2 + 2.138 * d**3 - (
        1.640 * d**4) + 0.502 * d**5
    ka = omega * bore / air.speed
    low = np.minimum(ka, 1.0)
    growth = 1.0 + (1.0 - 4.56 * d + 6.55 * d**2) * (
        0.17 * low + 0.92 * low**2 + 0.16 * low**3 - 0.29 * low**4)
    shunt = q / np.where(v == 0, 1.0, v) + 1j * omega * air.density * (
        b * inner * growth) / (np.pi * b**2)
    along = (0.35 - 0.06 * np.tanh(2.7 * t / b) if is_open
             else 0.12 + 0.17 * np.tanh(2.4 * t / b))
    za = -1j * omega * air.density * along * b * d**2 / (np.pi * bore**2)
    p, u = wave
    p = p + 0.5 * za * u
    u = u + p / shunt
    return p + 0.5 * za * u, u


def tubes_before(elements, i):
    return [e for e in elements[:i] if e[0] == "tube"]


def bore_at(elements, i):
    before = tubes_before(elements, i)
    return before[-1][3] if before else next(
        e[2] for e in elements[i:] if e[0] == "tube")


def impedance(column, air, hz, word=0, fine=True):
    """p/U at the mouthpiece; bit s of the word: site s is open or in."""
    omega = 2.0 * np.pi * np.asarray(hz, float)
    elements = column.elements
    wave = end_load(air, omega, column.bell, bore_at(elements, len(elements)))
    for i in range(len(elements) - 1, -1, -1):
        kind, *e = elements[i]
        spherical = column.spherical and i >= column.cup
        if kind == "tube":
            wave = tube(air, omega, *e, spherical, fine, wave)
            before = tubes_before(elements, i)
            if column.step_inertance and before:
                wave = step(air, omega, before[-1][3], e[1], wave)
        elif kind == "hole":
            wave = side_hole(air, omega, e[1], bore_at(elements, i),
                             bool(word >> e[0] & 1), fine, wave)
        elif kind == "cup":
            p, u = wave
            wave = p, u + 1j * omega * e[0] / (
                air.density * air.speed**2) * p
        elif word >> e[0] & 1:
            bore = bore_at(elements, i)
            if column.step_inertance:
                wave = step(air, omega, e[3], bore, wave)
            wave = tube(air, omega, *e[1:], spherical, fine, wave)
            if column.step_inertance:
                wave = step(air, omega, bore, e[2], wave)
        scale = 1.0 / (abs(wave[1]) + 1e-7 * abs(wave[0]))
        wave = wave[0] * scale, wave[1] * scale
    return wave[0] / wave[1]


def maxima(column, air, limit_hz, word=0, step_hz=2.5):
    """Every maximum of |Z| up to a limit, Hz."""
    grid = np.arange(15.0, limit_hz + 2 * step_hz, step_hz)
    level = abs(impedance(column, air, grid, word, fine=False))
    top = 1 + np.flatnonzero((level[1:-1] > level[:-2])
                             & (level[1:-1] >= level[2:]))
    at = grid[top]
    width = step_hz
    for _ in range(4):
        hz = at[:, None] + width * np.linspace(-1.0, 1.0, 7)
        dip = abs(impedance(column, air, hz.ravel(), word)) ** -2.0
        dip = dip.reshape(hz.shape)
        best = np.clip(np.argmin(dip, axis=1), 1, 5)
        rows = np.arange(len(at))
        a, b, c = (dip[rows, best + k] for k in (-1, 0, 1))
        gap = width / 3.0
        at = hz[rows, best] + 0.5 * gap * (a - c) / (a - 2.0 * b + c)
        width *= 0.35
    return at[at <= limit_hz]
