// Packs the auditable tables and lessons of data/ into the JSON files that core imports. What lies in data/ is the only hand-edited form.
import './pack-atomic.mjs';
import './pack-pigments.mjs';
import './pack-lessons.mjs';
