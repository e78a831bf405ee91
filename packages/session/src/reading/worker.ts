// A worker of the pool computes for one job at a time; meanwhile it may wait for the disk for another.
import { doJob } from './job.ts';

export default doJob;
