"""Bessel functions from their integrals and series, by numpy alone."""

import numpy as np


def integral(y, x):
    """Simpson's rule over the last axis, x evenly spaced and odd in number."""
    sides = y[..., 0] + y[..., -1]
    odd = y[..., 1::2].sum(axis=-1)
    even = y[..., 2:-1:2].sum(axis=-1)
    return (x[1] - x[0]) / 3.0 * (sides + 4.0 * odd + 2.0 * even)


ANGLE = np.linspace(0.0, np.pi, 1201)
REACH = np.linspace(0.0, 1.0, 1201)


def far_out(x):
    """From 0 to where exp(-x sinh t) has died away, and how far that is."""
    top = np.arcsinh(45.0 / x)
    return top * REACH, top[..., 0]


def j(order, x):
    """Bessel's and Schlaefli's integrals; x real, up to 60."""
    x = np.asarray(x, float)[..., None]
    near = integral(np.cos(order * ANGLE - x * np.sin(ANGLE)), ANGLE) / np.pi
    if order == round(order):
        return near
    t, top = far_out(x)
    far = top * integral(np.exp(-x * np.sinh(t) - order * t), REACH)
    return near - np.sin(order * np.pi) / np.pi * far


def y(order, x):
    x = np.asarray(x, float)[..., None]
    near = integral(np.sin(x * np.sin(ANGLE) - order * ANGLE), ANGLE) / np.pi
    t, top = far_out(x)
    far = top * integral(
        (np.exp(order * t) + np.exp(-order * t) * np.cos(order * np.pi))
        * np.exp(-x * np.sinh(t)), REACH)
    return near - far / np.pi


def j1_any(x):
    """J1 for real x of any size: the integral, then Hankel's series."""
    x = np.asarray(x, float)
    out = np.empty_like(x)
    low = x < 30.0
    out[low] = j(1, x[low])
    z = x[~low]
    p, q = hankel(1, z)
    phase = z - 0.75 * np.pi
    out[~low] = np.sqrt(2.0 / (np.pi * z)) * (
        p.real * np.cos(phase) - q.real * np.sin(phase))
    return out


def hankel(order, z, terms=9):
    """The sums P and Q of Hankel's series for large z."""
    mu = 4.0 * order * order
    term = np.ones_like(z, complex)
    p = term.copy()
    q = np.zeros_like(p)
    for k in range(1, 2 * terms):
        term = term * (mu - (2 * k - 1) ** 2) / (8.0 * k * z)
        sign = -1.0 if k % 4 in (2, 3) else 1.0
        if k % 2 == 0:
            p = p + sign * term
        else:
            q = q + sign * term
    return p, q


def j1_over_j0(shear):
    """J1(s)/J0(s), s = shear exp(-j pi/4): the continued fraction, run
    backward from far out, and above 40 the quotient of Hankel's series."""
    shear = np.asarray(shear, float)
    out = np.empty(shear.shape, complex)
    low = shear <= 40.0
    s = shear[low] * np.exp(-0.25j * np.pi)
    x = np.zeros_like(s)
    for m in range(130, 0, -1):
        x = 1.0 / (2.0 * m / s - x)
    out[low] = x
    s = shear[~low] * np.exp(-0.25j * np.pi)
    p0, q0 = hankel(0, s)
    p1, q1 = hankel(1, s)
    # Far below the real axis cos(z - a) -> e^(j(z - a))/2, sin -> -j of it.
    out[~low] = np.exp(-0.5j * np.pi) * (p1 + 1j * q1) / (p0 + 1j * q0)
    return out


def twice_i1_k1(x):
    """2 I1(x) K1(x) for real x > 0."""
    x = np.asarray(x, float)
    out = np.empty_like(x)
    tiny = x < 0.02
    low = ~tiny & (x < 25.0)
    z = x[tiny]
    out[tiny] = 1.0 + 0.5 * z**2 * (np.log(0.5 * z) + np.euler_gamma - 0.25)
    z = x[low][..., None]
    i1 = integral(np.exp(z * (np.cos(ANGLE) - 1.0)) * np.cos(ANGLE),
                   ANGLE) / np.pi
    top = np.arccosh(1.0 + 45.0 / z[..., 0])
    t = top[..., None] * REACH
    k1 = integral(np.exp(-z * (np.cosh(t) - 1.0)) * np.cosh(t), REACH) * top
    out[low] = 2.0 * i1 * k1
    high = x >= 25.0
    z = x[high]
    out[high] = (1.0 - 3.0 / (8.0 * z**2) - 45.0 / (128.0 * z**4)) / z
    return out
