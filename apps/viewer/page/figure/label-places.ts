/** A name that wants to stand above a peak. Lengths in pixels from the left and from the foot of the drawing. */
export interface Wish {
  readonly x: number;
  /** Top of the peak. */
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where it stands: the foot of its box, so many pixels above its peak. */
export interface Placed<W extends Wish> {
  readonly wish: W;
  readonly raised: number;
}

/** A name stands this far above what is under it, and off its neighbours. */
const GAP_PX = 4;
/** A name farther above its peak than this is nobody's: it waits for a closer look. */
const MOST_RAISED_PX = 90;

/**
 * Finds places for names, the tallest peaks first: none on another name, none on any part of the curve, none outside the drawing. A name
 * that stands in another's way is raised above it; what finds no place is left out.
 * @param skyline height of the curve over a stretch of the axis, px
 */
export function placeNames<W extends Wish>(
  wishes: readonly W[],
  skyline: (fromX: number, toX: number) => number,
  area: { readonly width: number; readonly height: number },
): Placed<W>[] {
  const placed: Placed<W>[] = [];
  for (const wish of [...wishes].sort((a, b) => b.y - a.y)) {
    const [left, right] = [wish.x - wish.width / 2, wish.x + wish.width / 2];
    if (left < 0 || right > area.width) continue;
    let foot = Math.max(wish.y, skyline(left, right)) + GAP_PX;
    const beside = placed
      .filter(({ wish: other }) => Math.abs(other.x - wish.x) < (other.width + wish.width) / 2 + GAP_PX)
      .map(({ wish: other, raised }) => ({ low: other.y + raised, high: other.y + raised + other.height + GAP_PX }))
      .sort((a, b) => a.low - b.low);
    for (const { low, high } of beside) if (foot + wish.height + GAP_PX > low && foot < high) foot = high;
    if (foot - wish.y > MOST_RAISED_PX || foot + wish.height > area.height) continue;
    placed.push({ wish, raised: foot - wish.y });
  }
  return placed;
}
