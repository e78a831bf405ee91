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

XRAYLIB = "xraylib 4.0.0"


def elements():
    for z in range(1, LAST_Z + 1):
        yield [z, xraylib.AtomicNumberToSymbol(z), NAMES[z - 1], f"{xraylib.AtomicWeight(z):.6g}", XRAYLIB]


def edge(booklet, z, level):
    """(eV, source) of a level: Data Booklet Table 1-1, else xraylib."""
    if (z, level) in booklet:
        return booklet[z, level], "XDB 1-1"
    value = xraylib_edge(z, level)
    return (value, XRAYLIB) if value else (None, None)


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


def coster_kronig():
    """f(from, to). M values start at Z = 67 in xraylib: those of 67 are held below, L1 and L2 ones above the last Z given."""
    names = [m for m in (re.fullmatch(r"F([LM])(\d)(\d)_TRANS", n) for n in dir(xraylib)) if m]
    for z in range(1, LAST_Z + 1):
        for m in names:
            code = getattr(xraylib, m[0])
            value, source = ask(xraylib.CosKronTransProb, z, code), XRAYLIB
            if value is None and m[1] == "M" and 19 <= z < 67:
                value, source = ask(xraylib.CosKronTransProb, 67, code), "extrapolated"
            if value is None and m[1] == "L" and z > 92:
                last = next(k for k in range(z, 0, -1) if ask(xraylib.CosKronTransProb, k, code))
                value, source = ask(xraylib.CosKronTransProb, last, code), "extrapolated"
            if value:
                yield [z, m[1] + m[2], m[1] + m[3], f"{value:.5g}", source]
