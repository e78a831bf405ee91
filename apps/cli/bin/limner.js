#!/usr/bin/env node
import { main } from '../dist/bundle/limner.js';

await main();
