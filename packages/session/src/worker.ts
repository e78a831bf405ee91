// A worker of the pool: reads one file at a time.
import { readOne } from './read-one.ts';

export default readOne;
