import { expect, it } from 'vitest';
import { invented } from '../../../../tests/fixtures/record.ts';
import type { Failure } from '../input/failure.ts';
import { REPORT_END, reportHead, reportMiddle } from './report-page.ts';
import { SKETCH } from '../../../../tests/fixtures/sketch.ts';
import { reportRow, reportSection } from './reading-section.ts';

function page(records: readonly ReturnType<typeof invented>[], failures: readonly Failure[] = []): string {
  const cautions = [...new Set(records.flatMap((record) => record.cautions))];
  const content = {
    head: {
      date: '2026-01-05',
      taken: ['2026-01-02', '2026-01-03'],
      owners: ['A. Reader'],
      spectra: records.length,
      failures: failures.length,
      copies: 0,
      beamsKev: [20, 15],
      version: '0.1.0',
      atomicData: 'a1',
      pigmentData: 'p1',
      options: { mount: ['resin', 'carbon-stub'], dated: 1650 },
      session: 'f'.repeat(64),
    },
    spectra: records.length,
    summary: 'Two spectra.',
    inShort: [],
    samples: '',
    kinds: '',
    positions: '',
    instrument: '',
    failures,
    cautions,
  };
  const middle = reportMiddle(content);
  return [
    reportHead(content),
    ...records.map(reportRow),
    middle,
    ...records.map((record) => reportSection(record, SKETCH)),
    REPORT_END,
  ].join('\n');
}

it('holds a row and a section for each spectrum, what was not read, and each caution once', () => {
  const records = [invented(), invented({ source: { name: 'a/grain 08.msa', sha256: '', title: '' } })];
  const html = page(records, [{ file: 'bad.msa', reason: 'empty' }]);
  expect(html).toContain('<h1>Readings of 2\u00a0spectra</h1>');
  expect(html).toMatch(
    /measured.*2026-01-02 to 2026-01-03, by A. Reader.*2 read, 1\sfile not read.*15\skeV and 20\skeV.*mount resin, carbon-stub; dated 1650.*Limner 0\.1\.0/s,
  );
  expect(html).toContain('<a href="#s-a_2Fgrain_2008.msa">a/grain 08.msa</a>');
  expect(html).toContain('<section class="spectrum" id="s-a_2Fgrain_2008.msa"><h2>a/grain 08.msa</h2>');
  expect(html).toMatch(/<h2>Not read<\/h2>.*<li[^>]*>bad\.msa: empty<\/li>/s);
  expect(html.match(/Lead compounds are toxic/g)).toHaveLength(1);
});

it('shows text from files as text', () => {
  const title = `<script>alert('x')</script> & "y"`;
  const source = { name: '"><img src=x>', sha256: '', title };
  const html = page([invented({ source, warnings: [{ code: 'x', text: title }] })], [{ file: title, reason: title }]);
  expect(html).not.toMatch(/<script|<img/);
  expect(html).toContain('&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;');
});

it('loads nothing from elsewhere', () => {
  expect(page([invented()])).not.toMatch(/(src|href)="(?!#|data:,)/);
});
