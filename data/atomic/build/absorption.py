"""Total mass attenuation coefficients: a logarithmic grid, a pair of points at each edge, more where the curve bends."""

import math

import numpy as np
import xraylib

from reference import LAST_Z, ask, xraylib_edge

LOWEST_EV, HIGHEST_EV, GRID_POINTS = 30.0, 50_000.0, 80
TABLE_START_EV = 100.0  # where xraylib's CS_Total begins
SMALLEST_STEP = 1.01  # a smaller rise is no edge worth two points
INTERPOLATION_ERROR = 0.004  # a straight line in ln-ln may miss the curve by this much
CLOSEST = 0.002  # no two points closer than this fraction, edges apart
LEVELS = ["K"] + [f"{shell}{k}" for shell, n in zip("LMNO", (3, 5, 7, 5)) for k in range(1, n + 1)]


def below_table(z, ev):
    """Photo-absorption after Kissel (xraylib CS_Photo_Total) below 100 eV, scaled to join CS_Total there."""
    join = xraylib.CS_Total(z, TABLE_START_EV / 1000)
    start = ask(xraylib.CS_Photo_Total, z, TABLE_START_EV / 1000)
    value = ask(xraylib.CS_Photo_Total, z, ev / 1000)
    return join * value / start if start and value else None


def total(z, ev):
    return xraylib.CS_Total(z, ev / 1000) if ev >= TABLE_START_EV else below_table(z, ev)


def find_step(z, near, low, high):
    """(last energy below, first energy above) the steepest rise of CS_Total inside [low, high], or None."""
    low, high = max(low, TABLE_START_EV + 0.5), min(high, HIGHEST_EV)
    if low >= near or high <= near:
        return None
    for _ in range(4):
        grid = np.linspace(low, high, 200)
        values = np.array([total(z, e) for e in grid])
        i = int(np.argmax(values[1:] / values[:-1]))
        rise = values[i + 1] / values[i]
        low, high = grid[i], grid[i + 1]
    return (low, high) if rise >= SMALLEST_STEP else None


def edges_of(z, booklet):
    """[(edge, last below, first above)] upwards: the edge where our edge table has it, the step where xraylib has it."""
    levels = {booklet.get((z, level)) or xraylib_edge(z, level) for level in LEVELS}
    energies = sorted(ev for ev in levels if ev and TABLE_START_EV + 1 < ev < HIGHEST_EV)
    result = []
    for i, ev in enumerate(energies):
        low = max(ev * 0.97, (ev + energies[i - 1]) / 2 if i else 0)
        high = min(ev * 1.03, (ev + energies[i + 1]) / 2 if i + 1 < len(energies) else math.inf)
        step = find_step(z, ev, low, high)
        if step:
            result.append((ev, *step))
    return result


def refine(curve, first, last):
    """Energies between two points, added by halving until straight lines in ln-ln follow the curve."""
    if last / first < 1 + 2 * CLOSEST:
        return []
    ends = [math.log(curve(first)), math.log(curve(last))]
    for part in (0.25, 0.5, 0.75):
        straight = ends[0] + part * (ends[1] - ends[0])
        if abs(math.log(curve(first ** (1 - part) * last**part)) - straight) > INTERPOLATION_ERROR:
            middle = math.sqrt(first * last)
            return refine(curve, first, middle) + [middle] + refine(curve, middle, last)
    return []


def segment(z, first, last, low, high):
    """{energy: cm2/g} from one edge to the next; xraylib is asked inside (low, high), on the right side of its own steps."""

    def curve(ev):
        return total(z, min(max(ev, low), high))

    grid = np.geomspace(LOWEST_EV, HIGHEST_EV, GRID_POINTS)
    coarse = [first] + [e for e in grid if first * 1.01 < e < last * 0.99] + [last]
    coarse = [e for e in coarse if curve(e)]
    energies = list(coarse)
    for a, b in zip(coarse, coarse[1:]):
        energies += refine(curve, a, b)
    return {round(e, 2): curve(round(e, 2)) for e in energies}


def attenuation(booklet):
    for z in range(1, LAST_Z + 1):
        edges = edges_of(z, booklet)
        points = {}
        for i in range(len(edges) + 1):
            first, low = (edges[i - 1][0] + 0.01, edges[i - 1][2]) if i else (LOWEST_EV, 0)
            last, high = (edges[i][0] - 0.01, edges[i][1]) if i < len(edges) else (HIGHEST_EV, math.inf)
            points |= segment(z, first, last, low, high)
        for e in sorted(points):
            source = "xraylib CS_Total" if e >= TABLE_START_EV else "xraylib CS_Photo_Total joined at 100 eV"
            yield [z, f"{e:.2f}", f"{points[e]:.6g}", source]
