#!/usr/bin/env node
import module from 'node:module';
import { setFlagsFromString } from 'node:v8';

// A short command is over before most of what the engine would optimise has run often enough to be worth it: of one reading's processor time
// a third would go into that, of a hundred readings' a tenth. So it optimises after two and a half times its usual count, which each line of
// Node keeps in its own way (24 has no count that pays), and writes fewer functions into each other.
const LATER = { 20: '--interrupt-budget=1000000', 22: '--invocation-count-for-turbofan=8000' };
const [line] = process.versions.node.split('.');
if (line in LATER) setFlagsFromString(LATER[line]);
setFlagsFromString('--max-inlined-bytecode-size-cumulative=200');
// From Node 22 on the compiled command is kept between runs.
module.enableCompileCache?.();

const { main } = await import('../dist/bundle/limner.js');
await main();
