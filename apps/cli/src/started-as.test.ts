import { expect, it } from 'vitest';
import { startedAs } from './started-as.ts';

it.each([
  ['/usr/local/bin/limner', {}, 'limner'],
  ['/home/a/limner/node_modules/.bin/limner', { npm_lifecycle_event: 'npx' }, 'npx limner'],
  ['/home/a/limner/apps/cli/bin/limner.js', { npm_lifecycle_event: 'start', npm_package_name: 'limner' }, 'npx limner'],
  ['/usr/local/bin/limner', { npm_lifecycle_event: 'start', npm_package_name: 'laboratory' }, 'limner'],
])('%s is called again by what is on the path', (script, env, command) => {
  expect(startedAs(script, env)).toBe(command);
});
