"""Atomic data of the second forward model: lines, edges and yields of data/atomic, all else straight from xraylib."""
import csv
import functools
import os

import xraylib as xl

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "..")
SUBSHELLS = ["K", "L1", "L2", "L3", "M1", "M2", "M3", "M4", "M5"]
XL_SHELL = [getattr(xl, name + "_SHELL") for name in SUBSHELLS]
ELECTRONS = [2, 2, 2, 4, 2, 2, 4, 4, 6]
# What an explanation may use, as in packages/core/src/identify/candidates.ts.
NEVER = "He Ne Ar Kr Xe Rn Tc Pm Po At Fr Ra Ac Pa".split()
CANDIDATES = [z for z in range(4, 93) if xl.AtomicNumberToSymbol(z) not in NEVER]


def table(*path):
    with open(os.path.join(ROOT, "data", *path), encoding="utf8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


LINES = {}
for row in table("atomic", "lines.csv"):
    LINES.setdefault(int(row["z"]), []).append((row["iupac"], float(row["energy_ev"]), float(row["relative"])))
EDGE = {(int(r["z"]), r["subshell"]): float(r["edge_ev"] or 0) for r in table("atomic", "subshells.csv")}
YIELD = {(int(r["z"]), r["subshell"]): float(r["yield"] or 0) for r in table("atomic", "subshells.csv")}


def or_zero(function, *arguments):
    """xraylib raises where it knows nothing."""
    try:
        return function(*arguments)
    except ValueError:
        return 0.0


@functools.lru_cache(maxsize=None)
def attenuation(z, energy):
    """cm2/g; below xraylib's 100 eV continued by a power law."""
    return xl.CS_Total(z, max(energy, 100.0) / 1000) * (1 if energy >= 100 else (100 / energy) ** 2.8)


def weights_of(parts):
    """Mass fractions by atomic number of [(formula, mass)]; hydrogen is left out, it has no line."""
    weights = {}
    for formula, amount in parts:
        compound = xl.CompoundParser(formula)
        for z, f in zip(compound["Elements"], compound["massFractions"]):
            if z > 1:
                weights[z] = weights.get(z, 0) + amount * f
    total = sum(weights.values())
    return {z: f / total for z, f in weights.items()}
