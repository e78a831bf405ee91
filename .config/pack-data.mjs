// Packs the auditable tables of data/ into the JSON files that core imports. The CSV files are the only hand-edited form.
import './pack-atomic.mjs';
import './pack-pigments.mjs';
