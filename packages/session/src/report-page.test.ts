import { expect, it } from 'vitest';
import { invented } from '../../../tests/fixtures/record.ts';
import { ReportPage } from './report-page.ts';

it('holds a row and a section for each spectrum, what was not read, and each caution once', () => {
  const page = new ReportPage();
  page.add(invented());
  page.add(invented({ source: { name: 'grain-08.msa', sha256: '', title: '' } }));
  const html = page.text([{ file: 'bad.msa', reason: 'empty' }]);
  expect(html).toContain('<h1>Readings of 2 spectra</h1>');
  expect(html).toContain('<a href="#s2">grain-08.msa</a>');
  expect(html).toContain('<section id="s2"><h2>grain-08.msa</h2>');
  expect(html).toContain('<li>bad.msa: empty</li>');
  expect(html.match(/Lead compounds are toxic/g)).toHaveLength(1);
});

it('shows text from files as text', () => {
  const page = new ReportPage();
  const title = `<script>alert('x')</script> & "y"`;
  page.add(invented({ source: { name: '"><img src=x>', sha256: '', title }, warnings: [{ code: 'x', text: title }] }));
  const html = page.text([{ file: title, reason: title }]);
  expect(html).not.toMatch(/<script|<img/);
  expect(html).toContain('&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;');
});

it('loads nothing from elsewhere', () => {
  const page = new ReportPage();
  page.add(invented());
  expect(page.text([])).not.toMatch(/(src|href)="(?!#|data:,)/);
});
