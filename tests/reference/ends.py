"""How an open end sends a wave back, R = -modulus exp(-2 j k length): the
integrals of Levine and Schwinger 1948 and, for an end in a wall, modes."""

import numpy as np

import bessel

NODES, WEIGHTS = np.polynomial.legendre.leggauss(80)


def levine_schwinger(ka):
    """Modulus and length over the radius, for 0 < ka < 3.83."""
    ka = np.atleast_1d(np.asarray(ka, float))
    # x = ka sin(phi) takes the root out of the first two integrals.
    phi = 0.25 * np.pi * (NODES + 1.0)
    x = ka[:, None] * np.sin(phi)
    j1 = bessel.j(1, x)
    y1 = bessel.y(1, x)
    weight = 0.25 * np.pi * WEIGHTS / x
    turn = np.sum(weight * np.arctan2(j1, -y1), axis=1)
    near = np.sum(weight * np.log(np.pi * j1 * np.hypot(j1, y1)), axis=1)
    # x = e^u for the one that runs to infinity.
    u = np.linspace(-14.0, 22.0, 3601)
    e = np.exp(u)
    log = -np.log(bessel.twice_i1_k1(e))
    far = bessel.integral(log / np.sqrt(e**2 + ka[:, None] ** 2), u)
    return np.exp(-2.0 * ka / np.pi * turn), (near + far) / np.pi


# For many frequencies: both between Chebyshev's points of sqrt(ka), the
# modulus as its logarithm over (ka)^2, which tends to -1/2. Below the lowest
# the length does not change by a part in 10,000 and the quadrature is noise.
LOWEST, HIGHEST = 0.003, 3.5
ANGLES = np.pi * (np.arange(40) + 0.5) / 40
SHARES = (-1.0) ** np.arange(40) * np.sin(ANGLES)
AT_POINTS = []


def unflanged(ka):
    ka = np.asarray(ka, float)
    assert ka.max() <= HIGHEST
    low, high = np.sqrt(LOWEST), np.sqrt(HIGHEST)
    if not AT_POINTS:
        own = (low + 0.5 * (high - low) * (1.0 + np.cos(ANGLES))) ** 2
        modulus, length = levine_schwinger(own)
        AT_POINTS.extend([np.log(modulus) / own**2, length])
    place = 2.0 * (np.sqrt(np.maximum(ka, LOWEST)) - low) / (high - low) - 1.0
    share = SHARES / (place[..., None] - np.cos(ANGLES) + 1e-15)
    share /= share.sum(axis=-1, keepdims=True)
    return np.exp(ka**2 * (share @ AT_POINTS[0])), share @ AT_POINTS[1]


def flanged_fit(ka):
    """Silva and others 2009 (coefficients from memory of the publication)."""
    q = np.asarray(ka, float) ** 2
    modulus = (1 + 0.730 * q) / (1 + 1.730 * q + 0.372 * q**2 + 0.0231 * q**3)
    length = 0.8216 * (1 + 0.244 * q) / (
        1 + 0.723 * q - 0.0198 * q**2 + 0.00366 * q**3)
    return modulus, length


def zeros_of_j1(n):
    z = np.pi * (np.arange(1, n + 1) + 0.25)
    for _ in range(6):
        step = 1e-4
        slope = (bessel.j1_any(z + step) - bessel.j1_any(z - step)) / (2 * step)
        z = z - bessel.j1_any(z) / slope
    return np.concatenate([[0.0], z])


def flanged_by_modes(ka, n=32):
    """An end in an infinite wall, n axial modes of the tube matched to the
    waves outside: modulus and length over the radius."""
    zero = zeros_of_j1(n - 1)

    def profile(x):
        return x * bessel.j1_any(x) / (x**2 - zero[:, None] ** 2)

    phi = 0.25 * np.pi * (NODES + 1.0)
    x = ka * np.sin(phi)
    d = profile(x)
    real = (d * x * 0.25 * np.pi * WEIGHTS) @ d.T
    # Beyond ka by x = ka cosh(u), which takes out the root, then plainly.
    u = np.linspace(1e-9, np.arccosh((ka + 3.0) / ka), 1201)
    x = ka * np.cosh(u)
    d = profile(x)
    width = np.gradient(u)
    width[[0, -1]] *= 0.5
    imag = (d * x * width) @ d.T
    x = np.arange(ka + 3.0, 1500.0, 0.05) + 1e-7
    d = profile(x)
    width = np.full(x.size, 0.05)
    width[[0, -1]] *= 0.5
    imag = imag + (d * x / np.sqrt(x**2 - ka**2) * width) @ d.T
    z = 2.0 * ka * (real + 1j * imag)
    own = 1j * ka / np.sqrt(zero[1:] ** 2 - ka**2)
    inner = z[1:, 1:] + np.diag(own)
    whole = z[0, 0] - z[0, 1:] @ np.linalg.solve(inner, z[1:, 0])
    r = (whole - 1.0) / (whole + 1.0)
    return abs(r), -np.angle(-r) / (2.0 * ka)
