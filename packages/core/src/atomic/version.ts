import tables from './tables.json' with { type: 'json' };

/** Names the content of data/atomic (start of its SHA-256), for records. */
export const DATA_VERSION: string = tables.version;

/** Version of @limner/core, written into every record and simulated spectrum; a test holds it equal to package.json. */
export const SOFTWARE_VERSION = '0.2.0';
