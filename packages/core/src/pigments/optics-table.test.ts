import { describe, expect, it } from 'vitest';
import { faultText } from './material-table.ts';
import { againstMountant, OPTICS_COLUMNS, OPTICS_PROPERTIES, opticsIn } from './optics-table.ts';
import { MICROCHEMICAL_OUTCOMES } from './optics-words.ts';

const RULES = { materials: new Set(['azurite', 'smalt']), sources: new Set(['GS', 'MEM']) };
const GOOD = ['azurite', 'colour', 'blue; green', 'GS;MEM', 'medium', ''];

const checked = (...rows: readonly (readonly string[])[]) =>
  opticsIn(
    OPTICS_COLUMNS,
    rows.map((cells, at) => ({ line: at + 2, cells })),
    RULES,
  );
const told = (...rows: readonly (readonly string[])[]) =>
  checked(...rows).faults.map((fault) => faultText('optics.csv', fault));
const cell = (property: string, value: string) => ['azurite', property, value, 'MEM', 'low', ''];

describe('a table of optics', () => {
  it('is read by material and property', () => {
    const { optics, faults } = checked(
      GOOD,
      cell('size_um', '1 to 80'),
      cell('refractive_index', '1.730 to 1.838'),
      cell('raman_cm1', '250; 403*; 1098'),
      ['smalt', 'isotropy', 'isotropic', 'MEM', 'low', 'dark between crossed polars'],
    );
    expect(faults).toEqual([]);
    expect(optics.get('azurite')).toEqual({
      colour: { value: ['blue', 'green'], source: ['GS', 'MEM'], trust: 'medium', note: '' },
      size_um: { value: { low: 1, high: 80 }, source: ['MEM'], trust: 'low', note: '' },
      refractive_index: { value: { low: 1.73, high: 1.838 }, source: ['MEM'], trust: 'low', note: '' },
      raman_cm1: {
        value: [
          { cm1: 250, strongest: false },
          { cm1: 403, strongest: true },
          { cm1: 1098, strongest: false },
        ],
        source: ['MEM'],
        trust: 'low',
        note: '',
      },
    });
    expect(optics.get('smalt')?.isotropy?.note).toBe('dark between crossed polars');
    expect(optics.get('lead-white')).toBeUndefined();
  });

  it.each<[string, readonly string[], string]>([
    ['material', ['azurit', ...GOOD.slice(1)], "column material: 'azurit' is not an id in materials.csv"],
    ['property', cell('hue', 'blue'), "column property: 'hue' is not one of colour, opacity, size_um"],
    ['word', cell('colour', 'turquoise'), "column value: 'turquoise' is not one of colourless, white"],
    ['word twice', cell('uv', 'red; red'), "column value: 'red' is there twice"],
    ['range', cell('size_um', '5'), "column value: '5' is not a range; write it like 0.5 to 20"],
    ['range downwards', cell('size_um', '20 to 5'), "column value: '20 to 5' runs downwards"],
    ['index', cell('refractive_index', '173 to 184'), "column value: '173 to 184' is not within 1.2 to 4"],
    ['band', cell('raman_cm1', '403 cm-1'), "column value: '403 cm-1' is not a band"],
    ['order of bands', cell('raman_cm1', '403; 250'), 'column value: 250 follows a higher band'],
    ['unit of bands', cell('infrared_cm1', '7'), 'column value: 7 is not within 400 to 4000 cm-1'],
    ['outcome', cell('microchemistry', 'HNO3-fizz'), "column value: 'HNO3-fizz' is not one of HNO3-gas"],
    ['phase', cell('diffraction', 'Azurite 3.52'), "column value: 'Azurite 3.52' is not the name of a phase"],
    ['empty value', cell('colour', ''), 'column value: it is empty; leave the whole row out'],
    ['source', [...GOOD.slice(0, 3), 'XX', 'low', ''], "column source: 'XX' is not a key in sources.csv"],
    ['no source', [...GOOD.slice(0, 3), '', 'low', ''], 'column source: it is empty; name a key'],
    ['trust', [...GOOD.slice(0, 4), 'none', ''], "column trust: 'none' is not one of high, medium, low"],
    ['cells', GOOD.slice(0, 4), '4 cells under 6 columns'],
  ])('tells a fault of %s by row and column', (_, row, expected) => {
    const { optics, faults } = checked(row);
    expect(optics.size).toBe(0);
    expect(faults).toHaveLength(1);
    expect(faultText('optics.csv', faults[0])).toContain('optics.csv, line 2 (azurit');
    expect(faultText('optics.csv', faults[0])).toContain(expected);
  });

  it('tells a property that stands there twice, and a wrong heading', () => {
    expect(told(GOOD, GOOD)).toEqual([
      'optics.csv, line 3 (azurite), column property: colour of azurite is there already; keep one of them',
    ]);
    expect(opticsIn(['id', 'value'], []).faults[0].text).toBe(`the columns must be ${OPTICS_COLUMNS.join(', ')}`);
  });
});

describe('closed lists', () => {
  it('name every property and outcome once', () => {
    expect(OPTICS_PROPERTIES).toHaveLength(13);
    expect(new Set(MICROCHEMICAL_OUTCOMES).size).toBe(MICROCHEMICAL_OUTCOMES.length);
    for (const outcome of MICROCHEMICAL_OUTCOMES) expect(outcome).toMatch(/^[A-Za-z0-9]+(-[A-Za-z0-9]+)+$/);
  });
});

describe('refraction against the mountant', () => {
  it.each([
    [1.49, 1.52, 'lower'],
    [1.73, 1.838, 'higher'],
    [1.486, 1.68, 'both'],
    [1.655, 1.909, 'both'],
    [1.655, 1.665, 'same'],
    [1.62, 1.65, 'lower'],
  ] as const)('%f to %f in 1.66: %s', (low, high, side) => {
    expect(againstMountant({ low, high })).toBe(side);
  });

  it('follows another mountant', () => {
    expect(againstMountant({ low: 1.544, high: 1.553 }, 1.52)).toBe('higher');
  });
});
