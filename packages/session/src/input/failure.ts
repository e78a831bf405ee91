/** A file, folder or link that gave no record, and why. */
export interface Failure {
  readonly file: string;
  readonly reason: string;
}
