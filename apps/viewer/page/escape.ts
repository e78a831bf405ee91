/** Escape folds what the focus is in, and puts the focus on its line. */
export function foldOnEscape(place: HTMLElement): void {
  place.addEventListener('keydown', (event) => {
    if (event.key !== 'Escape' || event.defaultPrevented) return;
    const at = event.target as HTMLElement;
    const unfolded = at.closest<HTMLDetailsElement>('details[open]');
    if (!unfolded) return;
    unfolded.open = false;
    unfolded.querySelector('summary')?.focus();
  });
}
