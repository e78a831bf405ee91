/** Largest input that is looked at, bytes. A spectrum of 16,384 channels takes about 0.3 MB. */
export const MAX_INPUT_BYTES = 64 * 1024 * 1024;
/** Bounds of the number of channels; instruments store 512 to 16,384. Fewer than 16 hold no peak. */
export const MIN_CHANNELS = 16;
export const MAX_CHANNELS = 1_000_000;
/** More counts in one channel are no measurement: at a million per second it would take eleven days. */
export const MAX_COUNTS = 1e12;
export const MAX_HEADER_LINES = 10_000;
export const MAX_HEADER_LINE_LENGTH = 100_000;
