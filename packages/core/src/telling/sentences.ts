import { elementName } from '../atomic/elements.ts';
import type { ElementFinding, Rival, Verdict } from '../identify/finding.ts';
import { capital, fixed, keV, listed, measured, significant } from './numerals.ts';
import type { LimnerRecord } from '../record/record.ts';

/** C below this many times its expectation counts as explained to within the noise. */
const WELL_FITTED = 1.15;
/** Above it the model, not the counting, limits (as the warning `poor-fit`). */
const POORLY_FITTED = 1.6;
/** A dispersion below this says that channels are not independent counts. */
const TOO_SMOOTH = 0.7;

/** Findings with one verdict, most counts first. */
export function findingsWith({ elements }: LimnerRecord, verdict: Verdict): ElementFinding[] {
  return elements
    .filter((finding) => finding.verdict === verdict)
    .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z);
}

/** The reading in a few sentences: what the counts require, what the mounting can bring, what is open, what nothing explains. */
export function summary(record: LimnerRecord): string {
  return [required, surroundings, openQuestions, unexplained, bestFit]
    .map((part) => part(record))
    .filter(Boolean)
    .join(' ');
}

function required(record: LimnerRecord): string {
  const findings = findingsWith(record, 'present').filter(({ origin }) => origin === 'specimen');
  if (findings.length === 0) return 'The counts require no element that only the specimen can bring.';
  return `${capital(named(findings))}: required by the counts.`;
}

function surroundings(record: LimnerRecord): string {
  const present = findingsWith(record, 'present');
  const told = (origin: ElementFinding['origin'], rest: string): string => {
    const findings = present.filter((finding) => finding.origin === origin);
    return findings.length > 0 ? `${capital(named(findings))} ${isAre(findings)} there as well, ${rest}.` : '';
  };
  return [
    told('either', 'which specimen or mounting can bring'),
    told('setting', 'in all likelihood from the mounting'),
  ]
    .filter(Boolean)
    .join(' ');
}

function openQuestions(record: LimnerRecord): string {
  const open = findingsWith(record, 'open');
  if (open.length === 0) return 'Nothing is left open.';
  return `What is open: ${listed(open.map(question))}.`;
}

/** 'antimony (or tin)'; without a rival, the element alone. */
function question({ z, rivals }: ElementFinding): string {
  const rival = rivals[0];
  return rival ? `${elementName(z)} (or ${rivalName(rival)})` : elementName(z);
}

/** Elements of a rival, and look-alikes of a material, that are named; more are counted. */
const MOST_NAMED = 3;

/** 'Tl + S', or how many elements it takes. */
export function rivalName({ name }: Rival): string {
  const parts = name.split('+');
  return parts.length > MOST_NAMED ? `${parts.length} other elements together` : parts.join('\u00a0+\u00a0');
}

function unexplained({ peaks }: LimnerRecord): string {
  const bare = peaks.filter(({ explainedBy }) => explainedBy.length === 0);
  if (bare.length === 0) return '';
  const places = listed(bare.slice(0, 4).map(({ energyEv }) => keV(energyEv)));
  const more = bare.length > 4 ? ` and ${bare.length - 4} more` : '';
  return `Nothing explains the ${bare.length === 1 ? 'peak' : 'peaks'} at ${places}${more}.`;
}

/** Best scores below this are no fit worth a sentence. */
const LEAST_SCORE = 0.4;

/** What resin, glue and oil bring by themselves: no material is named on these alone. */
const MEDIUM = new Set(['C', 'N', 'O', 'F', 'Cl']);

/** The allowed material with the best score, if that is a fit worth naming, and the names of those the same elements allow. */
export function bestFitting({
  pigments,
  elements,
}: LimnerRecord): { readonly name: string; readonly alike: readonly string[] } | null {
  const best = pigments[0];
  if (!best || best.standing !== 'allowed' || best.score < LEAST_SCORE) return null;
  if (!elements.some(({ verdict, symbol }) => verdict === 'present' && !MEDIUM.has(symbol))) return null;
  const names = new Map(pigments.map(({ id, name }) => [id, name]));
  return { name: best.name, alike: best.lookalikes.flatMap((id) => names.get(id) ?? []) };
}

function bestFit(record: LimnerRecord): string {
  const best = bestFitting(record);
  if (best === null) return '';
  const { name, alike } = best;
  const named =
    alike.length > MOST_NAMED ? [...alike.slice(0, MOST_NAMED - 1), `${alike.length - MOST_NAMED + 1} more`] : alike;
  const others = named.length > 0 ? `, which elements alone cannot tell from ${listed(named)}` : '';
  return `Best fit among the materials known here: ${name}${others}.${mixtureSentence(record)}`;
}

/** The whole grain where it takes more than one material. */
function mixtureSentence({ explanations: [grain] }: LimnerRecord): string {
  return grain === undefined || grain.parts.length < 2
    ? ''
    : ` The whole grain is best explained by ${grain.name}, or what elements cannot tell from them.`;
}

/** Why the verdict is what it is, as a sentence, with rivals of many elements counted instead of listed. */
export function reasonSentence({ reason, rivals }: ElementFinding): string {
  return `${capital(rivals.reduce((text, rival) => text.replace(rival.name, rivalName(rival)), reason))}.`;
}

/** Beam, counts and time. */
export function conditionsSentence({ conditions }: LimnerRecord): string {
  const { beamKev, totalCounts, channels, liveTimeS, mount } = conditions;
  const origin = { header: '', option: ' (as given)', estimated: ' (estimated)', default: ' (assumed)' }[
    beamKev.origin
  ];
  const time = liveTimeS === null ? '' : ` in ${Number(liveTimeS.toPrecision(3))} s live time`;
  const mounting = mount.length > 0 ? `, mounting: ${mount.join(', ')}` : '';
  return `Beam ${Number(beamKev.value.toPrecision(4))} keV${origin}, ${fixed(totalCounts, 0)} counts${time}, ${channels} channels${mounting}.`;
}

/** How far the file's energy axis was off, and the resolution. */
export function axisSentence({ axis }: LimnerRecord): string {
  const { offsetEv, gainEv, correlation, header, rangeEv, fwhmMnEv, shared } = axis;
  const shifts = [2000, 10_000]
    .filter((energyEv) => energyEv > rangeEv[0] && energyEv < rangeEv[1])
    .map((energyEv) => {
      const channel = (energyEv - offsetEv.value) / gainEv.value;
      const turned = channel * gainEv.sigma;
      const variance = offsetEv.sigma ** 2 + 2 * correlation * offsetEv.sigma * turned + turned ** 2;
      const sigma = Math.sqrt(Math.max(0, variance));
      const shift = energyEv - (header.offsetEv + header.gainEv * channel);
      return `${measured({ value: shift, sigma: Math.max(sigma, 0.05) })} eV at ${energyEv / 1000} keV`;
    });
  const moved = shifts.length > 0 ? `Against the file, the energy axis is moved by ${listed(shifts)}. ` : '';
  const told = shared ? ` Axis and resolution rest also on ${shared.spectra} other spectra of the session.` : '';
  return `${moved}Resolution ${measured(fwhmMnEv)} eV (FWHM at 5.9 keV).${told}`;
}

/** Fit quality in plain words. */
export function fitSentence({ fit }: LimnerRecord): string {
  const ratio = fit.c / fit.expected;
  const noise = fit.c - fit.expected < 3 * Math.sqrt(fit.variance) || ratio < WELL_FITTED;
  const figures = `misfit ${significant(ratio, 3)} times what counting alone gives`;
  const quality = noise
    ? `The model explains the counts to within their noise (${figures}).`
    : ratio < POORLY_FITTED
      ? `The model explains the counts nearly to within their noise (${figures}).`
      : `The model leaves more than counting noise (${figures}): weak elements deserve doubt.`;
  const smooth =
    fit.dispersion < TOO_SMOOTH
      ? ' The counts scatter less than counting allows: the channels were averaged or re-binned before they were written.'
      : '';
  return quality + smooth;
}

const named = (findings: readonly ElementFinding[]): string => listed(findings.map(({ z }) => elementName(z)));
const isAre = (findings: readonly unknown[]): string => (findings.length === 1 ? 'is' : 'are');
