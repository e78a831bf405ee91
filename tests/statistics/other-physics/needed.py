"""How much an element is needed: the chi-square that is lost when it is left out and everything else may take its place.

`unique_sigma`: square root of the least sum of (expected - explanation)^2 / expected over the channels, where the explanation is a
non-negative sum of the true templates of all other candidates, the continuum in pieces, and the spectrum's own artefacts (sums, detector
fluorescence, noise). Nothing is drawn: it is what the counts can tell on average to someone who knows every shape.
`firm_sigma`: the same to someone who does not: lines of the other true elements may move by 1 eV (4 eV below 750 eV), widen by 1 % (4 %),
their families K, L, M change by 30 %, and every channel is wrong by 0.3 % of the lines in it, as standard deviations with their penalty.
"""
import math

import numpy as np
from scipy.optimize import nnls

# Pieces of the continuum, and the lowest energy that counts as measured, eV.
PIECES = 14
LOWEST, LOWEST_THICK = 150.0, 600.0
BELOW_SOFT = 750.0
CHANNEL_DOUBT = 0.003


def hats(x, beam):
    """Linear pieces over ln E that add up to one."""
    knots = np.linspace(math.log(100), math.log(beam), PIECES)
    at = np.log(np.maximum(x, 1))
    return [np.interp(at, knots, np.eye(PIECES)[k]) for k in range(PIECES)]


def doubts(x, families, softly):
    """Derivative columns of one element, one standard deviation high; `families` by letter."""
    columns = []
    for y in families.values():
        step = np.gradient(y, x)
        soft = x < BELOW_SOFT
        columns.append(step * np.where(soft, 4.0, 1.0))
        columns.append(np.gradient(step, x) * softly * np.where(soft, 0.04, 0.01))
        if len(families) > 1:
            columns.append(0.3 * y)
    return [c for c in columns if np.abs(c).max() > 0]


def rest_of(a, b):
    """Least |a p - b|^2 with p >= 0, by way of the triangle of a."""
    q, r = np.linalg.qr(a)
    projected = q.T @ b
    _, norm = nnls(r, projected, maxiter=50 * r.shape[1])
    return norm**2 + max(b @ b - projected @ projected, 0)


def needed(x, expected, own, templates, continuum, others, sigma2, beam, thick):
    """{z: (unique_sigma, firm_sigma)}. `own`: {z: {family: counts}}; `templates`: {z: counts per channel of every candidate}."""
    inside = (x > (LOWEST_THICK if thick else LOWEST)) & (x < beam) & (expected > 1e-9)
    flexible = [continuum * hat for hat in hats(x, beam)] + others
    result = {}
    for z in own:
        rivals = [t for other, t in templates.items() if other != z]
        fixed = [t for t in rivals + flexible if t[inside].sum() > 0]
        result[z] = (
            significance(fixed, [], expected, expected, inside),
            significance(fixed, [c for other in own if other != z for c in doubts(x, own[other], sigma2)], expected,
                         expected + (CHANNEL_DOUBT * sum(sum(f.values()) for o, f in own.items() if o != z)) ** 2, inside),
        )
    return result


def significance(columns, free, expected, variance, inside):
    """Square root of the least chi-square; `free` columns have amounts of standard deviation one, of either sign."""
    w = 1 / np.sqrt(variance[inside])
    a = np.array([c[inside] * w for c in columns]).T
    scale = np.sqrt((a**2).sum(axis=0))
    a = a[:, scale > 0] / scale[scale > 0]
    b = expected[inside] * w
    if free:
        f = np.array([c[inside] * w for c in free]).T
        # The ridge of a unit Gaussian prior, folded into the metric: (1 + f f^T)^-1.
        u, s, _ = np.linalg.svd(f, full_matrices=False)
        shrink = 1 / np.sqrt(1 + s**2) - 1
        a = a + u @ (shrink[:, None] * (u.T @ a))
        b = b + u @ (shrink * (u.T @ b))
    return math.sqrt(rest_of(a, b))
