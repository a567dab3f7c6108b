/**
 * CRC-32 (the polynomial of ISO 3309 and RFC 1952, section 8): finds every change of up to 32 neighbouring bits, so
 * any single damaged byte. It says that something was damaged, never who wrote it.
 */

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit++) remainder = (remainder >>> 1) ^ (remainder & 1 ? 0xedb88320 : 0);
  return remainder;
});

export function crc32(bytes: Uint8Array): number {
  let remainder = 0xffffffff;
  for (const byte of bytes) remainder = step(remainder, byte);
  return (remainder ^ 0xffffffff) >>> 0;
}

/** Over the UTF-16 units, low byte first: half a surrogate pair counts as itself, as it is kept in the browser. */
export function checksumOf(text: string): string {
  let remainder = 0xffffffff;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    remainder = step(step(remainder, unit & 0xff), unit >>> 8);
  }
  return inHex((remainder ^ 0xffffffff) >>> 0);
}

export function inHex(checksum: number): string {
  return checksum.toString(16).padStart(8, '0');
}

function step(remainder: number, byte: number): number {
  return (remainder >>> 8) ^ (TABLE[(remainder ^ byte) & 0xff] ?? 0);
}
