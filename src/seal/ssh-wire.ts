/** The data types of SSH that signatures and keys are made of (RFC 4251, section 5): read strictly, and written. */

/** Said where bytes are not what they have to be; never leaves the modules that read signatures and keys. */
export class NotWhole extends Error {}

/** Reads one after the other from the front. */
export interface WireReader {
  readonly uint32: () => number;
  readonly string: () => Buffer;
  readonly text: () => string;
  /** A positive number, without the nought before it; refused where it could be written shorter. */
  readonly positive: () => Buffer;
  readonly bytes: (count: number) => Buffer;
  /** Refuses what is left over. */
  readonly end: () => void;
}

/** @throws NotWhole where what is asked for is not there. */
export function wireReader(data: Buffer): WireReader {
  let at = 0;
  const bytes = (count: number): Buffer => {
    if (count > data.length - at) throw new NotWhole('it breaks off');
    at += count;
    return data.subarray(at - count, at);
  };
  const uint32 = () => bytes(4).readUInt32BE();
  const string = () => bytes(uint32());
  return {
    uint32,
    string,
    bytes,
    text: () => string().toString('latin1'),
    positive: () => positiveOf(string()),
    end: () => {
      if (at !== data.length) throw new NotWhole('something is left over at its end');
    },
  };
}

function positiveOf(number: Buffer): Buffer {
  const [first = 0, second = 0] = number;
  if (number.length === 0 || first >= 0x80) throw new NotWhole('a number in it is not positive');
  if (first !== 0) return number;
  if (second < 0x80) throw new NotWhole('a number in it is not written the short way');
  return number.subarray(1);
}

/** A text or bytes with their length before them. */
export function wireString(data: string | Uint8Array): Buffer {
  const bytes = Buffer.from(data);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
}
