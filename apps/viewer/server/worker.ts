// A worker of the viewer's pool does one job at a time.
import { doJob } from './jobs.ts';

export default doJob;
