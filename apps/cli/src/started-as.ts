import { basename, dirname } from 'node:path';

/**
 * What a person types to call Limner again: 'limner' is on the path only where it was installed globally.
 * @param script path of the script that Node runs, as it was called
 */
export function startedAs(script: string, env: Readonly<Record<string, string | undefined>>): string {
  // Only then is this process npm's own child: what it starts, tests for one, inherits the variable but calls another script.
  const byNpm = env['npm_lifecycle_event'] === 'start' && env['npm_package_name'] === 'limner';
  return byNpm || basename(dirname(script)) === '.bin' ? 'npx limner' : 'limner';
}
