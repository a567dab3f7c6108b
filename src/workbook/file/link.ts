/**
 * A workbook as the fragment of an address: `#workbook.1.LENGTH.CHECKSUM.PAYLOAD`. The payload is the file without
 * its line breaks and spaces, in UTF-8, deflated (RFC 1951), in base64url (RFC 4648, section 5); LENGTH counts its
 * characters and CHECKSUM is the CRC-32 of the deflated bytes. The only file that knows the package.
 */
import { deflateSync, Inflate } from 'fflate';
import { toBase64 } from '../base64.ts';
import type { WorkbookDocument } from '../document.ts';
import { grouped, LIMITS } from '../limits.ts';
import { withoutPhotos } from '../photo.ts';
import { crc32, inHex } from './checksum.ts';
import { writeWorkbook } from './write.ts';

export interface LinkRead {
  /** A file's text: still to be opened as any file from a stranger. */
  readonly text: string;
}

export interface LinkError {
  readonly code: 'cut' | 'altered' | 'newer' | 'too-large' | 'not-a-link';
  readonly found: string;
  readonly suggestion: string;
}

const VERSION = '1';
const ASK_AGAIN = 'Ask for the link again, or for the workbook as a file.';
/** What chat and mail programs leave behind an address. */
const PUNCTUATION = /^[.,;:!?)\]}>"'”’»…\s]*$/u;

export function writeFragment(document: WorkbookDocument): string {
  const dense = JSON.stringify(JSON.parse(writeWorkbook(withoutPhotos(document))));
  const bytes = deflateSync(new TextEncoder().encode(dense), { level: 9, mem: 9 });
  const payload = toBase64url(bytes);
  return `#workbook.${VERSION}.${payload.length}.${inHex(crc32(bytes))}.${payload}`;
}

export function readFragment(fragment: string): LinkRead | LinkError {
  const parts = /^#?workbook\.(\d{1,4})(?:\.(\d{1,9})\.([0-9a-f]{8})\.(.*))?/su.exec(fragment);
  if (parts && parts[1] !== VERSION) {
    const found = 'a link made by a newer version of this page';
    return { code: 'newer', found, suggestion: 'Load this page again to get that version.' };
  }
  const [, , counted, checksum, rest] = parts ?? [];
  if (counted === undefined || checksum === undefined || rest === undefined) {
    return { code: 'cut', found: 'only the beginning of a link', suggestion: ASK_AGAIN };
  }
  const length = Number(counted);
  if (length > LIMITS.linkCharacters) return tooLarge(`a link of ${grouped(length)} characters`);
  if (rest.length < length) {
    const found = `a link that was cut off: ${grouped(rest.length)} of its ${grouped(length)} characters arrived`;
    return { code: 'cut', found, suggestion: ASK_AGAIN };
  }
  const payload = rest.slice(0, length);
  const bytes = PUNCTUATION.test(rest.slice(length)) ? fromBase64url(payload) : undefined;
  if (!bytes || inHex(crc32(bytes)) !== checksum) return altered();
  return inflated(bytes);
}

function altered(): LinkError {
  const found = 'a link whose characters were changed on the way';
  return { code: 'altered', found, suggestion: ASK_AGAIN };
}

function tooLarge(found: string): LinkError {
  const suggestion = 'Nothing this large is made here. Ask for the workbook as a file.';
  return { code: 'too-large', found, suggestion };
}

/** Fed in small pieces, so that a payload made to burst is stopped before it has: deflate grows at most 1,032 times. */
const PIECE = 1_024;

function inflated(bytes: Uint8Array): LinkRead | LinkError {
  const parts: Uint8Array[] = [];
  const unpacked = { size: 0, ended: false };
  const inflate = new Inflate((part, final) => {
    parts.push(part);
    unpacked.size += part.length;
    unpacked.ended ||= final;
  });
  try {
    for (let at = 0; at < bytes.length; at += PIECE) {
      const next = Math.min(bytes.length, at + PIECE);
      inflate.push(bytes.subarray(at, next), next === bytes.length);
      const { size } = unpacked;
      if (size > LIMITS.linkBytes)
        return tooLarge(`a link that unpacks to over ${grouped(LIMITS.linkBytes)} bytes`);
      if (size > LIMITS.inflateFreely && size > next * LIMITS.inflateRatio)
        return tooLarge(`a link that unpacks to over ${grouped(LIMITS.inflateRatio)} times its length`);
    }
    if (!unpacked.ended) return altered();
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(joined(parts, unpacked.size)) };
  } catch {
    // Not deflated, or not UTF-8: a forged link, because the checksum was right.
    return altered();
  }
}

function joined(parts: readonly Uint8Array[], size: number): Uint8Array {
  const whole = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function toBase64url(bytes: Uint8Array): string {
  return toBase64(bytes).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function fromBase64url(text: string): Uint8Array | undefined {
  if (!/^[A-Za-z0-9_-]*$/u.test(text) || text.length % 4 === 1) return undefined;
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (byte) => byte.charCodeAt(0));
}
