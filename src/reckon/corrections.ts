import type { CorrectionName, Point, Reading } from '../check/model.js';
import { gravityAt, insulationAt40, type Kind } from '../quantity/index.js';

/**
 * Corrections that the trade has a name for: what a reading would have been at the temperature at which such
 * readings are compared.
 */
export interface Correction {
  readonly name: CorrectionName;
  /** As words after a value: `at 40 °C`. */
  readonly words: string;
  readonly kind: Kind;
  /** The condition of a reading that tells the temperature. */
  readonly condition: string;
  readonly source: string;
  /** The corrected value from the value and the temperature, all in SI. */
  readonly correct: (si: number, temperature: number) => number;
}

const HYDROMETER = 'Vehicle makers’ service manuals: 0.004 for each 10 °F.';

function hydrometer(name: CorrectionName, words: string, reference: number): Correction {
  return {
    name,
    words,
    kind: 'specific-gravity',
    condition: 'electrolyte',
    source: HYDROMETER,
    correct: (si, temperature) => gravityAt(si, temperature, reference).value,
  };
}

const BY_NAME: Readonly<Record<CorrectionName, Correction>> = {
  'insulation-to-40-c': {
    name: 'insulation-to-40-c',
    words: 'at 40 °C',
    kind: 'resistance',
    condition: 'winding',
    source: 'IEEE Std 43: insulation resistance halves with each 10 K.',
    correct: (si, temperature) => insulationAt40(si, temperature).value,
  },
  'hydrometer-to-20-c': hydrometer('hydrometer-to-20-c', 'at 20 °C', 293.15),
  'hydrometer-to-25-c': hydrometer('hydrometer-to-25-c', 'at 25 °C', 298.15),
  'hydrometer-to-80-f': hydrometer('hydrometer-to-80-f', 'at 80 °F', ((80 + 459.67) * 5) / 9),
};

/** The correction that a point declares; null where it declares none. */
export function correctionOf({ correct }: Pick<Point, 'correct'>): Correction | null {
  return correct === null ? null : BY_NAME[correct];
}

/** The temperature, in K, by which a reading is corrected; null where the reading does not note it. */
function temperatureFor({ under }: Pick<Reading, 'under'>, { condition }: Correction): number | null {
  const noted = under.find(({ name }) => name === condition)?.value;
  return noted?.type === 'quantity' && noted.quantity.kind === 'temperature' ? noted.quantity.si : null;
}

/**
 * What a reading comes to once it is corrected as its point declares, in SI; null where the correction needs a
 * temperature that the reading does not note. Without a correction it is the reading itself.
 */
export function correctedSi(
  reading: Pick<Reading, 'quantity' | 'under'>,
  correction: Correction | null,
): number | null {
  if (correction === null) return reading.quantity.si;
  const temperature = temperatureFor(reading, correction);
  return temperature === null ? null : correction.correct(reading.quantity.si, temperature);
}
