"""Blind suites of spectra by another forward model than the project's, with their truth.

Simpler formulas than the project's, attenuation and Coster-Kronig values straight from xraylib, everything bent at random, and what real
instruments add: what is fitted well here is not the project's own simulator. Line energies and yields are those of data/atomic, for
neither is what these suites test.

    python3 simulate.py OUT KIND COUNT SEED [FIRST]

KIND: pigments mixtures alloys sulfides rocks glass problems traces overlaps weak. FIRST (0) is the first number, so that a suite can be
made in parts. Needs numpy, scipy, xraylib (Debian: python3-numpy python3-scipy python3-xraylib). Writes EMSA files and truth.json.
"""
import json
import math
import os
import sys
from dataclasses import replace

import numpy as np
import xraylib as xl

import instrument as detector
from emission import Bends, continuum, lines_of
from needed import needed
from suites import KINDS, Case
from tables import CANDIDATES

# A rival's lines below this part of its strongest do not matter to what is needed.
RIVAL_LINES = 1e-3
# How often a spectrum has a zero peak, re-binned channels, no beam energy in its header.
ZERO_PEAK, REBINNED, NO_BEAM = 0.4, 0.3, 0.1


def detected(sticks, d):
    """Sticks as the detector lets them in."""
    return [replace(s, area=s.area * detector.efficiency(d, s.energy)) for s in sticks if s.energy > 30]


def families(sticks):
    groups = {}
    for s in sticks:
        groups.setdefault(s.family, []).append(s)
    return groups


def scene(case, x, d, path, bends):
    """Sticks of each phase by element, continuum of each phase, all on one scale of counts."""
    beam, phases = case.beam_kev * 1000, []
    for phase in case.phases:
        sticks = {z: detected([replace(s, area=s.area * f * phase.share) for s in lines_of(z, phase, beam, path, bends)], d)
                  for z, f in phase.weights.items()}
        lines = sum(s.area for group in sticks.values() for s in group)
        mean_z = sum(f * z for z, f in phase.weights.items())
        seen = np.array([detector.efficiency(d, float(round(e))) if e > 100 else 0.0 for e in x])
        shape = continuum(phase, x, beam, path, bends) * seen
        ratio = bends.draw(0.25, 1.2, "continuum") * (0.6 + mean_z / 60)
        phases.append((sticks, shape * ratio * lines / max(shape.sum(), 1e-300)))
    total = sum(s.area for sticks, _ in phases for group in sticks.values() for s in group) + sum(c.sum() for _, c in phases)
    scale = case.counts / total
    return [({z: [replace(s, area=s.area * scale) for s in g] for z, g in sticks.items()}, c * scale) for sticks, c in phases]


def noise_parts(r, case, x, d):
    """Zero peak, or the hump and floor of a detector behind a thick window."""
    if case.thick_window:
        hump = r.uniform(0.002, 0.01) * case.counts * (x[1] - x[0]) / 75 * np.exp(-0.5 * ((x - r.uniform(150, 210)) / 30) ** 2)
        return hump + np.where(x > 100, r.uniform(2e-5, 1e-4) * case.counts, 0)
    if r.uniform() < ZERO_PEAK:
        sigma = math.sqrt(d.noise2) / 2.3548
        return r.uniform(0.005, 0.05) * case.counts * (x[1] - x[0]) / (sigma * 2.507) * np.exp(-0.5 * (x / sigma) ** 2)
    return np.zeros(len(x))


def simulate(case, seed, judged=True, noise=None):
    """(counts, header, truth) of one spectrum; `noise` is a seed for the counts alone. Not judged: truth is None."""
    r, bends = np.random.default_rng(seed), Bends(seed)
    d = detector.draw(r, case.thick_window)
    path = math.exp(r.normal(0, 0.05)) / math.sin(math.radians(35 + r.normal(0, 2)))
    zero = float(r.choice([0, -200, -20])) if not case.thick_window else 4.0
    x = np.arange(case.channels) * case.gain * (1 + r.normal(0, 0.0015)) + zero + r.normal(0, 5)
    phases = scene(case, x, d, path, bends)
    own = {}
    for sticks, _ in phases:
        for z, group in sticks.items():
            for family, members in families(group).items():
                mine = own.setdefault(z, {})
                mine[family] = mine.get(family, 0) + detector.with_shelf(d, x, detector.response(d, x, members))
    smooth = detector.with_shelf(d, x, detector.smeared(d, x, sum(c for _, c in phases)))
    y = smooth + sum(f for element in own.values() for f in element.values())
    fluorescence = detector.own_fluorescence(d, x, y)
    whole = lambda sticks: [s for group in sticks.values() for s in group]
    places = ([(p.share, whole(s)) for p, (s, _) in zip(case.phases, phases)] if case.map_sum
              else [(1.0, [s for sticks, _ in phases for s in whole(sticks)])])
    sums = detector.sum_peaks(d, x, y + fluorescence, places, bends)
    electronic = noise_parts(r, case, x, d)
    recorded = x > d.start
    expected = np.where(recorded, y + fluorescence + sums, 0) + np.where(recorded | (zero < -100), electronic, 0)
    rebinned, beam_told = r.uniform() < REBINNED, r.uniform() > NO_BEAM
    counts = detector.counted(r if noise is None else np.random.default_rng(noise), expected, rebinned)
    header = dict(beam=case.beam_kev if beam_told else None, gain=case.gain, offset=zero)
    if not judged:
        return counts, header, None
    sigma2 = d.noise2 / 5.545 + d.pair / 5.545 * np.maximum(x, 0)
    rivals = rival_templates(case, x, d, path, bends, own)
    standing = needed(x, expected, own, rivals, smooth, [fluorescence, sums, electronic], sigma2, case.beam_kev * 1000, case.thick_window)
    return counts, header, truth_of(case, counts, beam_told, standing)


def rival_templates(case, x, d, path, bends, own):
    """Counts per channel of every candidate: the true elements as they are, the others as they would be in the strongest phase."""
    phase = max(case.phases, key=lambda p: p.share)
    beam = case.beam_kev * 1000
    templates = {z: sum(f.values()) for z, f in own.items()}
    for z in CANDIDATES:
        if z not in templates:
            y = detector.response(d, x, detected(lines_of(z, phase, beam, path, bends), d), RIVAL_LINES)
            if y.sum() > 0:
                templates[z] = detector.with_shelf(d, x, y / y.sum())
    return templates


def truth_of(case, counts, beam_told, standing):
    share = sum(p.share for p in case.phases)
    weights = {}
    for phase in case.phases:
        for z, f in phase.weights.items():
            weights[z] = weights.get(z, 0) + phase.share / share * f
    symbol = lambda z: xl.AtomicNumberToSymbol(int(z))
    return {
        "beamKev": case.beam_kev,
        "beamTold": beam_told,
        "counts": int(counts.sum()),
        "massFractions": {symbol(z): float("%.4g" % f) for z, f in weights.items()},
        "unique_sigma": {symbol(z): round(s[0], 2) for z, s in standing.items()},
        "firm_sigma": {symbol(z): round(s[1], 2) for z, s in standing.items()},
    }


def write(path, counts, header):
    lines = [("FORMAT", "EMSA/MAS Spectral Data File"), ("VERSION", "1.0"), ("TITLE", "simulated"), ("DATE", ""), ("TIME", ""), ("OWNER", ""),
             ("NPOINTS", len(counts)), ("NCOLUMNS", 1), ("XUNITS", "eV"), ("YUNITS", "counts"), ("DATATYPE", "Y"), ("XPERCHAN", header["gain"]),
             ("OFFSET", header["offset"]), ("SIGNALTYPE", "EDS"), ("ELEVANGLE-dg", 35)]
    lines += [("BEAMKV   -kV", header["beam"])] if header["beam"] else []
    with open(path, "w", encoding="ascii") as file:
        file.writelines("#%-12s: %s\n" % entry for entry in lines + [("SPECTRUM", "")])
        file.writelines("%d,\n" % value for value in counts)
        file.write("#ENDOFDATA   : \n")


def main(out, kind, count, seed, first=0):
    os.makedirs(out, exist_ok=True)
    path = os.path.join(out, "truth.json")
    truth = json.load(open(path, encoding="ascii")) if os.path.exists(path) else {}
    number = list(KINDS).index(kind)
    for k in range(first, first + count):
        case = KINDS[kind](np.random.default_rng([seed, number, k]), k)
        name = "%s-%03d.msa" % (kind, k)
        counts, header, truth[name] = simulate(case, seed * 100000 + number * 10000 + k)
        write(os.path.join(out, name), counts, header)
        with open(path + ".part", "w", encoding="ascii") as file:
            json.dump(truth, file, indent=1)
        os.replace(path + ".part", path)


if __name__ == "__main__":
    if len(sys.argv) not in (5, 6) or sys.argv[2] not in KINDS:
        sys.exit(__doc__)
    main(sys.argv[1], sys.argv[2], *[int(a) for a in sys.argv[3:]])
