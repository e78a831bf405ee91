import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const SCRIPT = `
import json, sys, time
import numpy as np
from scipy.optimize import nnls
out = []
for path, n, p in json.load(open(sys.argv[1])):
    data = np.fromfile(path).reshape(p + 1, n)
    a, y = np.asfortranarray(data[:p].T), data[p]
    nnls(a, y)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        nnls(a, y)
        times.append(time.perf_counter() - start)
    out.append(sorted(times)[2])
print(json.dumps(out))
`;

/** Seconds that scipy.optimize.nnls takes for each problem (median of five); null where there is no scipy. */
export function scipySeconds(problems) {
  const folder = mkdtempSync(join(tmpdir(), 'limner-bench-'));
  try {
    const list = problems.map(({ columns, y }, i) => {
      const path = join(folder, `${i}.f64`);
      const all = new Float64Array((columns.length + 1) * y.length);
      [...columns, y].forEach((values, j) => all.set(values, j * y.length));
      writeFileSync(path, all);
      return [path, y.length, columns.length];
    });
    const index = join(folder, 'list.json');
    writeFileSync(index, JSON.stringify(list));
    const { status, stdout } = spawnSync('/usr/bin/python3', ['-c', SCRIPT, index], { encoding: 'utf8' });
    return status === 0 ? JSON.parse(stdout) : null;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
