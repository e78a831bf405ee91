"""What a detector makes of sticks and continuum: efficiency, line shape, escape, shelf, sums of photons, noise, re-binning."""
import math
from dataclasses import dataclass

import numpy as np
from scipy.special import erfc, voigt_profile

from emission import Stick
from tables import attenuation

SILICON_EDGE, SILICON_K, ALUMINIUM_EDGE, ALUMINIUM_K = 1839.0, 1740.0, 1559.6, 1486.6
# Lines of one group (K-L, L3-M, ...) count as one photon energy in sums.
STRONGEST_IN_SUMS = 30


@dataclass(frozen=True)
class Instrument:
    """One detector with its electronics, drawn at random; energies in eV, lengths as named."""

    beryllium_um: float
    polymer_um: float
    al_nm: float
    dead_nm: float
    noise2: float
    pair: float
    tail: float
    soft_tail: float
    soft_shift: float
    soft_width: float
    shelf: float
    silicon: float
    aluminium: float
    sums: float
    third: float
    sum_shift: float
    start: float


def draw(r, thick_window):
    """An instrument; with a thick window nothing below 0.9 keV gets in."""
    pair = 5.545 * 0.118 * math.exp(r.normal(0, 0.015)) * 3.66
    return Instrument(
        beryllium_um=r.uniform(7, 14) if thick_window else 0,
        polymer_um=0 if thick_window else 0.3 * math.exp(r.normal(0, 0.15)),
        al_nm=30 * math.exp(r.normal(0, 0.3)),
        dead_nm=50 * math.exp(r.normal(0, 0.3)),
        noise2=max(r.uniform(123, 140) ** 2 - pair * 5895, 400),
        pair=pair,
        tail=r.uniform(0, 0.006),
        soft_tail=r.uniform(0, 0.05),
        soft_shift=r.uniform(3, 10),
        soft_width=r.uniform(1.02, 1.1),
        shelf=r.uniform(0.005, 0.036),
        silicon=r.uniform(0.0002, 0.002),
        aluminium=r.uniform(0, 0.001),
        sums=10 ** r.uniform(-3.3, -1.7),
        third=r.uniform(0, 0.2),
        sum_shift=r.uniform(2, 9),
        start=r.uniform(50, 120),
    )


def efficiency(d, energy):
    polymer = d.polymer_um * 1e-4 * 1.42 * (0.69 * attenuation(6, energy) + 0.07 * attenuation(7, energy) + 0.21 * attenuation(8, energy))
    silicon = 2.33 * attenuation(14, energy)
    metal = d.al_nm * 1e-7 * 2.7 * attenuation(13, energy) + d.beryllium_um * 1e-4 * 1.85 * attenuation(4, energy)
    grid = 0.77 + 0.23 * math.exp(-silicon * 0.038) if d.beryllium_um == 0 else 1
    return math.exp(-polymer - metal - d.dead_nm * 1e-7 * silicon) * grid * (1 - math.exp(-0.045 * silicon))


def escape_ratio(energy):
    if energy < SILICON_EDGE:
        return 0.0
    ratio = 358.9 / attenuation(14, energy)
    eta = 0.5 * 0.048 * (1 - 1 / 10.4) * (1 - ratio * math.log(1 + 1 / ratio))
    return eta / (1 - eta)


def softness(energy):
    """1 well below 700 eV, 0 above: lines there lie low and are wider."""
    return 1 / (1 + math.exp((energy - 750) / 80))


def width(d, energy):
    return math.sqrt(d.noise2 + d.pair * energy) / 2.3548


def response(d, x, sticks, least=0.0):
    """Counts per channel of sticks (their areas as detected); those below `least` of the largest are left out."""
    y, step = np.zeros(len(x)), x[1] - x[0]
    floor = least * max((s.area for s in sticks), default=0)
    for s in sticks:
        if s.area <= floor or s.energy < 30:
            continue
        soft = softness(s.energy)
        sigma = math.hypot(width(d, s.energy) * (1 + (d.soft_width - 1) * soft) * s.stretch, s.spread)
        offset = x - (s.energy - d.soft_shift * soft)
        share = min(d.tail + d.soft_tail * soft, 0.3)
        y += s.area * step * ((1 - share) * voigt_profile(offset, sigma, s.natural) + share * low_side(offset, sigma))
        escape = escape_ratio(s.energy)
        if escape > 0:
            narrow = math.hypot(width(d, s.energy - SILICON_K), s.spread)
            y += s.area * escape * step * voigt_profile(x - s.energy + SILICON_K, narrow, 0)
    return y


def smeared(d, x, y):
    """A smooth spectrum seen with the detector's width: edges of window and specimen become slopes. What lies beyond the axis goes on."""
    n, step = len(x), x[1] - x[0]
    beyond = np.arange(1, 1 + 400 / step)
    x, y = np.append(x, x[-1] + step * beyond), np.append(y, np.full(len(beyond), y[-1]))
    sigma = np.array([width(d, max(e, 0)) for e in x])
    z = (x[:, None] - x[None, :]) / sigma[None, :]
    return (np.exp(-0.5 * z**2) @ (y * step / (sigma * math.sqrt(2 * math.pi))))[:n]


def low_side(offset, sigma):
    """Exponential tail of one FWHM towards low energies, folded with the line's Gaussian."""
    beta = 2.35 * sigma
    return np.exp(np.clip(offset / beta + sigma**2 / (2 * beta**2), -50, 50)) * erfc(offset / (sigma * 2**0.5) + sigma / (beta * 2**0.5)) / (2 * beta)


def with_shelf(d, x, y):
    """Every count may leave a flat tail down to zero."""
    spread = np.where(x > 60, y / np.maximum(x / (x[1] - x[0]), 1), 0)[::-1].cumsum()[::-1]
    return (1 - d.shelf) * y + d.shelf * np.where(x > 0, spread, 0)


def own_fluorescence(d, x, y):
    """Si K and Al K from the detector itself, by all counts above their edges."""
    silicon = d.silicon * y[x > SILICON_EDGE].sum()
    aluminium = d.aluminium * y[x > ALUMINIUM_EDGE].sum()
    sticks = [Stick(14, "K", "K-L", SILICON_K, silicon * 0.97), Stick(14, "K", "K-M", 1836, silicon * 0.03)]
    return response(d, x, sticks + [Stick(13, "K", "K-L", ALUMINIUM_K, aluminium)])


def sum_peaks(d, x, y, places, bends):
    """Sums of photons. `places`: for each spot under the beam its share of the counting time and its detected sticks.

    Photons add within one spot only. Pairs of strong lines are added as sticks and smeared once, each with a rate of its own;
    sums with all the rest, which is smooth, by convolution of the recorded spectrum.
    """
    total, step = y.sum(), x[1] - x[0]
    sticks, strong = [], []
    for share, lines in places:
        groups = {}
        for s in lines:
            entry = groups.setdefault((s.z, s.group), [0.0, 0.0])
            entry[0] += s.area
            entry[1] += s.area * (s.energy - d.soft_shift * softness(s.energy))
        top = sorted(((a, e / a, key) for key, (a, e) in groups.items() if a > 0), reverse=True)[:STRONGEST_IN_SUMS]
        strong += [Stick(0, "", "", e, a) for a, e, _ in top]
        for i, (a, e, key) in enumerate(top):
            for b, f, other in top[i:]:
                rate = d.sums * partner(e, bends) * partner(f, bends) * bends.factor(0.25, "pair", *sorted([key, other]))
                sticks.append(Stick(0, "", "", e + f + d.sum_shift, rate * a * b / (share * total) * (1 if key == other else 2)))
        for a, e, _ in top[:3]:
            for b, f, _ in top[:3]:
                for c, g, _ in top[:3]:
                    sticks.append(Stick(0, "", "", e + f + g + d.sum_shift, d.third * d.sums * a * b * c / (share * total) ** 2))
    stem = np.histogram([s.energy for s in strong], bins=np.append(x, x[-1] + step) - step / 2, weights=[s.area for s in strong])[0]
    rest = np.maximum(y - response(d, x, strong), 0)
    smooth = np.convolve(rest, rest) + 2 * np.convolve(rest, stem)
    at = np.arange(len(x)) - x[0] / step
    folded = np.interp(at, np.arange(len(smooth)), smooth)
    return d.sums * folded / total + response(d, x, [s for s in sticks if s.energy < x[-1] + 500])


def partner(energy, bends):
    """Soft photons are told apart less well, or not seen at all, by the fast channel."""
    if energy < 450:
        return bends.factor(0.4, "soft partner")
    return bends.factor(0.2, "middle partner") if energy < 1000 else 1.0


def counted(r, y, rebinned):
    """Poisson counts; of re-binned channels each is the mean of two neighbours: half the variance, correlated."""
    if not rebinned:
        return r.poisson(y)
    between = np.interp(np.arange(len(y) + 1) - 0.5, np.arange(len(y)), y)
    fine = r.poisson(between)
    return np.floor((fine[:-1] + fine[1:]) / 2 + r.uniform(0, 1, len(y)) * ((fine[:-1] + fine[1:]) % 2)).astype(int)
