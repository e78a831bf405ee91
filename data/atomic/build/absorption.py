"""Total mass attenuation coefficients on a logarithmic grid with a pair of points at each edge."""

import numpy as np
import xraylib

from reference import LAST_Z, ask, xraylib_edge

LOWEST_EV, HIGHEST_EV, GRID_POINTS = 30.0, 50_000.0, 100
TABLE_START_EV = 100.0  # where xraylib's CS_Total begins
SMALLEST_STEP = 1.01  # a smaller rise is no edge worth two points
LEVELS = ["K"] + [f"{shell}{k}" for shell, n in zip("LMN", (3, 5, 7)) for k in range(1, n + 1)]


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
    found = {}
    for level in LEVELS:
        ev = booklet.get((z, level)) or xraylib_edge(z, level)
        if ev and TABLE_START_EV + 1 < ev < HIGHEST_EV:
            found[ev] = level
    energies = sorted(found)
    result = []
    for i, ev in enumerate(energies):
        low = max(ev * 0.97, (ev + energies[i - 1]) / 2 if i else 0)
        high = min(ev * 1.03, (ev + energies[i + 1]) / 2 if i + 1 < len(energies) else np.inf)
        step = find_step(z, ev, low, high)
        if step:
            result.append((ev, *step))
    return result


def attenuation(booklet):
    for z in range(1, LAST_Z + 1):
        edges = edges_of(z, booklet)
        bounds = [LOWEST_EV] + [e[0] for e in edges] + [HIGHEST_EV * 1.0001]
        grid = np.geomspace(LOWEST_EV, HIGHEST_EV, GRID_POINTS)
        points = {}
        for i in range(len(bounds) - 1):
            first, last = bounds[i], bounds[i + 1]
            low = edges[i - 1][2] if i else 0
            high = edges[i][1] if i < len(edges) else np.inf
            inside = [e for e in grid if first * 1.002 < e < last * 0.998]
            if i == 0:
                inside.insert(0, LOWEST_EV)
            else:
                inside.insert(0, first + 0.01)
            if i < len(edges):
                inside.append(last - 0.01)
            elif inside[-1] < HIGHEST_EV * 0.999:
                inside.append(HIGHEST_EV)
            for e in inside:
                points[round(e, 2)] = total(z, min(max(e, low), high))
        for e in sorted(points):
            if points[e]:
                source = "xraylib CS_Total" if e >= TABLE_START_EV else "xraylib CS_Photo_Total joined at 100 eV"
                yield [z, f"{e:.2f}", f"{points[e]:.6g}", source]
