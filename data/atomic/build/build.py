"""Makes the CSV files of data/atomic.

    /usr/bin/python3 data/atomic/build/build.py REFERENCE_FOLDER

REFERENCE_FOLDER holds the published tables as CSV: xdb-table-1-1.csv and xdb-table-1-2.csv (X-Ray Data Booklet),
nist-srd128.csv (NIST SRD 128) and bote-salvat-2009.csv (parameters of Bote et al. 2009). Everything else comes from
xraylib 4.0.0 (Debian package python3-xraylib). What is taken from where, and what is extrapolated, stands in the
modules beside this file and, row by row, in the source columns of the CSV files.
"""

import csv
import os
import sys
from pathlib import Path

sys.dont_write_bytecode = True

from absorption import attenuation
from cascade import cascade
from levels import coster_kronig, elements, subshells
from lines import Energies, lines
from reference import LAST_Z, booklet_edges, booklet_lines, nist_lines, rows

OUT = Path(__file__).resolve().parent.parent


def write(name, header, records):
    path = OUT / name
    part = path.with_suffix(".part")
    with open(part, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        count = sum(1 for record in records if writer.writerow(record))
    os.replace(part, path)
    print(f"{name}: {count} rows", file=sys.stderr)


def ionisation(folder):
    keys = ["a1", "a2", "a3", "a4", "a5", "be", "anlj", "g1", "g2", "g3", "g4"]
    for r in rows(folder, "bote-salvat-2009.csv"):
        if int(r["z"]) <= LAST_Z:
            yield [r["z"], r["subshell"], r["edge_ev"], *(r[k] for k in keys), "Bote et al. 2009"]


def main(folder):
    edges = booklet_edges(folder)
    energies = Energies(*nist_lines(folder), booklet_lines(folder), edges)
    write("elements.csv", ["z", "symbol", "name", "atomic_weight", "source"], elements())
    write(
        "subshells.csv",
        ["z", "subshell", "edge_ev", "edge_source", "yield", "yield_source", "level_width_ev", "width_source"],
        subshells(edges),
    )
    write("coster-kronig.csv", ["z", "from", "to", "probability", "source"], coster_kronig())
    write("cascade.csv", ["z", "from", "to", "vacancies", "source"], cascade())
    write(
        "lines.csv",
        ["z", "symbol", "iupac", "siegbahn", "energy_ev", "energy_unc", "relative", "subshell", "width_ev", "source", "relative_source"],
        lines(energies),
    )
    write(
        "ionisation.csv",
        ["z", "subshell", "edge_ev", "a1", "a2", "a3", "a4", "a5", "be", "anlj", "g1", "g2", "g3", "g4", "source"],
        ionisation(folder),
    )
    write("attenuation.csv", ["z", "energy_ev", "cm2_per_g", "source"], attenuation(edges))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: /usr/bin/python3 build.py REFERENCE_FOLDER")
    main(sys.argv[1])
