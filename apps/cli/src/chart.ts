import { chartTree, drawingPdf, drawingSvg, type Paper, PAPERS, treeText, wallChart } from '@limner/core';
import { resolve } from 'node:path';
import { type Io, UsageError, widthOf } from './io.ts';
import { save } from './save.ts';
import { beamValue, energyValue, nameValue } from './values.ts';

export interface ChartFlags {
  readonly beam?: string;
  readonly within?: string;
  readonly out?: string;
  readonly paper?: string;
  readonly resolution?: string;
  readonly counts?: string;
  readonly amounts?: string;
  readonly json?: true;
}

/** As many pairs as stay readable on A4. */
const MOST = 96;
const WIDEST_EV = 200;

/** All line pairs of the elements usual in paint: a table, or a drawing in a file. @throws UsageError */
export async function writeChart(io: Io, elements: readonly string[], flags: ChartFlags): Promise<void> {
  const { beam = '20', within = '60eV', out, paper, resolution, counts, amounts, json } = flags;
  if (elements.length > 0) throw new UsageError('clash: --all takes no elements');
  if (resolution ?? counts ?? amounts ?? json)
    throw new UsageError('clash: --all takes --beam, --within, --out and --paper only');
  if (paper !== undefined && out === undefined) throw new UsageError('clash: --paper needs --out');
  const withinEv = energyValue('--within', within, 'eV');
  if (withinEv > WIDEST_EV) throw new UsageError(`--within ${within}: give ${WIDEST_EV} eV or less`);
  const options = { beamKev: beamValue('--beam', beam), withinEv, most: MOST };
  if (out === undefined) {
    io.stdout.write(treeText(chartTree(options), { width: widthOf(io) }));
    return;
  }
  const kind = /\.(svg|pdf)$/i.exec(out)?.[1]?.toLowerCase();
  if (kind === undefined) throw new UsageError(`--out ${out}: a chart must be an .svg or .pdf file`);
  const drawing = wallChart(
    options,
    paper === undefined ? 'A4' : nameValue<Paper>('--paper', paper, Object.keys(PAPERS) as Paper[]),
  );
  await save(resolve(io.cwd, out), out, kind === 'svg' ? drawingSvg(drawing) : drawingPdf(drawing), 'never');
}
