import { describe, expect, it } from 'vitest';
import { faultText, MATERIAL_COLUMNS, materialsIn, NEEDED_COLUMNS } from './material-table.ts';

const GOOD: Readonly<Record<string, string>> = {
  id: 'own-blue',
  name: 'Own blue',
  class: 'pigment',
  composition: 'CoO 40 + SiO2 60',
  required: 'Co Si',
  composition_source: 'own measurement',
};

/** What the check says of one row with these cells changed or added. */
function checked(changed: Readonly<Record<string, string>>, more: readonly Readonly<Record<string, string>>[] = []) {
  const rows = [{ ...GOOD, ...changed }, ...more.map((cells) => ({ ...GOOD, ...changed, ...cells }))];
  const heading = Object.keys(rows[0]);
  const cells = rows.map((row) => heading.map((name) => (row as Record<string, string>)[name] ?? ''));
  return materialsIn(
    heading,
    cells.map((row, at) => ({ line: at + 2, cells: row })),
  );
}

describe('an own entry', () => {
  it('needs six columns; the others have values that promise little', () => {
    expect(NEEDED_COLUMNS).toEqual(Object.keys(GOOD));
    const { entries, faults } = checked({});
    expect(faults).toEqual([]);
    expect(entries).toEqual([
      {
        id: 'own-blue',
        name: 'Own blue',
        otherNames: [],
        class: 'pigment',
        hue: 'not stated',
        composition: [
          { formula: 'CoO', massFraction: 0.4 },
          { formula: 'SiO2', massFraction: 0.6 },
        ],
        spread: 0.1,
        required: ['Co', 'Si'],
        companions: [],
        against: [],
        usualness: 'occasional',
        earliest: null,
        firstPainting: null,
        latest: null,
        datesTrust: 'none',
        datesSource: [],
        compositionTrust: 'low',
        compositionSource: ['own measurement'],
        followUp: '',
        hazard: 'not stated: handle as toxic',
        note: '',
      },
    ]);
  });

  it('takes years before the common era, lists and ratios', () => {
    const years = { earliest: '-300', first_painting: '550', latest: '1900' };
    const dates = { ...years, dates_trust: 'low', dates_source: 'own archive' };
    const [entry] = checked({ ...dates, other_names: 'a; b', against: 'K/Si>0.3 reads as smalt' }).entries;
    expect(entry).toMatchObject({ earliest: -300, firstPainting: 550, latest: 1900, otherNames: ['a', 'b'] });
    expect(entry.against).toEqual([{ element: 'K', per: 'Si', above: 0.3, reason: 'reads as smalt' }]);
  });
});

const DATED = { earliest: '1700', latest: '', dates_trust: 'low', dates_source: 'own archive' };

describe('a fault', () => {
  it.each<[string, Readonly<Record<string, string>>, string]>([
    ['formula', { composition: 'CoQ2' }, "column composition: The formula 'CoQ2' cannot be read: 'Q'"],
    ['element', { composition: 'XxO2' }, "column composition: The formula 'XxO2' cannot be read: 'Xx'"],
    ['percentages', { composition: 'CoO 40 + SiO2 50' }, 'column composition: the percentages add up to 90'],
    ['percentage', { composition: 'CoO 40 + SiO2' }, "column composition: 'SiO2' is not a formula with a percentage"],
    ['symbol', { required: 'Co Xx' }, "column required: 'Xx' is not an element symbol"],
    ['not in the composition', { required: 'Co Pb' }, 'column required: Pb is not in the composition'],
    ['twice', { companions: 'K Co' }, 'column companions: Co is required already'],
    ['ratio', { against: 'much K' }, "column against: 'much K' is not a ratio"],
    ['ratio to what is not required', { against: 'K/Al>1 clay' }, 'column against: K/Al: Al is not required'],
    ['ratio against itself', { against: 'Si/Co>1 quartz' }, 'column against: its own composition has Si/Co above 1'],
    ['year', { ...DATED, earliest: 'c. 1700' }, "column earliest: 'c. 1700' is not a year"],
    ['fraction of a year', { ...DATED, earliest: '1700.5' }, "column earliest: '1700.5' is not a year"],
    ['order', { ...DATED, latest: '1650' }, 'column latest: 1650 is not after 1700'],
    [
      'painting without first use',
      { first_painting: '1700' },
      'column first_painting: 1700 is given without a first use',
    ],
    [
      'painting before first use',
      { ...DATED, first_painting: '1650' },
      'column first_painting: 1650 is before the first',
    ],
    [
      'painting after last use',
      { ...DATED, first_painting: '1900', latest: '1850' },
      'column first_painting: 1900 is not before the last use of 1850',
    ],
    ['date without trust', { ...DATED, dates_trust: '' }, 'column dates_trust: there are dates'],
    ['date without source', { ...DATED, dates_source: '' }, 'column dates_source: there are dates but no source'],
    [
      'source without date',
      { ...DATED, earliest: '', dates_trust: '' },
      'column dates_source: a source is given without a date',
    ],
    ['class', { class: 'paint' }, "column class: 'paint' is not one of pigment, lake"],
    ['usualness', { usualness: 'often' }, "column usualness: 'often' is not one of common, occasional, rare"],
    ['spread', { spread: '20 %' }, "column spread: '20 %' is not a spread"],
    ['empty', { composition_source: '' }, 'column composition_source: it is empty'],
    ['id', { id: 'Own Blue' }, "(Own Blue), column id: 'Own Blue' is not an id"],
  ])('%s is told with its row and column', (_, changed, expected) => {
    const { entries, faults } = checked(changed);
    const [told, ...more] = faults.map((fault) => faultText('mine.csv', fault));
    expect(more).toEqual([]);
    expect(told).toContain('mine.csv, line 2 (');
    expect(told).toContain(expected);
    expect(entries).toEqual([]);
  });

  it('in each of several rows is told in their order', () => {
    const { faults } = checked({}, [{}, { id: 'other', required: 'Pb' }]);
    expect(faults.map((fault) => faultText('mine.csv', fault))).toEqual([
      'mine.csv, line 3 (own-blue), column id: line 2 has it already; keep one of them',
      'mine.csv, line 4 (other), column required: Pb is not in the composition; add it there or drop it here',
    ]);
  });

  it('of the heading names the columns that there are', () => {
    const row = { line: 2, cells: [] };
    const [unknown, missing] = materialsIn(['id', 'colour'], [row]).faults.map((fault) => faultText('mine.csv', fault));
    expect(unknown).toBe(
      `mine.csv, line 1: there is no column 'colour'; the columns are ${MATERIAL_COLUMNS.join(', ')}`,
    );
    expect(missing).toContain('the heading lacks name, class, composition, required, composition_source');
  });

  it('of the shape of the table', () => {
    const heading = Object.keys(GOOD);
    expect(materialsIn(heading, []).faults[0].text).toContain('no entry below the heading');
    expect(materialsIn(heading, [{ line: 2, cells: ['own-blue', 'x'] }]).faults[0].text).toContain(
      '2 cells under 6 columns',
    );
  });

  it('of completeness and of unknown sources counts where all must be there', () => {
    const heading = MATERIAL_COLUMNS.map(String);
    const cells = heading.map((name) => GOOD[name] ?? '');
    const rules = { complete: true, sources: new Set(['A']) };
    const faults = materialsIn(heading, [{ line: 2, cells }], rules).faults.map(({ column }) => column);
    expect(faults).toEqual(['hue', 'spread', 'usualness', 'dates_trust', 'composition_trust', 'follow_up', 'hazard']);
    const filled = {
      ...GOOD,
      hue: 'blue',
      spread: '0',
      usualness: 'rare',
      dates_trust: 'none',
      composition_trust: 'low',
    };
    const whole: Record<string, string> = { ...filled, follow_up: 'R', hazard: 'none' };
    const row = { line: 2, cells: heading.map((name) => whole[name] ?? '') };
    expect(materialsIn(heading, [row], rules).faults.map(({ text }) => text)).toEqual([
      "'own measurement' is not a key in sources.csv; add it there or correct it",
    ]);
  });
});
