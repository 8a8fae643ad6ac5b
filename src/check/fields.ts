import { entrySchema } from '../../schemas/entry.js';
import { systemSchema } from '../../schemas/system.js';

/** The fields of a file's front matter, in the order of the format. */
export const FIELDS: Readonly<Record<'entry' | 'system', readonly string[]>> = {
  entry: Object.keys(entrySchema.shape),
  system: Object.keys(systemSchema.shape),
};
