// A worker of the pool does one job at a time.
import { doJob } from './job.ts';

export default doJob;
