"""Elements, subshells (edge, yield, width) and Coster-Kronig probabilities."""

import re

import xraylib

from reference import LAST_Z, SUBSHELLS, ask, level_width, shell_code, xraylib_edge

NAMES = (
    "hydrogen helium lithium beryllium boron carbon nitrogen oxygen fluorine neon sodium magnesium aluminium silicon "
    "phosphorus sulfur chlorine argon potassium calcium scandium titanium vanadium chromium manganese iron cobalt nickel "
    "copper zinc gallium germanium arsenic selenium bromine krypton rubidium strontium yttrium zirconium niobium "
    "molybdenum technetium ruthenium rhodium palladium silver cadmium indium tin antimony tellurium iodine xenon caesium "
    "barium lanthanum cerium praseodymium neodymium promethium samarium europium gadolinium terbium dysprosium holmium "
    "erbium thulium ytterbium lutetium hafnium tantalum tungsten rhenium osmium iridium platinum gold mercury thallium "
    "lead bismuth polonium astatine radon francium radium actinium thorium protactinium uranium neptunium plutonium "
    "americium curium berkelium californium"
).split()

# IUPAC standard atomic weights 2021, abridged (Prohaska et al., Pure Appl. Chem. 94 (2022) 573); mass number where there is none.
# Written from memory, then compared with the Blue Obelisk Data Repository (Debian bodr 10): within 0.015 % everywhere.
# xraylib is not used here: its weights are rounded and old (H 1.01, Tm 167.27, Au 197.2).
WEIGHTS = (
    "1.008 4.0026 6.94 9.0122 10.81 12.011 14.007 15.999 18.998 20.180 22.990 24.305 26.982 28.085 30.974 32.06 "
    "35.45 39.95 39.098 40.078 44.956 47.867 50.942 51.996 54.938 55.845 58.933 58.693 63.546 65.38 69.723 72.630 "
    "74.922 78.971 79.904 83.798 85.468 87.62 88.906 91.224 92.906 95.95 97 101.07 102.91 106.42 107.87 112.41 "
    "114.82 118.71 121.76 127.60 126.90 131.29 132.91 137.33 138.91 140.12 140.91 144.24 145 150.36 151.96 157.25 "
    "158.93 162.50 164.93 167.26 168.93 173.05 174.97 178.49 180.95 183.84 186.21 190.23 192.22 195.08 196.97 "
    "200.59 204.38 207.2 208.98 209 210 222 223 226 227 232.04 231.04 238.03 237 244 243 247 247 251"
).split()

XRAYLIB = "xraylib 4.0.0"
FIRST_M_CASCADE_Z = 39  # below it no M line is listed


def elements():
    for z in range(1, LAST_Z + 1):
        yield [z, xraylib.AtomicNumberToSymbol(z), NAMES[z - 1], WEIGHTS[z - 1], "IUPAC 2021 abridged"]


def edge(booklet, z, level):
    """(eV, source) of a level: Data Booklet Table 1-1, else xraylib if it is no mere valence level (10 eV and more)."""
    if (z, level) in booklet:
        return booklet[z, level], "XDB 1-1"
    value = xraylib_edge(z, level)
    return (value, XRAYLIB) if value and value >= 10 else (None, None)


def fluorescence_yield(z, s):
    """(yield, source). Three repairs of gaps and faults of the xraylib table, each marked:

    - M5 below Z = 60: the table has nothing up to 57 and then climbs in a straight line from zero at 57 to its value at
      60. Taken instead: the M4 value up to 57 (above 60 both are alike), a straight line from there to 60.
    - L3 of Mg: the table says 1e-13; taken equal to L2.
    - M1 to M4 without a value: zero (no line of these subshells is listed where that happens).
    """
    value = ask(xraylib.FluorYield, z, shell_code(s))
    if s == "M5" and 22 <= z < 60:
        start = xraylib.FluorYield(min(z, 57), xraylib.M4_SHELL)
        stop = xraylib.FluorYield(60, xraylib.M5_SHELL)
        return start + (stop - start) * max(0, z - 57) / 3, "extrapolated"
    if s == "L3" and z == 12:
        return xraylib.FluorYield(12, xraylib.L2_SHELL), "extrapolated"
    return (value, XRAYLIB) if value else (0.0, "none")


def subshells(booklet):
    for z in range(1, LAST_Z + 1):
        for s in SUBSHELLS:
            energy, source = edge(booklet, z, s)
            if energy is None:
                continue
            rate, rate_source = fluorescence_yield(z, s)
            width = level_width(z, s)
            yield [z, s, f"{energy:.6g}", source, f"{rate:.5g}", rate_source, f"{width or 0:.4g}", XRAYLIB if width else "none"]


def _found_or_held(z, shell, code):
    """(probability, source) of one Coster-Kronig transition, or (None, None)."""
    value = ask(xraylib.CosKronTransProb, z, code)
    if value is not None:
        return value, XRAYLIB
    if shell == "M" and FIRST_M_CASCADE_Z <= z < 67:
        return ask(xraylib.CosKronTransProb, 67, code), "extrapolated"
    if shell == "L" and z > 92:
        last = next(k for k in range(z, 0, -1) if ask(xraylib.CosKronTransProb, k, code))
        return xraylib.CosKronTransProb(last, code), "extrapolated"
    return None, None


def coster_kronig():
    """f(from, to). xraylib gives the M shell from Z = 67: its values there are held down to Z = 39; L values end at 92 and
    are held above. Where the ways out of a subshell (yield included) sum to more than 1 (M1 of Z = 67 to 69 by up to
    10 %, hence also below) they are scaled to 1, said in the source."""
    names = [m for m in (re.fullmatch(r"F([LM])(\d)(\d)_TRANS", n) for n in dir(xraylib)) if m]
    for z in range(1, LAST_Z + 1):
        found = []
        for m in names:
            value, source = _found_or_held(z, m[1], getattr(xraylib, m[0]))
            if value:
                found.append((m[1] + m[2], m[1] + m[3], value, source))
        for start, end, value, source in found:
            total = sum(f[2] for f in found if f[0] == start)
            room = 1 - fluorescence_yield(z, start)[0]
            if total > room:
                value, source = value * room / total, f"{source} scaled to sum 1"
            yield [z, start, end, f"{value:.5g}", source]
