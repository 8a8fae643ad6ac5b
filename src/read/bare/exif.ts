/** The one thing in a picture's EXIF data that is needed to show it: which side is up. */

/** Tag of the orientation, and the type of a short number, in the TIFF format that EXIF is written in. */
const ORIENTATION = 0x0112;
const SHORT = 3;

/**
 * Which side is up, 1 to 8 as in the EXIF standard; 1 (as it lies) where nothing is said or it cannot be read.
 *
 * @param tiff EXIF data from its byte order mark on
 */
export function orientationIn(tiff: Buffer): number {
  const order = tiff.toString('latin1', 0, 2);
  if (tiff.length < 14 || (order !== 'II' && order !== 'MM')) return 1;
  const isLittle = order === 'II';
  const short = (at: number) => (isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
  const start = isLittle ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4);
  if (start + 2 > tiff.length) return 1;
  const count = short(start);
  for (let index = 0; index < count; index += 1) {
    const at = start + 2 + index * 12;
    if (at + 12 > tiff.length) return 1;
    if (short(at) !== ORIENTATION || short(at + 2) !== SHORT) continue;
    const value = short(at + 8);
    return value >= 1 && value <= 8 ? value : 1;
  }
  return 1;
}

/** EXIF data that says which side is up and nothing else, from its byte order mark on. */
export function exifOf(orientation: number): Buffer {
  const tiff = Buffer.alloc(26);
  tiff.write('MM\0*\0\0\0\x08\0\x01', 'latin1');
  tiff.writeUInt16BE(ORIENTATION, 10);
  tiff.writeUInt16BE(SHORT, 12);
  tiff.writeUInt32BE(1, 14);
  tiff.writeUInt16BE(orientation, 18);
  return tiff;
}
