import type { ClaimAnswer, LimnerRecord } from '../../record/record.ts';
import { item, list, type Node, section } from './tree.ts';

const ANSWERS: Readonly<Record<ClaimAnswer['answer'], string>> = {
  supported: 'supported',
  contradicted: 'contradicted',
  'cannot-tell': 'cannot tell',
};

/** Answers to claims, and what it would take without some elements. */
export function asked({ claims, without }: LimnerRecord): Node | null {
  return section('asked', 'Claims and exclusions', [
    list('answers', [
      ...claims.map(({ symbol, answer, reason }) =>
        item(`claim-${symbol}`, reason, 'brief', `${symbol}: ${ANSWERS[answer]}.`),
      ),
      ...(without ? [item('without', without.reason)] : []),
    ]),
  ]);
}
