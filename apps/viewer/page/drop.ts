/** Takes files from the button and from anywhere on the page where they are dropped. */
export function acceptFiles(input: HTMLInputElement, veil: HTMLElement, open: (files: readonly File[]) => void): void {
  input.addEventListener('change', () => {
    open([...(input.files ?? [])]);
    input.value = '';
  });
  const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
  document.addEventListener('dragover', (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    veil.hidden = false;
  });
  document.addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null) veil.hidden = true;
  });
  document.addEventListener('drop', (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    veil.hidden = true;
    open([...event.dataTransfer!.files]);
  });
}
