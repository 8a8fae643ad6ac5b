/** Whether bytes begin like a JPEG, a PNG or a WebP. Other formats can carry scripts or outside references. */
export function isPicture(bytes: Uint8Array): boolean {
  const head = Buffer.from(bytes.subarray(0, PICTURE_HEAD)).toString('latin1');
  return (
    head.startsWith('\xff\xd8\xff') ||
    head.startsWith('\x89PNG\r\n\x1a\n') ||
    /^RIFF[\s\S]{4}WEBP$/.test(head)
  );
}

/** How many bytes tell whether a file is a picture. */
export const PICTURE_HEAD = 12;
