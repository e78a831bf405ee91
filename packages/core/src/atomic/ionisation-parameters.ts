import { numbers } from './columns.ts';
import { type SubshellIndex, SUBSHELLS } from './shells.ts';
import tables from './tables.json' with { type: 'json' };

const COLUMNS = ['edgeEv', 'a1', 'a2', 'a3', 'a4', 'a5', 'be', 'anlj', 'g1', 'g2', 'g3', 'g4'] as const;
const PARAMETERS = byPlace();

/**
 * Parameters of the analytical electron-impact ionisation cross section, [edgeEv, a1..a5, Be, Anlj, g1..g4]; undefined where
 * the subshell has none. edgeEv is the fit's own ionisation energy. Source: D. Bote, F. Salvat, A. Jablonski, C.J. Powell,
 * At. Data Nucl. Data Tables 95 (2009) 871, erratum 97 (2011) 186.
 */
export function boteSalvat(z: number, s: SubshellIndex): Float64Array | undefined {
  return PARAMETERS.get(z * SUBSHELLS.length + s);
}

function byPlace(): Map<number, Float64Array> {
  const [z, s] = [numbers(tables.ionisation.z), numbers(tables.ionisation.subshell)];
  const columns = COLUMNS.map((name) => numbers(tables.ionisation[name]));
  const entries = Array.from(z, (element, i): [number, Float64Array] => [
    element * SUBSHELLS.length + s[i],
    Float64Array.from(columns, (column) => column[i]),
  ]);
  return new Map(entries);
}
