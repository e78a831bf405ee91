import tables from './tables.json' with { type: 'json' };

/** Names the content of data/atomic (start of its SHA-256), for records. */
export const DATA_VERSION: string = tables.version;
