"""Spectra of compositions asked for: a JSON array on standard input, [{"out", "parts": [[formula, mass], ...], "beamKev", "counts", "seed"}].

Used by ../verdicts/limits.mjs. The seed fixes detector and bent physics; `noise`, where given, draws other counts from the same.
"""
import json
import sys

import numpy as np

from simulate import Case, simulate, write
from suites import one
from tables import weights_of

for asked in json.load(sys.stdin):
    case = Case(one(weights_of([tuple(p) for p in asked["parts"]])), asked["beamKev"], asked["counts"])
    counts, header, _ = simulate(case, asked["seed"], judged=False, noise=asked.get("noise"))
    write(asked["out"], counts, dict(header, beam=asked["beamKev"]))
