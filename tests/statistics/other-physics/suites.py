"""The ten kinds of specimen, and the conditions each is measured under. Every function draws one specimen from a generator.

Compositions are invented within the usual ranges of their kind (common practice, no source). `Case.kind_of_spot`: 'one' spot;
'map', a sum over phases that lie beside each other and so give no sums of photons with each other.
"""
import itertools
import math
from dataclasses import dataclass

import xraylib as xl

from emission import Phase
from tables import table, weights_of

RESIN = "C5H8O2"
PIGMENTS = """Pb3C2H2O8 HgS CoSi6K2O14 Pb2SnO4 CuCO3 CaCO3 CaSO4 Fe2O3 Ca5P3O13H Bi As2S3 AsS TiO2 ZnO BaSO4 CdS CdSe Cr2O3
PbCrO4 SrCrO4 BaCrO4 ZnS Sb2O3 Pb2Sb2O7 Na7Al6Si6O24S3 K2Al2Si6O16 Al2O3 CuAs2O4 Cu2C2H6O4 MnO2 SnO2 SnS2 Au Ag Al4Si4O18
MgCO3 Pb3O4 PbO ZnCrO4 CoAl2O4 NiO V2O5 BiVO4 PbSO4 PbMoO4 ZrSiO4 Fe4Fe3C18N18 BaMnO4 YInO3 NiTiSbO4 CoCO3""".split()
# Materials that published tests found misread by automatic identification (D.E. Newbury, Microsc. Microanal. 11 (2005) 545, abstract),
# with others whose lines lie upon each other (common practice, no source).
PROBLEMS = """ZnS KBr FeS2 TaNb Au4Cu6 AuCu9 Bi2Te3 URh PtCr GaAs GaP PbS HgS BaSO4 BaTiO3 Pb2SnO4 Bi Tl Tl2S TlCl Au Pt PtO2 Ta Ta2O5
W WO3 WSi2 WS2 UO2 U Mo MoS2 MoSi2 Bi2S3 BiOCl Ir Os Re HfO2 PbMoO4 NbTa ZrNb Y2O3 La2O3 CeO2 Nd2O3 Eu2O3 Ho2O3 RbBr SrSO4 InSb CdTe
SnO2 Sb2O3 CsI BaF2 CaF2 MnF2 FeF3 BN TiN VN CrN V2O5 Cr2O3 MnO2 Co3O4 AlAs SiC B4C Se As2S3 ThO2 ZrSiO4 YPO4 KCl AgCl CdS PdAg""".split()
SULFIDES = "MoS2 WS2 FeS2 FeS Cu2S CuFeS2 ZnS PbS CuS MoS2 WS2 CdS SnS2 FeAsS Ag2S".split()
ROCKS = """CaCO3 CaMgC2O6 SiO2 NaAlSi3O8 KAlSi3O8 CaAl2Si2O8 Mg2SiO4 Fe2O3 Ca5P3O12F MgSiO3 FeCO3 KAl3Si3O12H2 Al2Si2O9H4 CaSO4 FeTiO3
NaCl FeS2 MnCO3 Fe3O4 BaSO4 SrSO4""".split()
TRACE_HOSTS = "CaCO3 SiO2 Pb3C2H2O8 Fe2O3 TiO2 ZnO BaSO4 KAlSi3O8 Fe Cu Al PbS HgS CdS Cr2O3 SnO2 Ca5P3O13H Bi As2S3 C5H8O2 ZrSiO4 CuZn NiO".split()
TRACES = "Na Mg Al Si P S Cl K Ca Ti V Cr Mn Fe Co Ni Cu Zn As Se Br Sr Y Zr Nb Mo Ag Cd Sn Sb I Ba La Ce W Au Hg Tl Pb Bi".split()
BLANKS = [RESIN, "C", "Al", "Si", "SiO2", "C", RESIN, "SiO2"]


@dataclass(frozen=True)
class Case:
    phases: list
    beam_kev: float
    counts: int
    channels: int = 2048
    gain: float = 10.0
    thick_window: bool = False
    map_sum: bool = False


def one(weights):
    return [Phase(1.0, weights)]


def fine(r, low, high):
    """Counts, log-uniform between powers of ten."""
    return int(10 ** r.uniform(low, high))


def beam_of(r, *kev):
    return float(r.choice(kev or [10, 15, 20, 20, 25]))


def ordinary(r, phases, low=4.3, high=6, beams=(), **more):
    """Some instruments end their axis below the beam energy or have wider channels."""
    beam = beam_of(r, *beams)
    channels, gain = [(2048, 10.0), (1024, 20.0), (1024, 10.0)][r.choice(3, p=[0.7, 0.15, 0.15])]
    return Case(phases, beam, fine(r, low, high), channels, gain, **more)


def pigments(r, k):
    return ordinary(r, one(weights_of([(PIGMENTS[k % len(PIGMENTS)], 1.0), (RESIN, r.uniform(0.05, 0.5))])))


def mixtures(r, _):
    chosen = r.choice(len(PIGMENTS), r.integers(2, 5), replace=False)
    parts = [(PIGMENTS[i], math.exp(r.normal(0, 1))) for i in chosen] + [(RESIN, r.uniform(0.1, 0.6))]
    return ordinary(r, one(weights_of(parts)), beams=(5, 10, 15, 20, 20, 25))


def percent(r, **ranges):
    """Parts by mass drawn from percentages; the base takes the rest. An upper limit of 0 leaves an element out."""
    base = ranges.pop("base")
    parts = [(symbol, r.uniform(*span) / 100) for symbol, span in ranges.items()]
    return [(base, 1 - sum(p for _, p in parts))] + [(s, p) for s, p in parts if p > 0]


def alloys(r, _):
    kind = r.integers(0, 8)
    parts = [
        lambda: percent(r, base="Fe", C=(0.1, 1), Mn=(0.3, 1.6), Si=(0.1, 0.6), Cr=(0, 0.4), Cu=(0, 0.3)),
        lambda: percent(r, base="Fe", C=(0.1, 0.5), Mn=(0.5, 2), Si=(0.3, 1), Cr=(16, 20), Ni=(7, 12), Mo=(0, 3)),
        lambda: percent(r, base="Cu", Zn=(10, 40), Pb=(0, 3), Sn=(0, 1.5), Fe=(0, 0.4)),
        lambda: percent(r, base="Cu", Sn=(5, 22), Pb=(0, 8), As=(0, 1), Ni=(0, 0.5)),
        lambda: percent(r, base="Au", Ag=(2, 30), Cu=(1, 20)),
        lambda: percent(r, base="Ni", Cr=(15, 22), Co=(0, 15), Mo=(2, 9), Nb=(0, 5), Ti=(0.3, 3), Al=(0.3, 2), Fe=(0, 20)),
        lambda: percent(r, base="Al", Cu=(0, 4.5), Mg=(0.3, 3), Si=(0.2, 8), Mn=(0, 1), Zn=(0, 6)),
        lambda: percent(r, base=str(r.choice(["Pb", "Sn", "Ti", "Fe"])), Sb=(0.5, 8), V=(0, 4)),
    ][kind]()
    film = [("C", r.uniform(0.003, 0.02)), ("O", r.uniform(0.002, 0.02))]
    return ordinary(r, one(weights_of(parts + film)), 5, 6.5, (15, 20, 20, 30))


def sulfides(r, _):
    """A thick grain, or a flake on oxidised silicon whose lines add to those of the wafer beneath."""
    formula, dirt = str(r.choice(SULFIDES)), [("C", r.uniform(0.003, 0.03)), ("O", r.uniform(0.002, 0.02))]
    sulfide = weights_of([(formula, 1.0)] + dirt)
    if r.uniform() < 0.5:
        return ordinary(r, one(sulfide), 5, 6.6, (10, 15, 20, 30))
    wafer = weights_of([("Si", 1.0), ("SiO2", r.uniform(0.1, 0.6)), ("C", 0.01)])
    flake = r.uniform(0.02, 0.5)
    phases = [Phase(flake, sulfide), Phase(1 - flake, wafer, (sulfide, 10 ** r.uniform(-5, -3.6)))]
    return ordinary(r, phases, 5, 6.6, (5, 10, 15, 30))


def rocks(r, _):
    """Sums over a map of several phases, up to 10^8 counts; a thin carbon coat on all."""
    chosen = r.choice(len(ROCKS), r.integers(1, 5), replace=False)
    shares = r.dirichlet([0.7] * len(chosen))
    phases = []
    for i, share in zip(chosen, shares):
        parts = [(ROCKS[i], 1.0), ("C", r.uniform(0.005, 0.03))]
        if r.uniform() < 0.4:
            parts.append((str(r.choice(ROCKS)), r.uniform(0.005, 0.08)))
        phases.append(Phase(share, weights_of(parts)))
    return ordinary(r, phases, 5.5, 8, (10, 15, 15, 20), map_sum=True)


def glass(r, _):
    """Soda, potash, lead and barium glasses behind a beryllium window."""
    oxides = dict(Na2O=(1, 16), MgO=(0.3, 5), Al2O3=(0.5, 4), P2O5=(0, 3.5), SO3=(0, 0.3), Cl=(0, 1), K2O=(1, 12), CaO=(4, 24),
                  MnO=(0, 2.4), Fe2O3=(0.2, 1), TiO2=(0, 0.2))
    oxides.update([{}, {}, dict(PbO=(1, 30)), dict(BaO=(0.2, 8)), dict(CuO=(0.1, 3), CoO=(0, 0.3)), dict(SnO2=(0, 3), Sb2O3=(0, 2))][r.integers(0, 6)])
    weights = weights_of(percent(r, base="SiO2", **oxides))
    case = ordinary(r, one(weights), 5, 6.2, (15, 20, 20), thick_window=True)
    return Case(case.phases, case.beam_kev, case.counts, *[(750, 10.42), (1024, 20.0)][r.integers(0, 2)], True)


def problems(r, k):
    weights = weights_of([(PROBLEMS[(k // 4) % len(PROBLEMS)], 1.0), ("C", r.uniform(0.002, 0.02))])
    return Case(one(weights), [5.0, 10.0, 15.0, 20.0][k % 4], fine(r, 4.7, 6.3))


def traces(r, _):
    host, trace = str(r.choice(TRACE_HOSTS)), str(r.choice(TRACES))
    amount = 10 ** r.uniform(math.log10(0.0005), math.log10(0.02))
    weights = weights_of([(host, 1 - amount), (trace, amount), ("C", r.uniform(0.002, 0.02))])
    return ordinary(r, one(weights), 5, 6.7, (10, 15, 20, 25))


PAIRS = list(dict.fromkeys((p["element_a"], p["element_b"]) for p in table("pigments", "clashes.csv") if p["element_a"] != p["element_b"]))
PAIRS = [p for p in PAIRS if all(s in [xl.AtomicNumberToSymbol(z) for z in range(4, 93)] for s in p)]
RATIOS = list(itertools.product([1, 0.1, 10], range(len(PAIRS))))


def overlaps(r, _):
    ratio, pair = RATIOS[r.integers(0, len(RATIOS))]
    a, b = PAIRS[pair]
    weights = weights_of([(a, ratio), (b, 1.0), (RESIN, r.uniform(0.02, 0.5))])
    return ordinary(r, one(weights), 4.7, 6.3, (10, 15, 20, 20))


def weak(r, k):
    """Blanks with the counts of a good measurement, and grains with 1,000 to 30,000."""
    if k % 2 == 0:
        weights = weights_of([(BLANKS[(k // 2) % len(BLANKS)], 1.0), ("C", 0.02), ("O", 0.01)])
        return ordinary(r, one(weights), 3, 6)
    return ordinary(r, mixtures(r, k).phases, 3, 4.48)


KINDS = dict(pigments=pigments, mixtures=mixtures, alloys=alloys, sulfides=sulfides, rocks=rocks, glass=glass, problems=problems,
             traces=traces, overlaps=overlaps, weak=weak)
