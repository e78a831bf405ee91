"""What a specimen sends out, as sticks: lines with their satellites and radiative Auger bands, and the continuum.

Ionisation by a U ln U form, Philibert-Duncumb-Heinrich absorption, Kramers' continuum; line ratios, energies and widths bent at
random as measured spectra are found bent.
"""
import math
import zlib
from dataclasses import dataclass, replace

import numpy as np
import xraylib as xl

from tables import EDGE, ELECTRONS, LINES, SUBSHELLS, XL_SHELL, YIELD, attenuation, or_zero


@dataclass(frozen=True)
class Stick:
    """A line before the detector. `spread`: own Gaussian width of a band, eV; `stretch`: factor on the detector's width."""

    z: int
    family: str
    group: str
    energy: float
    area: float
    natural: float = 0.0
    spread: float = 0.0
    stretch: float = 1.0


@dataclass(frozen=True)
class Phase:
    """One material under the beam: share of the dose, mass fractions, and what lies on top of it (mass fractions, g/cm2)."""

    share: float
    weights: dict
    over: tuple = ()


class Bends:
    """Random factors that depend on the seed and their name alone: a rival's line is bent as the true element's would be."""

    def __init__(self, seed):
        self.seed, self.known = seed, {}

    def random(self, *name):
        return np.random.default_rng([self.seed, zlib.crc32(repr(name).encode())])

    def draw(self, low, high, *name):
        if name not in self.known:
            self.known[name] = self.random(*name).uniform(low, high)
        return self.known[name]

    def normal(self, sigma, *name):
        if name not in self.known:
            self.known[name] = self.random(*name).normal(0, 1)
        return sigma * self.known[name]

    def factor(self, sigma, *name):
        return math.exp(self.normal(sigma, *name))


def absorption(weights, energy, edge, beam, path):
    """Philibert, Duncumb and Heinrich's f(chi)."""
    h = 1.2 * sum(f * xl.AtomicWeight(z) / z**2 for z, f in weights.items())
    sigma = 4.5e5 / ((beam / 1000) ** 1.65 - (edge / 1000) ** 1.65)
    chi = path * sum(f * attenuation(z, energy) for z, f in weights.items())
    return 1 / ((1 + chi / sigma) * (1 + h / (1 + h) * chi / sigma))


def through(over, energy, path):
    if not over:
        return 1.0
    weights, mass = over
    return math.exp(-mass * path * sum(f * attenuation(z, energy) for z, f in weights.items()))


def vacancies(z, weights, beam):
    """Per unit mass fraction, arbitrary scale, Coster-Kronig transfers included."""
    mean_z = sum(f * zz for zz, f in weights.items())
    m = sum(f * zz / xl.AtomicWeight(zz) for zz, f in weights.items())
    j = lambda zz: 9.76 * zz + 58.5 * zz**-0.19 if zz >= 13 else 11.5 * zz
    mean_j = math.exp(sum(f * zz / xl.AtomicWeight(zz) * math.log(j(zz)) for zz, f in weights.items()) / m)
    eta = 0.37 * (1 - math.exp(-0.015 * mean_z**1.3)) + 0.00175 * mean_z
    v = [0.0] * 9
    for s, name in enumerate(SUBSHELLS):
        edge = EDGE.get((z, name), 0)
        if not 0 < edge < beam:
            continue
        u = beam / edge
        loss = m * max(math.log(1.166 * ((beam + edge) / 2 + 0.85 * mean_j) / mean_j), 0.3)
        shell = 0.7 if s == 0 else 0.5
        v[s] = shell * ELECTRONS[s] * (u * math.log(u) - u + 1) / loss * (1 - eta * 0.75 * (1 - 1 / u) ** 1.5) / xl.AtomicWeight(z)
    transfer = lambda name: or_zero(xl.CosKronTransProb, z, getattr(xl, name))
    v[2] += transfer("FL12_TRANS") * v[1]
    v[3] += transfer("FL13_TRANS") * v[1] + transfer("FL23_TRANS") * v[2]
    for a in range(4, 8):
        for b in range(a + 1, 9):
            v[b] += transfer("FM%d%d_TRANS" % (a - 3, b - 3)) * v[a]
    return v


def ratio_bend(z, start, end, bends):
    """Factor on a line: families against each other, groups of one initial subshell within them."""
    factor = bends.factor({"K": 0, "L": 0.2, "M": 0.25}[start[0]], z, start[0])
    group = (z, start, end[:2])
    if start == "K":
        if end[0] == "L":
            return factor
        # K-beta of Si and Al measured 20 to 50 % above the tables.
        return factor * (bends.draw(1.2, 1.5, *group) if z <= 14 else bends.factor(0.12 if z <= 18 else 0.04, *group))
    if start[0] == "L" and 21 <= z <= 32:
        # First row: L3-M1 +30 to +75 %, lines of L1 -20 to -55 %.
        if end == "M1":
            return factor * bends.draw(1.3, 1.75, *group)
        if start == "L1":
            return factor * bends.draw(0.45, 0.8, *group)
    return factor * bends.factor(0.1 if start[0] == "L" else 0.2, *group)


def lines_of(z, phase, beam, path, bends):
    """Sticks of a unit mass fraction in a phase."""
    v = vacancies(z, phase.weights, beam)
    sticks = []
    for iupac, energy, relative in LINES.get(z, []):
        start, end = iupac.split("-")
        s = SUBSHELLS.index(start)
        if v[s] <= 0 or relative <= 0:
            continue
        edge = EDGE[(z, start)]
        area = v[s] * YIELD[(z, start)] * relative * ratio_bend(z, start, end, bends)
        area *= absorption(phase.weights, energy, edge, beam, path) * through(phase.over, energy, path)
        if area > 0:
            natural = or_zero(xl.AtomicLevelWidth, z, XL_SHELL[s]) * 500
            sticks.append(Stick(z, start[0], start + "-" + end[0], energy + bends.normal(0.6, z, start, end[0], "shift"), area, natural))
    return [extra for stick in sticks for extra in with_bands(stick, bends)]


def with_bands(stick, bends):
    """A K line as measured: K-beta low and wide, satellites above, radiative Auger bands below."""
    z, group = stick.z, stick.group
    if group == "K-L" and z <= 20:
        step = bends.draw(8, 24, z, "satellite")
        yield replace(stick, energy=stick.energy + step, area=stick.area * bends.draw(0, 0.08, z, "first"))
        yield replace(stick, energy=stick.energy + 2.3 * step, area=stick.area * bends.draw(0, 0.03, z, "second"))
    if group == "K-L" and 11 <= z <= 22:
        l3 = EDGE[(z, "L3")]
        yield Stick(z, "K", "KLL", stick.energy - 1.7 * l3, stick.area * bends.draw(0.001, 0.006, z, "KLL"), 0, 0.4 * l3)
    if group == "K-M" and z >= 19:
        m1 = EDGE.get((z, "M1"), 0)
        # Steels show 1.2 % of K-beta, other elements were not measured; the fit allows 2 +- 2 %.
        band = stick.area * bends.draw(0.002, 0.04, z, "KMM") if z <= 35 else 0
        yield Stick(z, "K", "KMM", stick.energy - 1.3 * m1, band, 0, 0.4 * m1)
        stick = replace(stick, energy=stick.energy - bends.draw(1.5, 3.2, z, "low"), stretch=1 + bends.draw(0.01, 0.05, z, "wide"))
    yield stick


def continuum(phase, x, beam, path, bends):
    """Per channel, arbitrary scale; bent by a few per cent over several hundred eV."""
    power = bends.draw(0.9, 1.15, "power")
    y = np.zeros(len(x))
    for i in np.flatnonzero((x > 100) & (x < beam - 1)):
        e = float(round(x[i]))
        y[i] = ((beam - x[i]) / x[i]) ** power * absorption(phase.weights, e, min(e, beam - 1), beam, path) * through(phase.over, e, path)
    r = bends.random("wiggles")
    for _ in range(r.integers(4, 10)):
        centre, width = r.uniform(300, min(beam, 12000)), r.uniform(200, 600)
        y *= 1 + r.normal(0, 0.015) * np.exp(-0.5 * ((x - centre) / width) ** 2)
    return y
