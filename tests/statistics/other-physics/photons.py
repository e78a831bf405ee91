"""Spectra that an X-ray tube excited, to see whether they are told from those of electrons.

    /usr/bin/python3 photons.py FOLDER [SEED]

Lines: fundamental parameters of a thick flat sample, first order (J. Sherman, Spectrochim. Acta 7 (1955) 283, from memory), with
xraylib's cross-sections. Tube: Kramers' continuum and the anode's K lines, their heights from common practice, behind beryllium. Scattered photons,
coherent and incoherent by 130 degrees, stand under the lines. Detector: silicon behind 12 um of beryllium.
"""
import os
import sys

import numpy as np
import xraylib as x

from tables import or_zero

SAMPLES = {
    "copper": [(29, 1.0)],
    "brass": [(29, 0.7), (30, 0.28), (82, 0.02)],
    "chalk": [(20, 0.4), (6, 0.12), (8, 0.48)],
    "lead-white": [(82, 0.8), (8, 0.165), (6, 0.031), (1, 0.004)],
    "lead-tin-yellow": [(82, 0.67), (50, 0.2), (8, 0.13)],
    "smalt": [(14, 0.32), (8, 0.46), (19, 0.12), (27, 0.05), (26, 0.02), (33, 0.03)],
    "titanium-white": [(22, 0.6), (8, 0.4)],
    "vermilion": [(80, 0.862), (16, 0.138)],
}
# Name, keV, anode, filters as (Z, g/cm3, cm).
TUBES = [("mo25", 25, 42, []), ("rh40", 40, 45, []), ("w50", 50, 74, [(13, 2.7, 0.05)])]
COUNTS, CHANNELS, GAIN_KEV, FWHM_KEV = 6e5, 2048, 0.02, 0.145
FANO_KEV = 0.12 * 0.00365
BERYLLIUM, SILICON = 1.85, 2.33  # g/cm3
LEAST_KEV = 0.7


def tube(kev, anode, filters):
    """Photon energies, keV, and intensities that leave the tube."""
    continuum = np.arange(1, kev, 0.05)
    energies, intensities = list(continuum), list((kev / continuum - 1) * 0.05)
    for line, height in ((x.KA1_LINE, 6), (x.KA2_LINE, 3), (x.KB1_LINE, 1.5), (x.LA1_LINE, 3), (x.LB1_LINE, 1.5)):
        energy = or_zero(x.LineEnergy, anode, line)
        if 1 < energy < kev:
            energies.append(energy)
            intensities.append(height)
    passed = [
        i * np.exp(-sum(x.CS_Total(z, e) * rho * cm for z, rho, cm in [(4, BERYLLIUM, 0.0125), *filters]))
        for e, i in zip(energies, intensities)
    ]
    return np.array(energies), np.array(passed)


def sticks(parts, energies, intensities):
    """Energies and intensities that leave the sample: fluorescence, coherent and incoherent scatter."""

    def mixed(section, energy):
        return sum(w * section(z, energy) for z, w in parts)

    total = np.array([mixed(x.CS_Total, e) for e in energies])
    out = []
    for z, w in parts:
        for line in range(-120, 0):
            energy = or_zero(x.LineEnergy, z, line)
            if energy < LEAST_KEV:
                continue
            leaving = total + mixed(x.CS_Total, energy)
            exciting = zip(energies, intensities, leaving)
            out.append((energy, sum(i * w * or_zero(x.CS_FluorLine, z, line, e) / m for e, i, m in exciting if e > energy)))
    for e, i, m in zip(energies, intensities, total):
        out.append((e, i * mixed(x.CS_Rayl, e) / (2 * m)))
        out.append((e / (1 + e / 511 * (1 - np.cos(np.radians(130)))), i * mixed(x.CS_Compt, e) / (2 * m)))
    return out


def recorded(lines):
    """Expected counts per channel, relative."""
    axis = np.arange(CHANNELS) * GAIN_KEV
    out = np.zeros(CHANNELS)
    for energy, intensity in lines:
        sigma = np.sqrt((FWHM_KEV / 2.355) ** 2 + FANO_KEV * (energy - 5.9))
        part = np.exp(-x.CS_Total(4, energy) * BERYLLIUM * 0.0012) * -np.expm1(-x.CS_Total(14, energy) * SILICON * 0.05)
        out += intensity * part * np.exp(-0.5 * ((axis - energy) / sigma) ** 2) / sigma
    return out


def written(folder, name, counts, beam_kev):
    head = [
        "#FORMAT      : EMSA/MAS Spectral Data File", "#VERSION     : 1.0", "#TITLE       : simulated, excited by X-rays",
        f"#NPOINTS     : {CHANNELS}", "#NCOLUMNS    : 1", "#XUNITS      : keV", "#YUNITS      : counts", "#DATATYPE    : Y",
        f"#XPERCHAN    : {GAIN_KEV}", "#OFFSET      : 0.0",
    ]
    beam = [] if beam_kev is None else [f"#BEAMKV   -kV: {beam_kev}"]
    rows = [f"{value}," for value in counts]
    with open(os.path.join(folder, f"{name}.msa"), "w", encoding="ascii") as file:
        file.write("\n".join([*head, *beam, "#SPECTRUM    : ", *rows, "#ENDOFDATA   : "]) + "\n")


def main(folder, seed):
    os.makedirs(folder, exist_ok=True)
    random = np.random.default_rng(seed)
    for name, parts in SAMPLES.items():
        for label, kev, anode, filters in TUBES:
            expected = recorded(sticks(parts, *tube(kev, anode, filters)))
            counts = random.poisson(expected * COUNTS / expected.sum())
            written(folder, f"{name}-{label}-told", counts, kev)
            written(folder, f"{name}-{label}-untold", counts, None)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 1)
