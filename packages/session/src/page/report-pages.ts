import { REPORT_WORDS } from '@limner/core';
import { head, REPORT_BEGINS } from './report-page.ts';

/** Sections per page: as many as browsers open and print with ease. */
export const PER_PAGE = 200;

export const REPORT = 'report.html';
/** Names of the further pages. */
export const PAGE_NAME = /^report-\d+\.html$/;

/** The page that holds the section of the n-th spectrum, from 1. */
export const pageOf = (n: number): number => Math.ceil(n / PER_PAGE);

/** Page 1 is the report, with the table of all spectra and the first sections; the others hold further sections. */
export const pageName = (page: number): string => (page === 1 ? REPORT : `report-${page}.html`);

/** A row of the table on page 1, with its link to the section on any page. */
export const rowTo = (page: number, row: string): string =>
  page === 1 ? row : row.replace('<a href="#', `<a href="${pageName(page)}#`);

/** A further page up to its sections. */
export function pageHead(page: number): string {
  const first = (page - 1) * PER_PAGE + 1;
  const title = REPORT_WORDS.from(first);
  return [
    REPORT_BEGINS,
    head(title),
    `<h1>${title}</h1>`,
    `<p class="quiet">${REPORT_WORDS.back} <a href="${REPORT}">${REPORT}</a>.</p>`,
    '',
  ].join('\n');
}

/** Links to the previous and the next page; '' where there is only one page. */
export function pageLinks(page: number, last: number): string {
  const to = (other: number, text: string): string => `<a href="${pageName(other)}">${text}</a>`;
  const links = [
    page > 1 ? to(page - 1, REPORT_WORDS.previous) : '',
    page < last ? to(page + 1, REPORT_WORDS.next) : '',
  ];
  const shown = links.filter((link) => link !== '');
  return shown.length === 0 ? '' : `<p class="quiet">${shown.join(' · ')}</p>\n`;
}
