import type { Entry, Point, Reading } from './model.js';

/**
 * All readings of an entry: those under `measurements`, and those of its tests that are named like a point of
 * the test's system. A value given in both places counts once.
 */
export function readingsOf(entry: Entry, points: ReadonlyMap<string, Point>): readonly Reading[] {
  if (entry.tests.length === 0) return entry.readings;
  const given = new Set(entry.readings.map((reading) => `${reading.point} ${reading.quantity.si}`));
  const fromTests = entry.tests.flatMap((run) =>
    run.readings.flatMap(({ name, value, uncertainty }): Reading[] => {
      const system = run.test.slice(0, run.test.indexOf('.'));
      const point = points.get(`${system}.${name}`);
      if (point === undefined || value.type === 'text' || given.has(`${point.ref} ${value.quantity.si}`))
        return [];
      const { date, with: instrument, by, under, see, note, basis } = run;
      const place = { file: run.place.file, path: [...run.place.path, 'readings', name] };
      return [
        {
          date,
          with: instrument,
          by,
          under,
          see,
          note,
          basis,
          system,
          point: point.ref,
          what: null,
          quantity: value.quantity,
          uncertainty,
          test: run.test,
          entry: run.entry,
          place,
        },
      ];
    }),
  );
  return fromTests.length === 0 ? entry.readings : [...entry.readings, ...fromTests];
}
