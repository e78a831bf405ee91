"""Blind suites of spectra by another forward model than the project's, with their truth.

Ionisation by a U ln U form, Philibert-Duncumb-Heinrich absorption, Kramers' continuum, attenuation and Coster-Kronig values
straight from xraylib, everything bent at random: what is fitted well here is not the project's own simulator. Line energies
and yields are those of data/atomic, for neither is what these suites test.

    python3 simulate.py OUT KIND COUNT SEED     KIND: single | mixture | low (mixtures at 5 kV)

Needs numpy, scipy, xraylib (Debian: python3-numpy python3-scipy python3-xraylib). Writes COUNT EMSA files and truth.json.
"""
import csv
import json
import math
import os
import sys

import numpy as np
import xraylib as xl
from scipy.special import erfc, voigt_profile

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "..")
SUBSHELLS = ["K", "L1", "L2", "L3", "M1", "M2", "M3", "M4", "M5"]
XL_SHELL = [getattr(xl, name + "_SHELL") for name in SUBSHELLS]
ELECTRONS = [2, 2, 2, 4, 2, 2, 4, 4, 6]
MATERIALS = """Pb3C2H2O8 HgS CoSi6K2O14 Pb2SnO4 CuCO3 CaCO3 CaSO4 Fe2O3 Ca5P3O13H Bi As2S3 AsS TiO2 ZnO BaSO4 CdS CdSe Cr2O3
PbCrO4 SrCrO4 BaCrO4 ZnS Sb2O3 Pb2Sb2O7 Na7Al6Si6O24S3 K2Al2Si6O16 Al2O3 CuAs2O4 Cu2C2H6O4 MnO2 SnO2 SnS2 Au Ag Al4Si4O18
MgCO3 Pb3O4 PbO ZnCrO4 CoAl2O4 Bi2Te3 GaAs GaP KBr FeS2 Mo2C MoS2 WO3 ZrO2 NiO V2O5 BiVO4 Y2O3 La2O3 CeO2 Nd2O3 TlCl UO2 RhU
PtCr Au4Cu6 AuCu NbTa CuS Ag2S NaCl KCl BaF2 CaF2 AlF6Na3 PbS PbMoO4 SrSO4 RbBr InP SiC""".split()
RESIN = "C5H8O2"


def table(name):
    with open(os.path.join(ROOT, "data", "atomic", name), encoding="utf8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


LINES = {}
for row in table("lines.csv"):
    LINES.setdefault(int(row["z"]), []).append((row["iupac"], float(row["energy_ev"]), float(row["relative"])))
EDGE = {(int(r["z"]), r["subshell"]): float(r["edge_ev"] or 0) for r in table("subshells.csv")}
YIELD = {(int(r["z"]), r["subshell"]): float(r["yield"] or 0) for r in table("subshells.csv")}


def or_zero(function, *arguments):
    try:
        return function(*arguments)
    except ValueError:
        return 0.0


def attenuation(z, energy):
    """cm2/g; below xraylib's 100 eV continued by a power law."""
    return xl.CS_Total(z, max(energy, 100.0) / 1000) * (1 if energy >= 100 else (100 / energy) ** 2.8)


def absorption(weights, energy, edge, beam, path):
    """Philibert, Duncumb and Heinrich's f(chi)."""
    h = 1.2 * sum(f * xl.AtomicWeight(z) / z**2 for z, f in weights.items())
    sigma = 4.5e5 / ((beam / 1000) ** 1.65 - (edge / 1000) ** 1.65)
    chi = path * sum(f * attenuation(z, energy) for z, f in weights.items())
    return 1 / ((1 + chi / sigma) * (1 + h / (1 + h) * chi / sigma))


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


def efficiency(detector, energy):
    polymer = detector["um"] * 1e-4 * 1.42 * (0.69 * attenuation(6, energy) + 0.07 * attenuation(7, energy) + 0.21 * attenuation(8, energy))
    silicon = 2.33 * attenuation(14, energy)
    through = math.exp(-polymer - detector["al_nm"] * 1e-7 * 2.7 * attenuation(13, energy) - detector["dead_nm"] * 1e-7 * silicon)
    return through * (0.77 + 0.23 * math.exp(-silicon * 0.038)) * (1 - math.exp(-0.045 * silicon))


def escape_ratio(energy):
    if energy < 1839:
        return 0.0
    ratio = 358.9 / attenuation(14, energy)
    eta = 0.5 * 0.048 * (1 - 1 / 10.4) * (1 - ratio * math.log(1 + 1 / ratio))
    return eta / (1 - eta)


def simulate(weights, beam_kev, total, seed, n=2048, gain=10.0):
    """Counts per channel; the true axis is a little off the stated one."""
    r = np.random.default_rng(seed)
    beam = beam_kev * 1000
    bend = math.exp(r.normal(0, 0.05))
    detector = {"um": 0.3 * math.exp(r.normal(0, 0.15)), "al_nm": 30 * math.exp(r.normal(0, 0.3)), "dead_nm": 50 * math.exp(r.normal(0, 0.3))}
    path = bend / math.sin(math.radians(35 + r.normal(0, 2)))
    pair = 5.545 * 0.118 * math.exp(r.normal(0, 0.015)) * 3.66
    noise2 = max(r.uniform(123, 140) ** 2 - pair * 5895, 400)
    true_gain, true_offset = gain * (1 + r.normal(0, 0.001)), r.normal(0, 4)
    x = np.arange(n) * true_gain + true_offset
    tail, soft_tail, soft_shift, soft_width = r.uniform(0, 0.006), r.uniform(0, 0.05), r.uniform(0, 6), r.uniform(1, 1.08)
    y = np.zeros(n)
    for z, fraction in weights.items():
        v = vacancies(z, weights, beam)
        bends = {}
        for iupac, energy, relative in LINES.get(z, []):
            start, end = iupac.split("-")
            s = SUBSHELLS.index(start)
            if v[s] <= 0:
                continue
            family = bends.setdefault(start[0], math.exp(r.normal(0, 0 if s == 0 else 0.15)))
            group = bends.setdefault((s, end[:2]), math.exp(r.normal(0, 0.04 if s == 0 else 0.1)))
            area = fraction * v[s] * YIELD[(z, start)] * relative * family * group
            area *= absorption(weights, energy, EDGE[(z, start)], beam, path) * efficiency(detector, energy)
            if area <= 0:
                continue
            soft = math.exp(-((energy / 700) ** 2))
            centre, sigma = energy - soft_shift * soft, math.sqrt(noise2 + pair * energy) / 2.3548 * (1 + (soft_width - 1) * soft)
            share, beta, d = tail + soft_tail * soft, 2.35 * sigma, x - centre
            bump = np.exp(np.clip(d / beta + sigma**2 / (2 * beta**2), -50, 50)) * erfc(d / (sigma * 2**0.5) + sigma / (beta * 2**0.5)) / (2 * beta)
            y += area * true_gain * ((1 - share) * voigt_profile(d, sigma, or_zero(xl.AtomicLevelWidth, z, XL_SHELL[s]) * 500) + share * bump)
            ratio = escape_ratio(energy)
            if ratio > 0:
                width = math.sqrt(noise2 + pair * (energy - 1740)) / 2.3548
                y += area * ratio * true_gain * np.exp(-0.5 * ((x - energy + 1740) / width) ** 2) / (width * math.sqrt(2 * math.pi))
    power, mean_z = r.uniform(0.9, 1.15), sum(f * z for z, f in weights.items())
    continuum = np.array([((beam - e) / e) ** power * absorption(weights, e, e, beam, path) * efficiency(detector, e) if 100 < e < beam else 0.0 for e in x])
    ratio = r.uniform(0.25, 1.2) * (0.6 + mean_z / 60)
    y = y / y.sum() + ratio * continuum / continuum.sum()
    y *= total / y.sum()
    shelf, seen = r.uniform(0.005, 0.02), x > 60
    spread = np.where(seen, y / np.maximum(x / true_gain, 1), 0)[::-1].cumsum()[::-1]
    y = (1 - shelf) * y + shelf * spread
    pile = 0.5 * r.uniform(0, 0.01)
    sums = np.convolve(y, y) / y.sum()
    y = (1 - pile) * y + pile * np.interp(np.arange(n) - true_offset / true_gain, np.arange(len(sums)), sums)
    return r.poisson(np.where(seen, y, 0))


def write(path, counts, beam_kev):
    header = [("FORMAT", "EMSA/MAS Spectral Data File"), ("VERSION", "1.0"), ("TITLE", "simulated"), ("DATE", ""), ("TIME", ""), ("OWNER", ""),
              ("NPOINTS", len(counts)), ("NCOLUMNS", 1), ("XUNITS", "eV"), ("YUNITS", "counts"), ("DATATYPE", "Y"), ("XPERCHAN", 10), ("OFFSET", 0),
              ("SIGNALTYPE", "EDS"), ("BEAMKV   -kV", beam_kev), ("ELEVANGLE-dg", 35), ("SPECTRUM", "")]
    with open(path, "w", encoding="ascii") as file:
        file.writelines("#%-12s: %s\n" % entry for entry in header)
        file.writelines("%d,\n" % value for value in counts)
        file.write("#ENDOFDATA   : \n")


def mixture(parts):
    weights = {}
    for formula, amount in parts:
        compound = xl.CompoundParser(formula)
        for z, f in zip(compound["Elements"], compound["massFractions"]):
            if z > 1:
                weights[z] = weights.get(z, 0) + amount * f
    total = sum(weights.values())
    return {z: f / total for z, f in weights.items()}


def main(out, kind, count, seed):
    os.makedirs(out, exist_ok=True)
    r = np.random.default_rng(seed)
    truth = {}
    for k in range(count):
        if kind == "single":
            parts = [(MATERIALS[k % len(MATERIALS)], 1.0), (RESIN, r.uniform(0.05, 0.5))]
        else:
            chosen = r.choice(len(MATERIALS), r.integers(2, 5), replace=False)
            parts = [(MATERIALS[i], math.exp(r.normal(0, 1))) for i in chosen] + [(RESIN, r.uniform(0.1, 0.6))]
        weights = mixture(parts)
        beam = 5.0 if kind == "low" else float(r.choice([10, 15, 20, 20, 25]))
        total = int(10 ** r.uniform(4.3, 6))
        name = "%s-%03d.msa" % (kind, k)
        write(os.path.join(out, name), simulate(weights, beam, total, seed * 100000 + k), beam)
        truth[name] = {"beamKev": beam, "counts": total, "massFractions": {xl.AtomicNumberToSymbol(int(z)): f for z, f in weights.items()}}
    with open(os.path.join(out, "truth.json"), "w", encoding="ascii") as file:
        json.dump(truth, file, indent=1)


if __name__ == "__main__":
    if len(sys.argv) != 5:
        sys.exit(__doc__)
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
