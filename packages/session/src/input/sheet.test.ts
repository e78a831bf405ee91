import { describe, expect, it } from 'vitest';
import { sheetText } from './sheet-text.ts';
import { Sheet, SheetError } from './sheet.ts';
import { sheetTemplate } from './template.ts';

const faultsOf = (text: string): string[] => {
  try {
    new Sheet(text);
    return [];
  } catch (error) {
    return error instanceof SheetError ? error.message.split('\n') : [String(error)];
  }
};

describe('the sample sheet', () => {
  it('places files by name or else by the first pattern that fits, columns in any order', () => {
    const sheet = new Sheet(
      '\uFEFFLayer,file,sample,note\r\n2,a.msa,P1,"blue, coarse"\r\n3,P1-*.msa,P1,\r\n1,?-*.msa,P2,\r\n,blank.msa,P2,\r\n',
    );
    expect(sheet.placeOf('a.msa')).toMatchObject({ sample: 'P1', layer: 2, note: 'blue, coarse', particle: '' });
    expect(sheet.placeOf('P1-7.msa')).toMatchObject({ sample: 'P1', layer: 3 });
    expect(sheet.placeOf('Q-7.msa')).toMatchObject({ sample: 'P2', layer: 1 });
    expect(sheet.placeOf('blank.msa')).toMatchObject({ sample: 'P2', layer: null });
    expect(sheet.placeOf('deep/P1-7.msa')).toBeNull();
    expect(sheet.unused(['a.msa', 'P1-1.msa'])).toEqual([
      "samples.csv, line 4: no spectrum matches '?-*.msa'",
      "samples.csv, line 5: no spectrum matches 'blank.msa'",
    ]);
  });

  it('says what else was seen of a grain', () => {
    const sheet = new Sheet(
      'file,sample,layer,colour,raman_cm1,uv\na.msa,P,1,blue; white,403+1098,not-looked\nb.msa,P,1,,,\nP-*,P,2,green,,\n',
    );
    expect(sheet.placeOf('a.msa')!.seen).toEqual({ colour: ['blue', 'white'], raman_cm1: [403, 1098] });
    expect(sheet.placeOf('b.msa')!.seen).toBeNull();
    expect(sheet.placeOf('P-2')!.seen).toEqual({ colour: ['green'] });
    expect(faultsOf('file,sample,layer,colour\na.msa,P,1,bleu\n')).toEqual([
      expect.stringMatching(/line 2: colour: 'bleu' is not one of colourless, white/),
    ]);
  });

  it('states beam, axis and mounting of a spectrum', () => {
    const sheet = new Sheet(
      'file;sample;layer;beam_kev;gain_ev;offset_ev;mount\na.msa;P;1;12,5;10;-96;resin+carbon-stub\nb.msa;P;1;;20;;\nc.msa;P;1;;;;\n',
    );
    expect(sheet.placeOf('a.msa')!.stated).toEqual({
      beamKev: 12.5,
      axis: { gainEv: 10, offsetEv: -96 },
      mount: ['resin', 'carbon-stub'],
    });
    expect(sheet.placeOf('b.msa')!.stated).toEqual({ axis: { gainEv: 20, offsetEv: 0 } });
    expect(sheet.placeOf('c.msa')!.stated).toBeNull();
    const heading = 'file,sample,layer,beam_kev,gain_ev,offset_ev,mount\n';
    expect(faultsOf(`${heading}a,P,1,-3,,,\nb,P,1,,,5,\nc,P,1,,,,glue\n`)).toEqual([
      expect.stringMatching(/line 2: beam_kev '-3': give a number above 0, like 20/),
      expect.stringMatching(/line 3: offset_ev needs gain_ev/),
      expect.stringMatching(/line 4: mount 'glue': not a known mounting/),
    ]);
  });

  it('names the line of every fault', () => {
    expect(
      faultsOf('file,sample,layer\na.msa,S,1\n,S,1\nb.msa,,1\nc.msa,S,0\nd.msa,S,top\na.msa,S,2\ne.msa,S,1,x\n'),
    ).toEqual([
      expect.stringMatching(/line 3: the file is missing/),
      expect.stringMatching(/line 4: 'b\.msa' has no sample/),
      expect.stringMatching(/line 5: layer '0': layers are numbered from the ground up/),
      expect.stringMatching(/line 6: layer 'top'/),
      expect.stringMatching(/line 8: 4 cells under 3 columns/),
      expect.stringMatching(/line 7: 'a\.msa' is already in line 2/),
    ]);
    expect(faultsOf('file|sample|layer\n')).toEqual([
      expect.stringMatching(/line 1: the heading lacks file, sample, layer/),
    ]);
    expect(faultsOf('')).toHaveLength(1);
    expect(faultsOf('file,sample,layer\na,"b,1\n')).toEqual([
      expect.stringMatching(/save it as comma-separated values/),
    ]);
  });

  it.each([
    [';', ','],
    ['\t', ';'],
    [',', '\t'],
  ])('may be separated by %j, with %j in its text', (separator, other) => {
    const lines = [
      ['file', 'sample', 'layer', 'note'],
      ['a.msa', 'P1', '2', `blue${other} coarse`],
    ];
    for (const bom of ['', '\uFEFF']) {
      const sheet = new Sheet(`${bom}${lines.map((cells) => cells.join(separator)).join('\r\n')}\r\n`);
      expect(sheet.placeOf('a.msa')).toMatchObject({ sample: 'P1', layer: 2, note: `blue${other} coarse` });
    }
  });

  it('is read as UTF-8, or else as Latin-1', () => {
    const text = 'file,sample,layer,note\na.msa,P1,1,grün\n';
    expect(sheetText(Buffer.from(text, 'utf8'))).toBe(text);
    expect(sheetText(Buffer.from(`\uFEFF${text}`, 'utf8'))).toBe(`\uFEFF${text}`);
    expect(sheetText(Buffer.from(text, 'latin1'))).toBe(text);
  });

  it('names the columns that it does not read', () => {
    const sheet = new Sheet('file,sample,layer,colr,\na.msa,P1,1,blue,\n');
    expect(sheet.unused(['a.msa'])).toEqual([
      expect.stringMatching(
        /^samples\.csv, line 1: the column 'colr' is unknown and not read; the columns are file,sample,.*colour/,
      ),
    ]);
  });

  it('takes names that begin with a minus, an equals sign or a blank', () => {
    const sheet = new Sheet('file,sample,layer\n-a.msa,P1,1\n=b.msa,P1,2\n" c.msa",P1,3\n');
    for (const [file, layer] of Object.entries({ '-a.msa': 1, '=b.msa': 2, ' c.msa': 3 }))
      expect(sheet.placeOf(file), file).toMatchObject({ layer });
  });

  it('is begun from names', () => {
    const text = sheetTemplate(['P1-L2-g03.msa', 'grain 7.msa', 'S2_layer1_4.emsa', 'x/y-1.msa', 'z.msa', '=1,".msa']);
    expect(text.split('\n').slice(1, 6)).toEqual([
      'P1-L2-g03.msa,P1,2,g03,,,',
      'grain 7.msa,grain,,7,,,',
      'S2_layer1_4.emsa,S2,1,4,,,',
      'x/y-1.msa,x,,1,,,',
      'z.msa,z,,,,,',
    ]);
    expect(new Sheet(text).placeOf('z.msa')).toMatchObject({ sample: 'z', layer: null });
  });
});
