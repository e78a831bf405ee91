import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';

/** An invented lead-tin yellow of the demonstration session, in which nothing is open. */
const YELLOW = fileURLToPath(new URL('../data/demo/P1-L3-g03.msa', import.meta.url));

const spectrum = async (...parts: string[]): Promise<string> => {
  const { code, stdout, stderr } = await limner(['simulate', ...parts]);
  expect(code, stderr).toBe(0);
  return stdout;
};

describe('limner plan', () => {
  it('names a measurement for what a spectrum leaves open, with cautions', async () => {
    const stdin = await spectrum('Bi=80', 'PbS=20', '--beam', '12', '--counts', '20000', '--seed', '3');
    const { code, stdout, stderr } = await limner(['plan', '-', '--grain', '3@8'], { stdin });
    expect(code, stderr).toBe(0);
    expect(stdout).toMatch(/Measure at \d+ keV with [\d\u00a0 ]+ counts/);
    expect(stdout).toMatch(/The beam (stays in|leaves) the grain/);
    expect(stdout).toMatch(/local rules come/);
  });

  it('says when nothing is open, and gives the same as JSON', async () => {
    const { stdout } = await limner(['plan', YELLOW]);
    expect(stdout).toMatch(/Nothing is open; no further\s+measurement is\s+proposed/);
    const json = JSON.parse((await limner(['plan', YELLOW, '--json'])).stdout) as { questions: unknown[] };
    expect(json.questions).toEqual([]);
  });

  it.each([
    ['3', 'give diameter in µm and density in g/cm3, like 3@8.1'],
    ['3@', 'g/cm3'],
    ['0@8', 'µm'],
    ['3@8@1', 'like 3@8.1'],
  ])('refuses --grain %s as wrong usage', async (grain, complaint) => {
    const { code, stderr } = await limner(['plan', '-', '--grain', grain], { stdin: '' });
    expect(code).toBe(2);
    expect(stderr).toContain(complaint);
  });

  it('exits with 3 where nothing could be read', async () => {
    const { code, stdout, stderr } = await limner(['plan', '-'], { stdin: 'nothing' });
    expect(code).toBe(3);
    expect(stdout).toBe('');
    expect(stderr.trim().split('\n')).toHaveLength(1);
  });
});
