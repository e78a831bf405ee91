import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { createViewer } from '../apps/viewer/server/app.ts';

const FILES = ['P1-L1-g01', 'P1-L1-g02'].map((name) =>
  fileURLToPath(new URL(`../data/demo/${name}.msa`, import.meta.url)),
);

let app: Awaited<ReturnType<typeof createViewer>> | undefined;
afterEach(async () => app?.close());

describe('a viewer of files', () => {
  it('reads the first spectrum once it listens, and not again when the page asks for it', async () => {
    const read: string[] = [];
    const begun = new Promise<void>((resolve) => {
      const compute = ({ kind, name }: { kind: string; name: string }): string => {
        if (kind === 'reading') {
          read.push(name);
          resolve();
        }
        return kind === 'reading' ? '{}' : name;
      };
      void createViewer({ files: FILES, compute }).then(async (viewer) => {
        app = viewer;
        await viewer.listen({ host: '127.0.0.1', port: 0 });
      });
    });
    await begun;
    const { statusCode, body } = await app!.inject('/api/spectra/P1-L1-g01.msa/reading');
    expect([statusCode, body]).toEqual([200, '{}']);
    expect(read).toEqual(['P1-L1-g01.msa']);
  });
});
