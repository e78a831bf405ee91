"""Readers of the published tables and a quiet face on xraylib. Energies in eV everywhere."""

import csv
import re
from pathlib import Path

import xraylib

SUBSHELLS = ["K", "L1", "L2", "L3", "M1", "M2", "M3", "M4", "M5"]
LAST_Z = 98
FIRST_LINE_Z, LAST_LINE_Z = 3, 95


def rows(folder, name):
    with open(Path(folder) / name, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def booklet_edges(folder):
    """X-Ray Data Booklet Table 1-1: {(z, level): eV}."""
    return {(int(r["z"]), r["iupac"]): float(r["energy_ev"]) for r in rows(folder, "xdb-table-1-1.csv")}


def booklet_lines(folder):
    """X-Ray Data Booklet Table 1-2: {(z, 'L3-M5'): eV}."""
    return {(int(r["z"]), r["iupac"]): float(r["energy_ev"]) for r in rows(folder, "xdb-table-1-2.csv")}


def nist_lines(folder):
    """NIST SRD 128: two maps {(z, 'K-L3'): (eV, one standard uncertainty)}, measured and calculated. Uranium as U-238."""
    measured, calculated = {}, {}
    for r in rows(folder, "nist-srd128.csv"):
        if r["a"] == "233":
            continue
        key = (int(r["z"]), r["iupac"])
        if r["exp_ev"]:
            measured[key] = (float(r["exp_ev"]), float(r["exp_unc_ev"] or "nan"))
        if r["theory_ev"]:
            calculated[key] = (float(r["theory_ev"]), float(r["theory_unc_ev"] or "nan"))
    return measured, calculated


def ask(function, *arguments):
    """What xraylib answers, or None where it has no value (it raises, or says zero)."""
    try:
        return function(*arguments) or None
    except ValueError:
        return None


def shell_code(level):
    return getattr(xraylib, level + "_SHELL")


def xraylib_edge(z, level):
    edge = ask(xraylib.EdgeEnergy, z, shell_code(level))
    return edge and edge * 1000


def level_width(z, level):
    width = ask(xraylib.AtomicLevelWidth, z, shell_code(level))
    return width and width * 1000


def _upper_level(name):
    """'M5' -> 'M5', 'O45' -> 'O4,5', 'O' -> 'O' (the whole shell, unresolved)."""
    return name if len(name) < 3 else f"{name[0]}{','.join(name[1:])}"


def _line_codes():
    codes = {}
    for name in dir(xraylib):
        match = re.fullmatch(r"(K|[LM]\d)([LMNOPQ]\d*)_LINE", name)
        if match:
            codes[f"{match[1]}-{_upper_level(match[2])}"] = getattr(xraylib, name)
    return codes


LINE_CODES = _line_codes()


def xraylib_line(z, iupac):
    """(energy or None, radiative fraction or None) of one transition."""
    code = LINE_CODES.get(iupac)
    if code is None:
        return None, None
    energy = ask(xraylib.LineEnergy, z, code)
    return energy and energy * 1000, ask(xraylib.RadRate, z, code)
