"""Vacancies that the decay of an inner vacancy leaves in an outer shell."""

import re

import xraylib

from levels import FIRST_M_CASCADE_Z, XRAYLIB
from reference import LAST_Z, SUBSHELLS, ask, shell_code, xraylib_edge, xraylib_line

FIRST_L_CASCADE_Z = 12  # below it no L line is listed
INNER = ["K", "L1", "L2", "L3"]


def _auger_codes():
    """{'K': [('L1', 'M5', code), ...]}: the two levels that an Auger transition leaves empty."""
    codes = {level: [] for level in INNER}
    for name in dir(xraylib):
        match = re.fullmatch(r"(K|L[123])_([A-Z]\d)([A-Z]\d)_AUGER", name)
        if match:
            codes[match[1]].append((match[2], match[3], getattr(xraylib, name)))
    return codes


AUGER_CODES = _auger_codes()


def _left_behind(z, start):
    """{level: vacancies} per vacancy of `start`: yield x fraction of the line, plus Auger yield x fraction for each hole."""
    left = {}
    radiative = ask(xraylib.FluorYield, z, shell_code(start)) or 0
    auger = ask(xraylib.AugerYield, z, shell_code(start)) or 0
    for end in SUBSHELLS:
        left[end] = radiative * (xraylib_line(z, f"{start}-{end}")[1] or 0)
    for first, second, code in AUGER_CODES[start]:
        share = auger * (ask(xraylib.AugerRate, z, code) or 0)
        for end in (first, second):
            if end in left:
                left[end] += share
    return left


def cascade():
    """Vacancies of the L and M shell per vacancy of an inner *shell* (inside a shell: coster_kronig); 1e-4 and more."""
    for z in range(FIRST_L_CASCADE_Z, LAST_Z + 1):
        for start in INNER:
            for end, value in _left_behind(z, start).items():
                outside = end[0] == "L" and start == "K" or end[0] == "M" and z >= FIRST_M_CASCADE_Z
                if outside and xraylib_edge(z, end) and value >= 1e-4:
                    yield [z, start, end, f"{value:.4g}", XRAYLIB]
