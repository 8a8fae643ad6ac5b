/**
 * A colour profile says what the numbers of a picture mean, and often more: who made it, on which device, when. What
 * colours need is kept, and written anew (ICC.1:2010, 7.2 and 7.3).
 */

const HEAD = 128;

/** Tags that turn numbers into colours, with how many bytes each has by its type. */
const COLOUR_TAGS = ['wtpt', 'rXYZ', 'gXYZ', 'bXYZ', 'rTRC', 'gTRC', 'bTRC', 'kTRC', 'chad'] as const;

/** Without these a profile of that colour space means nothing. */
const NEEDED: Readonly<Record<string, readonly string[]>> = {
  'RGB ': ['rXYZ', 'gXYZ', 'bXYZ', 'rTRC', 'gTRC', 'bTRC'],
  GRAY: ['kTRC'],
};

/** Larger ones are tables of a printer, not the curves of a camera. */
const MOST_BYTES = 60_000;

/**
 * A profile with nothing in it but what colours need; the same profile always gives the same bytes.
 *
 * @returns null for one that is not made of a matrix and curves (of a printer, say), or that is broken
 */
export function bareProfile(profile: Buffer): Buffer | null {
  if (profile.length < HEAD + 4 || profile.toString('latin1', 36, 40) !== 'acsp') return null;
  const space = profile.toString('latin1', 16, 20);
  const needed = NEEDED[space];
  if (needed === undefined || profile.toString('latin1', 20, 24) !== 'XYZ ') return null;
  const found = tagsOf(profile);
  if (needed.some((name) => !found.has(name))) return null;
  const kept = COLOUR_TAGS.flatMap((name) => {
    const data = found.get(name);
    return data === undefined ? [] : [{ name, data }];
  });
  const made = written(kept, space, profile.readUInt8(8));
  return made.length > MOST_BYTES ? null : made;
}

interface Tag {
  readonly name: string;
  readonly data: Buffer;
}

function tagsOf(profile: Buffer): ReadonlyMap<string, Buffer> {
  const found = new Map<string, Buffer>();
  const count = Math.min(profile.readUInt32BE(HEAD), 200);
  for (let index = 0; index < count; index += 1) {
    const at = HEAD + 4 + index * 12;
    if (at + 12 > profile.length) break;
    const name = profile.toString('latin1', at, at + 4);
    const data = exactly(profile.subarray(profile.readUInt32BE(at + 4)));
    if (data !== null) found.set(name, data);
  }
  return found;
}

/** Parameters of each sort of parametric curve, in numbers of four bytes. */
const CURVE_PARAMETERS = [1, 3, 4, 5, 7];

/** A tag's data cut to what its type needs, with what is reserved set to nothing; null for other types. */
function exactly(data: Buffer): Buffer | null {
  if (data.length < 12) return null;
  const type = data.toString('latin1', 0, 4);
  const length =
    type === 'XYZ '
      ? 20
      : type === 'sf32'
        ? 44
        : type === 'curv'
          ? 12 + 2 * data.readUInt32BE(8)
          : type === 'para'
            ? 12 + 4 * (CURVE_PARAMETERS[data.readUInt16BE(8)] ?? Number.NaN)
            : Number.NaN;
  if (!(length <= data.length)) return null;
  const exact = Buffer.from(data.subarray(0, length));
  exact.fill(0, 4, 8);
  if (type === 'para') exact.fill(0, 10, 12);
  return exact;
}

/** A display's profile with these tags; curves that are the same are written once. */
function written(tags: readonly Tag[], space: string, version: number): Buffer {
  const head = Buffer.alloc(HEAD + 4 + tags.length * 12);
  const places = new Map<string, number>();
  const body: Buffer[] = [];
  let end = head.length;
  for (const [index, { name, data }] of tags.entries()) {
    const key = data.toString('latin1');
    const place = places.get(key) ?? end;
    if (place === end) {
      const padded = Buffer.alloc(Math.ceil(data.length / 4) * 4);
      data.copy(padded);
      body.push(padded);
      places.set(key, place);
      end += padded.length;
    }
    const at = HEAD + 4 + index * 12;
    head.write(name, at, 'latin1');
    head.writeUInt32BE(place, at + 4);
    head.writeUInt32BE(data.length, at + 8);
  }
  head.writeUInt32BE(end, 0);
  head.writeUInt8(version, 8);
  head.write(`mntr${space}XYZ `, 12, 'latin1');
  head.write('acsp', 36, 'latin1');
  // The white of the connection space, D50, as the standard wants it there.
  for (const [index, value] of [0xf6d6, 0x10000, 0xd32d].entries()) head.writeUInt32BE(value, 68 + index * 4);
  head.writeUInt32BE(tags.length, HEAD);
  return Buffer.concat([head, ...body]);
}
