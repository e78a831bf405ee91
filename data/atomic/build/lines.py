"""Characteristic lines: an energy and a radiative fraction, each with its source."""

import xraylib

from levels import XRAYLIB, edge, fluorescence_yield
from reference import FIRST_LINE_Z, LAST_LINE_Z, LINE_CODES, SUBSHELLS, level_width, xraylib_edge, xraylib_line

LOWEST_EV = 30.0
SMALLEST_FRACTION = 1e-5

SIEGBAHN = {
    "K-L3": "Kα1", "K-L2": "Kα2", "K-M3": "Kβ1", "K-M2": "Kβ3", "K-M4": "Kβ5II", "K-M5": "Kβ5I", "K-N3": "Kβ2I", "K-N2": "Kβ2II",
    "L3-M5": "Lα1", "L3-M4": "Lα2", "L2-M4": "Lβ1", "L3-N5": "Lβ2", "L3-N4": "Lβ15", "L1-M3": "Lβ3", "L1-M2": "Lβ4",
    "L3-O4,5": "Lβ5", "L3-N1": "Lβ6", "L3-O1": "Lβ7", "L1-M5": "Lβ9", "L1-M4": "Lβ10", "L2-M3": "Lβ17", "L2-N4": "Lγ1",
    "L1-N2": "Lγ2", "L1-N3": "Lγ3", "L1-O3": "Lγ4", "L1-O2": "Lγ4′", "L2-N1": "Lγ5", "L2-O4": "Lγ6", "L2-O1": "Lγ8",
    "L3-M1": "Lℓ", "L2-M1": "Lη", "L3-M3": "Ls", "L3-M2": "Lt", "L3-N6,7": "Lu", "L2-N6": "Lv",
    "M5-N7": "Mα1", "M5-N6": "Mα2", "M4-N6": "Mβ", "M3-N5": "Mγ", "M5-N3": "Mζ1", "M4-N2": "Mζ2",
}  # fmt: skip

# Electrons in the 4f shell of the free atom (common chemistry; La as Ce, because solid La does emit Mα).
ELECTRONS_4F = {57: 1, 58: 1, 59: 3, 60: 4, 61: 5, 62: 6, 63: 7}


def fractions(z, s):
    """{iupac: (fraction, source)} of the radiative decays of a subshell, as found or as repaired."""
    if z < 5 and s == "K":
        return {"K-L3": (2 / 3, "assumed 2:1"), "K-L2": (1 / 3, "assumed 2:1")}
    found = {i: (r, XRAYLIB) for i in LINE_CODES if i.split("-")[0] == s and (r := xraylib_line(z, i)[1])}
    if z in (11, 12) and s == "K":
        return _with_valence_band_beta(z, found)
    if z == 20 and s in ("L2", "L3"):
        return _calcium_with_3d(s, found)
    if z in ELECTRONS_4F and s in ("M4", "M5"):
        return _with_4f_emission(z, s)
    if 39 <= z < 48 and s[0] == "M":
        return {i: (r, "extrapolated from Cd") for i, (r, _) in fractions(48, s).items()}
    return found


def _with_valence_band_beta(z, found):
    """Kβ of Na and Mg is band emission, absent from a table of free atoms: continue Kβ/K of Si and Al geometrically."""
    beta = {k: xraylib_line(k, "K-M3")[1] + xraylib_line(k, "K-M2")[1] for k in (13, 14)}
    part = beta[13] * (beta[13] / beta[14]) ** (13 - z)
    scaled = {i: (r * (1 - part), source) for i, (r, source) in found.items()}
    return scaled | {"K-M3": (part, "extrapolated from Al and Si")}


def _calcium_with_3d(s, found):
    """Lα and Lβ1 of Ca: the part of Sc continued by the step from Ti to Sc."""
    main = ["L3-M5", "L3-M4"] if s == "L3" else ["L2-M4"]
    part = {k: sum(xraylib_line(k, i)[1] for i in main) for k in (21, 22)}
    total = part[21] ** 2 / part[22]
    scaled = {i: (r * (1 - total), source) for i, (r, source) in found.items()}
    share = {i: xraylib_line(21, i)[1] / part[21] for i in main}
    return scaled | {i: (total * share[i], "extrapolated from Sc and Ti") for i in main}


def _with_4f_emission(z, s):
    """M4, M5 of La to Eu: xraylib has no transition from 4f there. Gd, with N6 and N7 scaled by the 4f occupation."""
    gadolinium = {i: xraylib_line(64, i)[1] for i in LINE_CODES if i.split("-")[0] == s and xraylib_line(64, i)[1]}
    scale = ELECTRONS_4F[z] / 7
    return {i: (r * scale if i[-2:] in ("N6", "N7") else r, "extrapolated from Gd") for i, r in gadolinium.items()}


class Energies:
    """Line energies in the order of trust: SRD 128 measured, Data Booklet 1-2, SRD 128 calculated, xraylib, edge difference."""

    def __init__(self, measured, calculated, booklet, edges):
        self.measured, self.calculated, self.booklet, self.edges = measured, calculated, booklet, edges

    def of(self, z, iupac):
        """(eV, uncertainty eV, source) or None."""
        if z <= 9 and iupac in ("K-L2", "K-L3"):
            return self.booklet[z, "K-L3"], 0.5, "XDB 1-2 (band)"
        if (z, iupac) in self.measured:
            return *self.measured[z, iupac], "SRD 128 measured"
        if (z, iupac) in self.booklet:
            return self.booklet[z, iupac], 0.5, "XDB 1-2"
        if iupac == "K-M2" and z <= 20:  # 3p is the valence level: the doublet is unresolved, and free-atom theory is off by eVs
            return self.of(z, "K-M3")
        if z == 20 and iupac == "L3-M4":
            return self.of(z, "L3-M5")
        if (z, iupac) in self.calculated:
            return *self.calculated[z, iupac], "SRD 128 calculated"
        return self._from_xraylib(z, iupac) or self._from_edges(z, iupac)

    def _from_xraylib(self, z, iupac):
        energy = xraylib_line(z, iupac)[0]
        if not energy or energy < 1:
            return None
        own = xraylib_line(z, "M5-N7")[0]
        if iupac in ("M5-N6", "M4-N6") and z >= 64 and own and (z, "M5-N7") in self.booklet:
            return energy + self.booklet[z, "M5-N7"] - own, 1.5, "xraylib 4.0.0 shifted as Mα1 to XDB 1-2"
        return energy, 1.5, XRAYLIB

    def _from_edges(self, z, iupac):
        lower, upper = iupac.split("-")
        below, _ = edge(self.edges, z, lower)
        if upper[:2] in ("N6", "N7") and z in ELECTRONS_4F:
            if upper == "N7" or lower == "M5":
                return (*self.of(z, "M5-N7")[:2], self.of(z, "M5-N7")[2]) if (z, "M5-N7") in self.booklet else None
        above = self.edges.get((z, upper[:2])) or (xraylib_edge(z, upper[:2]) if len(upper) > 1 else 0) or 0.0
        return (below - above, 3.0, "edge difference") if below else None


def natural_width(z, iupac):
    """Full width at half maximum: the two level widths together, 0 for a level without a known width."""
    lower, upper = iupac.split("-")
    return (level_width(z, lower) or 0) + ((level_width(z, upper[:2]) if len(upper) > 1 else None) or 0)


def lines(energies):
    """Rows of lines.csv. Left out: lines below LOWEST_EV or with less than SMALLEST_FRACTION of their subshell, and those
    for which xraylib has an energy but no rate (quadrupole lines as Kβ5)."""
    for z in range(FIRST_LINE_Z, LAST_LINE_Z + 1):
        for s in SUBSHELLS:
            if fluorescence_yield(z, s)[0] == 0:
                continue
            kept = []
            for iupac, (fraction, source) in fractions(z, s).items():
                found = energies.of(z, iupac)
                if found and found[0] >= LOWEST_EV and fraction >= SMALLEST_FRACTION:
                    kept.append((found[0], found[1], iupac, fraction, found[2], source))
            total = sum(k[3] for k in kept)
            for ev, unc, iupac, fraction, source, fraction_source in sorted(kept, key=lambda k: (k[0], k[2])):
                symbol = xraylib.AtomicNumberToSymbol(z)
                name, relative, width = SIEGBAHN.get(iupac, ""), f"{fraction / total:.6g}", f"{natural_width(z, iupac):.4g}"
                yield [z, symbol, iupac, name, f"{ev:.2f}", f"{unc:.2f}", relative, s, width, source, fraction_source]
