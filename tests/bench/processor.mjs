/** Processor (all threads of this process) and wall time of one call, ms. */
export function once(task) {
  const [cpu, wall] = [process.cpuUsage(), performance.now()];
  task();
  const { user, system } = process.cpuUsage(cpu);
  return { processorMs: (user + system) / 1000, wallMs: performance.now() - wall };
}

/**
 * Medians of several tasks over `repeats` runs each, taken in turns so that what else the machine does meets all alike; the first
 * run of each, which warms up, is left out.
 */
export function inTurns(tasks, repeats) {
  const runs = tasks.map(() => []);
  for (let run = 0; run <= repeats; run++)
    tasks.forEach((task, i) => {
      const taken = once(task);
      if (run > 0) runs[i].push(taken);
    });
  return runs.map((taken) => ({
    processorMs: median(taken.map(({ processorMs }) => processorMs)),
    wallMs: median(taken.map(({ wallMs }) => wallMs)),
  }));
}

export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}
