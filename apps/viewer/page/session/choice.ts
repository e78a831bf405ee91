/** What of a session is shown, and in which order. */
export interface Choice {
  /** Part of a file name, a title, a particle or a material. */
  readonly text: string;
  /** '' for all. */
  readonly sample: string;
  /** '' for all, 'beside' beside the layers. */
  readonly layer: string;
  /** Symbol; '' for all. */
  readonly element: string;
  /** Number of a kind; '' for all, 'none' for spectra like no other. */
  readonly kind: string;
  readonly sort: Sort;
}

/** Column by which the spectra are ordered: 'place' (sample, layer, particle), 'file', 'best', or an element's symbol. */
export interface Sort {
  readonly by: string;
  readonly descending: boolean;
}

export const ALL: Choice = {
  text: '',
  sample: '',
  layer: '',
  element: '',
  kind: '',
  sort: { by: 'place', descending: false },
};

/** What of a session was shown last in this tab, as it was kept; all of it where nothing was. */
export function choiceIn(text: string): Choice {
  const kept = parsed(text);
  const { by, descending } = parsed(kept['sort']);
  const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');
  return {
    text: textOf(kept['text']),
    sample: textOf(kept['sample']),
    layer: textOf(kept['layer']),
    element: textOf(kept['element']),
    kind: textOf(kept['kind']),
    sort: { by: textOf(by) || ALL.sort.by, descending: descending === true },
  };
}

/** A text as JSON, or what that held; empty where it is no object. */
function parsed(value: unknown): Readonly<Record<string, unknown>> {
  if (typeof value !== 'string') return typeof value === 'object' && value !== null ? { ...value } : {};
  try {
    return parsed(JSON.parse(value) as object);
  } catch {
    return {};
  }
}
