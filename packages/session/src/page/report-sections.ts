import {
  cautionsSection,
  failuresSection,
  instrumentSection,
  type Kinds,
  kindsSection,
  type SettingSummary,
} from '@limner/core';
import type { Failure } from '../input/failure.ts';
import { treeHtml } from './tree-html.ts';

/** The report's section on alike spectra; '' where there are none. */
export const kindsHtml = (kinds: Kinds): string => treeHtml([kindsSection(kinds)], 'session', { level: 2 });

/** The report's section on the instrument; '' where nothing is known of it. */
export function instrumentHtml(settings: readonly SettingSummary[] | null): string {
  const html = treeHtml([instrumentSection(settings ?? [])], 'session', { level: 2 });
  return html === '' ? '' : `<section>${html}</section>`;
}

/** What could not be read, and the cautions. */
export const endHtml = (failures: readonly Failure[], cautions: readonly string[]): string =>
  treeHtml([failuresSection(failures), cautionsSection(cautions)], 'session', { level: 2 });
