// Deliberate defects, one a row: what a maintainer might break unseen. `npm run mutate` makes each and runs the tests nearest to it.
const IDENTIFY = 'packages/core/src/identify';
const FIT = 'packages/core/src/fit';
const RESULTS = 'packages/session/src/results';

const near = (folder, ...names) => names.map((name) => `${folder}/${name}.test.ts`);
const defect = (name, file, from, to, tests) => ({ name, file, from, to, tests });

const inThresholds = (name, from, to) =>
  defect(name, `${IDENTIFY}/thresholds.ts`, from, to, near(IDENTIFY, 'thresholds', 'probabilities'));
const inFindings = (name, from, to) => defect(name, `${IDENTIFY}/findings.ts`, from, to, near(IDENTIFY, 'findings'));
const inDoubt = (name, from, to) => defect(name, `${IDENTIFY}/doubt.ts`, from, to, near(IDENTIFY, 'findings'));
const inQuality = (name, from, to) => defect(name, `${FIT}/quality.ts`, from, to, near(FIT, 'quality'));
const inOutput = (name, from, to) => defect(name, `${RESULTS}/output.ts`, from, to, near(RESULTS, 'output'));

export const DEFECTS = [
  inThresholds(
    'an ordinary element must show 9, not 36',
    'ORDINARY: Threshold = { deltaC: 36',
    'ORDINARY: Threshold = { deltaC: 9',
  ),
  inThresholds(
    'a lone soft line needs a margin of 5, not 20',
    'LONE_SOFT: Threshold = { deltaC: 36, margin: 20',
    'LONE_SOFT: Threshold = { deltaC: 36, margin: 5',
  ),
  inThresholds('probabilities rise four times as fast', 'centre: -5, scale: 7', 'centre: -5, scale: 1.5'),
  inThresholds('rare elements are ordinary', 'RARE_FROM = 15', 'RARE_FROM = 150'),
  inThresholds('soft families are ordinary', 'SOFT_SHARE = 0.8;', 'SOFT_SHARE = 1.8;'),
  inThresholds('chance reaches nothing', 'BY_CHANCE = 14', 'BY_CHANCE = 0'),
  inDoubt('a rival that fits as well is no doubt', 'if (margin < threshold.margin)', 'if (margin < -1e9)'),
  inFindings('blind only above 90 % by mass', 'BLIND_FRACTION = 0.4', 'BLIND_FRACTION = 0.9'),
  inFindings(
    'a misfit takes nothing from the evidence',
    'Math.max(1, misfit.c / misfit.expected)',
    'Math.max(1, 0 * misfit.c)',
  ),
  inDoubt('a faint amount is no doubt', 'amount < LEAST_SIGMAS * sigma', 'amount < 0 * sigma'),
  inDoubt('an axis in doubt is no doubt', "axisStanding === 'doubtful'", "String(axisStanding) === 'never'"),
  defect(
    'Currie’s 3.29 is 2.29',
    `${IDENTIFY}/limits.ts`,
    'FOUND_IN_95 = 1.645',
    'FOUND_IN_95 = 0.645',
    near(IDENTIFY, 'limits'),
  ),
  defect(
    'the continuum may end 50 % beyond its last counts',
    'packages/core/src/peaks/beam-energy.ts',
    'edge * 1.15',
    'edge * 1.5',
    near('packages/core/src/peaks', 'beam-energy'),
  ),
  inQuality('a local misfit widens nothing', 'Math.sqrt(Math.max(1, (found', 'Math.sqrt(Math.max(1, 0 * (found'),
  inQuality('chance is taken for a misfit', 'BY_CHANCE = 2;', 'BY_CHANCE = 0;'),
  inOutput(
    'the manifest comes first',
    'for (const name of names) await rename',
    'for (const name of [...names].reverse()) await rename',
  ),
  inOutput(
    'an old manifest vouches for new files',
    'await rm(join(this.#folder, names.at(-1)!), { force: true });',
    '',
  ),
  inOutput(
    'files of others are replaced',
    'if (!(await isOurs(begins)) &&',
    'if (path === "" && !(await isOurs(begins)) &&',
  ),
];
