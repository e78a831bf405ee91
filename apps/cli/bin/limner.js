#!/usr/bin/env node
import module from 'node:module';
import { setFlagsFromString } from 'node:v8';

// A short command is over before most of what the engine would optimise has run often enough to be worth it: by its own measure Node 20
// spends a third of the processor time of one reading on that, and of a hundred readings a tenth. Later engines count otherwise and have
// no such flag.
if (process.versions.node.startsWith('20.')) setFlagsFromString('--interrupt-budget=1000000');
// From Node 22 on the compiled command is kept between runs.
module.enableCompileCache?.();

const { main } = await import('../dist/bundle/limner.js');
await main();
