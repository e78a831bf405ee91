import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';

/** One thread, so that processor and wall time say the same. */
const ONE_THREAD = { OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };
/** Where a current scipy is kept, outside the repository. */
const KEPT = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'limner-bench', 'python');

const SCRIPT = `
import json, sys, time
import numpy as np
import scipy
from scipy.optimize import nnls
out = []
for path, n, p in json.load(open(sys.argv[1])):
    data = np.fromfile(path).reshape(p + 1, n)
    a, y = np.asfortranarray(data[:p].T), data[p]
    nnls(a, y)
    times = []
    for _ in range(5):
        start = time.process_time()
        nnls(a, y)
        times.append(time.process_time() - start)
    out.append(1000 * sorted(times)[2])
print(json.dumps([scipy.__version__, out]))
`;

/** Interpreters that may have scipy: Debian's, and one with the current version, fetched once where a registry gives it. */
export function interpreters() {
  const current = join(KEPT, 'bin', 'python3');
  if (!existsSync(current)) {
    console.error('Fetching a current scipy, once ...');
    const made = spawnSync('python3', ['-m', 'venv', KEPT]).status === 0;
    const got = made && spawnSync(join(KEPT, 'bin', 'pip'), ['install', '--quiet', 'scipy'], { timeout: 300_000 });
    if (!got || got.status !== 0) rmSync(KEPT, { recursive: true, force: true });
  }
  return ['/usr/bin/python3', current].filter((path) => existsSync(path));
}

/** Milliseconds of processor that scipy.optimize.nnls takes for each problem (median of five), and its version; null where there is no scipy. */
export function scipyMs(python, problems) {
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
    const env = { ...process.env, ...ONE_THREAD };
    const { status, stdout } = spawnSync(python, ['-c', SCRIPT, index], { encoding: 'utf8', env });
    if (status !== 0) return null;
    const [version, ms] = JSON.parse(stdout);
    return { version, ms };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
