"""Quantiles of the Gamma distribution, which the doubt of a rate is read from."""

from __future__ import annotations

from math import lgamma
from statistics import NormalDist

import numpy as np

from models.units import FloatArray

LARGE_SHAPE = 100.0
"""From here on the cube root of a Gamma variable is normal to within 2e-5 of the quantile, 10 to 90 %."""
HALVINGS = 50


def gamma_quantile(share: float, shape: FloatArray) -> FloatArray:
    """(n,) where a Gamma distribution of each shape, (n,) above zero, and of scale 1 reaches this share, 0..1 open.

    Small shapes: the series of the incomplete Gamma function (Abramowitz and Stegun 1964, 6.5.29) halved in upon.
    Large ones: Wilson and Hilferty, The distribution of chi-square, Proc. Nat. Acad. Sci. 17 (1931) 684.
    """
    if not 0 < share < 1:
        raise ValueError(f"{share} is no share between 0 and 1")
    shape = np.asarray(shape, float)
    if not (shape > 0).all():
        raise ValueError("a shape is above zero")
    found = _by_cube_root(share, np.maximum(shape, LARGE_SHAPE))
    small = shape < LARGE_SHAPE
    found[small] = _by_halving(share, shape[small])
    return found


def _by_cube_root(share: float, shape: FloatArray) -> FloatArray:
    ninth = 1 / (9 * shape)
    return np.asarray(shape * (1 - ninth + NormalDist().inv_cdf(share) * np.sqrt(ninth)) ** 3, float)


def _by_halving(share: float, shape: FloatArray) -> FloatArray:
    low, high = np.zeros(len(shape)), shape + 12 * np.sqrt(shape) + 30
    terms = 40 + int(1.5 * high.max(initial=0))
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        below = _reached(middle, shape, terms) < share
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray((low + high) / 2, float)


def _reached(x: FloatArray, shape: FloatArray, terms: int) -> FloatArray:
    """(n,) share of the distribution up to x: x^a e^-x / Gamma(a + 1) times sum of x^k / ((a + 1) ... (a + k))."""
    steps = x[:, None] / (shape[:, None] + np.arange(1, terms))
    series = 1 + np.cumprod(steps, axis=1).sum(axis=1)
    return np.asarray(np.exp(shape * np.log(x) - x - _log_gamma(shape + 1)) * series, float)


def _log_gamma(values: FloatArray) -> FloatArray:
    return np.array([lgamma(value) for value in values.tolist()])
