import { describe, expect, it } from 'vitest';
import { finding, invented, pigment } from '../../../../tests/fixtures/record.ts';
import { axisSentence, conditionsSentence, fitSentence, summary } from './sentences.ts';
import { readingText } from './text.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('the sentences', () => {
  it('say first what is required, what surrounds, what is open, what nothing explains, what fits', () => {
    expect(plain(summary(invented()))).toBe(
      'Lead and tin: required by the counts. Oxygen is there as well, which specimen or mounting can bring. ' +
        'What is open: antimony (or Sn). Nothing explains the peak at 5.412 keV. ' +
        'Best fit among the materials known here: Lead-tin yellow, type I, which elements alone cannot tell from Tin oxide white.',
    );
  });

  it('claim nothing when the counts require nothing', () => {
    const text = summary(invented({ elements: [], peaks: [], pigments: [] }));
    expect(text).toBe('The counts require no element that only the specimen can bring. Nothing is left open.');
  });

  it('say where the beam energy comes from unless the file gave it', () => {
    const { conditions } = invented();
    expect(plain(conditionsSentence(invented()))).toBe('Beam 20 keV, 412 345 counts in 60 s live time, 2048 channels.');
    const assumed = invented({
      conditions: { ...conditions, beamKev: { value: 15, origin: 'default' }, liveTimeS: null },
    });
    expect(plain(conditionsSentence(assumed))).toBe('Beam 15 keV (assumed), 412 345 counts, 2048 channels.');
  });

  it('give the shift of the axis where the lines are', () => {
    // Channel of 2000 eV on the settled axis: (2000 + 3.2) / 10.004 = 200.24; the header puts it at 2002.4 eV.
    expect(plain(axisSentence(invented()))).toMatch(/moved by -2\.4 ± 0\.6 eV at 2 keV and 0\.8 ± 0\.6 eV at 10 keV/);
  });

  it('tell a good fit from a poor one, and smoothed counts from counted ones', () => {
    const { fit } = invented();
    expect(fitSentence(invented())).toMatch(/to within their noise/);
    expect(fitSentence(invented({ fit: { ...fit, c: 4000 } }))).toMatch(/leaves more than counting noise/);
    expect(fitSentence(invented({ fit: { ...fit, dispersion: 0.4 } }))).toMatch(/averaged or re-binned/);
  });
});

describe('the reading', () => {
  const text = readingText(invented());

  it('opens with the name and the sentences, and ends with a line break', () => {
    expect(text.split('\n').slice(0, 3)).toEqual([
      'grain-07.msa: Invented grain 7',
      '',
      expect.stringMatching(/^Lead and tin: required by the counts\./),
    ]);
    expect(text.endsWith('\n')).toBe(true);
  });

  it('stays within 100 columns of printable characters', () => {
    for (const line of text.split('\n')) {
      expect(line.length).toBeLessThanOrEqual(100);
      expect(line).toMatch(/^[\u0020-\u007e±]*$/);
    }
  });

  it('gives counts and mass fraction with the digits that their uncertainty bears', () => {
    expect(text).toMatch(/Sn +tin +present +> 99\.9 % +41 200 ± 400 +17\.8 ± 1\.2/);
    expect(text).toMatch(/Pb +lead +present +> 99\.9 % +80 800 ± 600 +61 ± 4/);
  });

  it('names rivals and what settles them', () => {
    expect(text).toMatch(/Settled by Sn L3-M5, 3\.444 keV: 21 020 ± 190 counts above the rest; 20 900 expected/);
  });

  it('gives limits of what is not seen, and names what cannot be told', () => {
    expect(text).toMatch(/Not seen, with the least mass fraction that would show: S < 0\.24 %, Fe < 0\.24 %/);
    expect(text).toMatch(/This spectrum cannot tell: Hg\./);
  });

  it('groups what the same elements allow, and says what is ruled out and why', () => {
    expect(text).toMatch(/Elements alone cannot tell it from Tin oxide white\. What can: Raman microscopy\./);
    expect(text).not.toMatch(/^ {2}Tin oxide white/m);
    expect(text).toMatch(/Naples yellow: Sb is not seen \(below 0\.2 %\)/);
  });

  it('answers claims only where some were made', () => {
    expect(text).not.toMatch(/Asked of the spectrum/);
    const asked = readingText(
      invented({ claims: [{ symbol: 'Sb', answer: 'not-needed', reason: 'Sb is possible but not required.' }] }),
    );
    expect(asked).toMatch(/Asked of the spectrum\n {2}Sb: not needed\. Sb is possible but not required\./);
  });

  it('abridges rivals that take many elements', () => {
    const name = 'B+N+Al+S+K';
    const many = finding('O', 8, 500, {
      reason: `the best rival, ${name}, is worse`,
      rivals: [{ kind: 'element', name, deltaC: 60, settling: [] }],
    });
    expect(readingText(invented({ elements: [many] }))).toMatch(
      /The best rival, 5 other elements together, is\s+worse\./,
    );
  });

  it('lets no file steer the terminal', () => {
    const title = 'x\u001b[2Jy';
    const hostile = readingText(
      invented({ source: { name: 'a\u0007b', sha256: '', title }, warnings: [{ code: 'x', text: title }] }),
    );
    // eslint-disable-next-line no-control-regex
    expect(hostile).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
  });

  it('says so when no material is allowed', () => {
    const none = readingText(invented({ pigments: [pigment('a', 'A', { standing: 'ruled-out' })] }));
    expect(none).toMatch(/none of the materials known here/);
  });
});
