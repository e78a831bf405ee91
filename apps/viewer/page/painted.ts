/** A hidden page paints nothing. */
const LONGEST_MS = 50;

/** Resolves once what stands in the page is painted. */
export const painted = (): Promise<void> =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve, 0));
    setTimeout(resolve, LONGEST_MS);
  });
