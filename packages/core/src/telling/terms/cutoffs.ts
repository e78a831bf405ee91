// What a reading tells and what it leaves to the record: every cut-off of the telling, with its reason. All are judgements of
// readability unless a source is given; none changes what the record holds.

/** C below this many times its expectation counts as explained to within the noise: above it a careful eye sees the misfit. */
export const WELL_FITTED = 1.15;
/** Misfit that counting alone would exceed once in some 700 spectra, in standard deviations: no sign of a poor model below it. */
export const MISFIT_SIGMAS = 3;
/** C above this many times its expectation: the model, not the counting, limits, and weak elements deserve doubt. */
export { POOR_MISFIT as POORLY_FITTED } from '../../fit/quality.ts';
/** Dispersion below this: channels are not independent counts; they were averaged or re-binned. */
export const TOO_SMOOTH = 0.7;
/** Energies at which the shift of the axis is told, eV: amid the soft lines and amid the L lines of lead and mercury. */
export const SHIFT_AT_EV = [2000, 10_000] as const;

/** Smallest standard uncertainty told of that shift, eV: no axis is known better. */
export const LEAST_SHIFT_SIGMA_EV = 0.05;

/** Elements of a rival that are named. More are no explanation anyone would put forward: they are counted, their lines left out. */
export const MOST_IN_RIVAL = 3;
/** Correlation of two amounts from which their overlap is worth a sentence: half of either variance is shared with others. */
export const ENTANGLED = 0.5;
/** Lines nearer than this make one peak: half of the best resolution of a silicon detector there, eV. */
export const ONE_PEAK_EV = 50;
/** Settling lines told per rival: beyond the third they add nothing. */
export const MOST_SETTLING = 3;
/** Settling lines told of a question on the first screen. */
export const SETTLING_IN_BRIEF = 1;

/** Peaks without an explanation that the answer names. */
export const MOST_BARE_PEAKS = 4;
/** Nearest lines told per peak: a longer list says no more. */
export const NEAREST_LINES = 4;
/** Smallest standard uncertainty told of a peak's energy, eV: the axis itself is hardly known better. */
export const LEAST_PEAK_SIGMA_EV = 1;

/** A material this much less likely than another in its place is not named beside it. */
export const AS_LIKELY = 0.4;
/** Materials of one family that a headline names. */
export const MOST_OF_FAMILY = 3;
/** Best explanations with less weight than this do not stand out: others together weigh more. */
export const LEAST_SCORE = 0.4;
/** Another explanation is named beside the best if it weighs no less than this part of it. */
export const WORTH_NAMING = 0.35;
/** Explanations named in the answer, and elements that the best one leaves over. */
export const MOST_GRAINS = 3;
export const MOST_OVER = 4;
/** Weight from which the best explanation needs no figure: the others together are one in ten. */
export const CLEAR = 0.9;
/** What resin, glue and oil bring by themselves: no material is named on these alone. */
export const MEDIUM: ReadonlySet<string> = new Set(['C', 'N', 'O', 'F', 'Cl']);
/** Allowed materials below this part of the best score are folded: the best explanation is three times as likely. */
export const LEAST_OF_BEST = 0.35;
/** Candidates told on the first screen, and in full. */
export const MOST_CANDIDATES = { brief: 3, full: 6 } as const;
/** Look-alikes named in a sentence, and under a material. */
export const MOST_ALIKE = { brief: 2, full: 5 } as const;
/** Ratios told, best material first. */
export const MOST_RATIOS = 6;
/** Materials named beside a ratio. */
export const MOST_IN_RATIO = 2;
/** Candidates whose brightness is told, and those that an image speaks against. */
export const MOST_BRIGHTNESS = { candidates: 3, contradicted: 4 } as const;

/** Elements told on the first screen, and in full, that could hide under another; more are a list, not a warning. */
export const MOST_HIDDEN = { brief: 2, full: 4 } as const;
/** Limits below this mass fraction hide no material that a painter would have put in: what is left are traces and impurities. */
export const LEAST_HIDDEN = 0.01;
/** Not put there by a painter: what only such materials require is not asked after. */
export const NOT_PAINT: ReadonlySet<string> = new Set(['alteration', 'contaminant']);

/** Arguments on an earliest date before this year say little: most materials of paint were always to be had. */
export const DATING_FROM = 1200;
/** Dating arguments told: the latest years come first, older ones add nothing to them. */
export const MOST_DATES = 3;

/** Telling lines named per proposed measurement. */
export const MOST_TELLING = 2;
/** Rows of the tables of a clash in the short reading. */
export const MOST_CLASH_ROWS = 12;
/** Lines with less of their subshell's photons are folded: hardly any spectrum shows them. */
export const FAINTEST = 0.01;
/** Elements whose prior asks at least this chi-square are folded near an energy: rarely met in paint (identify/candidates.ts). */
export const RARE_FROM = 15;

/** Parts of a composition told: below a twentieth of a percent by mass nothing is worth a word. */
export const LEAST_FRACTION = 0.0005;
/** Elements whose recorded depth is told: main parts only, and no more than six. */
export const DEPTH_OF = { leastFraction: 0.01, most: 6 } as const;

/** Share of a channel's fit from which a part is told at that place of the figure: less is lost in the noise of what carries the rest. */
export const FIGURE_SHARE = 0.1;
/** Lines named at a place of the figure: more are a list, not a hint; of elements that are not in the fit, only those of a tenth of their shell. */
export const MOST_CURSOR_LINES = 6;
export const LEAST_CURSOR_LINE = 0.1;

/** Words or bands told of what a technique shows of a material. */
export const MOST_SHOWN = 2;
/** Next steps of a plan on the first screen. */
export const MOST_STEPS = 5;
/** Next steps of a sample that a report tells: with its drawing and its grains they fill a sheet of paper. */
export const MOST_SAMPLE_STEPS = 6;

/** Spectra unlike any other that a report names; a table has all. */
export const MOST_OUTLIERS = 100;
/** Points of a map that are drawn, the first ones: as many as a browser draws with ease. */
export const MOST_MAP_POINTS = 3000;
