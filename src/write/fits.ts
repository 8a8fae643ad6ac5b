import { createHash } from 'node:crypto';
import type { Fit, FitMemory } from '../reckon/trend.js';
import type { Cache } from './cache.js';

/** Fits of trends, the last of each point, until they are stored. */
export interface StoredFits extends FitMemory {
  readonly store: () => void;
}

const FITS = 'fits.json';

type KeptFit = readonly [origins: string, fit: Fit];

/** Fits of trends that earlier runs have made. */
export function fitMemory(cache: Cache): StoredFits {
  const kept = new Map(Object.entries(cache.load<Record<string, KeptFit>>(FITS) ?? {}));
  let changed = false;
  return {
    recall: (ref, origins) => {
      const known = kept.get(ref);
      return known?.[0] === digest(origins) ? known[1] : undefined;
    },
    keep: (ref, origins, fit) => {
      if (!survives(fit)) return;
      kept.set(ref, [digest(origins), fit]);
      changed = true;
    },
    store: () => {
      if (changed) cache.save(FITS, Object.fromEntries(kept));
      changed = false;
    },
  };
}

function digest(text: string): string {
  return createHash('sha1').update(text).digest('base64url');
}

/** Whether something is the same after having been JSON, which has no number without end and no sign of nought. */
function survives(value: unknown): boolean {
  let isPlain = true;
  JSON.stringify(value, (_, part: unknown) => {
    if (typeof part === 'number' && (!Number.isFinite(part) || Object.is(part, -0))) isPlain = false;
    return part;
  });
  return isPlain;
}
