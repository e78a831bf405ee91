import { CALIBRATE_WORDS } from '@limner/core';
import { h, s } from '../dom.ts';

const WIDTH = 1000;
const HEIGHT = 240;

/** The counts of a file over its channels, on the scale of their square roots. @param pick called with the channel that was clicked */
export function channelPicture(counts: readonly number[], pick: (channel: number) => void) {
  const last = Math.max(1, lastWith(counts));
  const highest = Math.sqrt(Math.max(1, ...counts));
  const x = (channel: number): number => (channel / last) * WIDTH;
  const y = (value: number): number => HEIGHT - (Math.sqrt(value) / highest) * (HEIGHT - 12);
  const path = counts.slice(0, last + 1).map((value, i) => `${i ? 'L' : 'M'}${x(i).toFixed(1)} ${y(value).toFixed(1)}`);
  const marks = s('g', { class: 'marks' });
  const place = h('p', { class: 'cursor' }, CALIBRATE_WORDS.start);
  const channelAt = (event: Event): number => {
    const { left, width } = drawing.getBoundingClientRect();
    return (((event as MouseEvent).clientX - left) / width) * last;
  };
  const drawing: SVGSVGElement = s(
    'svg',
    {
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      preserveAspectRatio: 'none',
      role: 'img',
      'aria-label': CALIBRATE_WORDS.picture,
      onclick: (event) => pick(channelAt(event)),
      onmousemove: (event) => {
        const channel = Math.min(last, Math.max(0, Math.round(channelAt(event))));
        place.textContent = CALIBRATE_WORDS.at(channel, counts[channel]);
      },
    },
    s('path', { d: path.join(''), class: 'counts' }),
    marks,
  );
  const mark = (channels: readonly (number | null)[]): void =>
    marks.replaceChildren(
      ...channels
        .filter((channel) => channel !== null)
        .map((channel) => s('path', { d: `M${x(channel).toFixed(1)} 0V${HEIGHT}` })),
    );
  return { element: h('div', {}, drawing, place), mark };
}

/** Beyond it there is hardly anything to see. */
function lastWith(counts: readonly number[]): number {
  for (let i = counts.length - 1; i > 0; i--)
    if (counts[i] > 1) return Math.min(counts.length - 1, Math.ceil(1.02 * i));
  return counts.length - 1;
}
