import { readdirSync, readFileSync } from 'node:fs';
import { deflateSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checksumOf, crc32, inHex } from '../../../src/workbook/file/checksum.ts';
import { readFragment, writeFragment } from '../../../src/workbook/file/link.ts';
import { readWorkbook } from '../../../src/workbook/file/read.ts';
import { writeWorkbook } from '../../../src/workbook/file/write.ts';
import { withoutPhotos } from '../../../src/workbook/photo.ts';
import { isLink, LINK_LENGTHS } from '../../../src/workbook/link.ts';
import { anyDocument } from '../arbitrary-document.ts';

const frozen = readFileSync(new URL('./frozen/format-1.json', import.meta.url), 'utf8');

function documentOf(text: string) {
  const opened = readWorkbook(text);
  if ('code' in opened) throw new Error(`${opened.where}: ${opened.found}`);
  return opened.document;
}

function base64url(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('base64url');
}

/** A link around any bytes, with a length and a checksum that are right. */
function linkAround(bytes: Uint8Array): string {
  const payload = base64url(bytes);
  return `#workbook.1.${payload.length}.${inHex(crc32(bytes))}.${payload}`;
}

describe('the checksum', () => {
  test('is CRC-32: the check value of the catalogue of parametrised CRC algorithms (CRC-32/ISO-HDLC)', () => {
    expect(inHex(crc32(new TextEncoder().encode('123456789')))).toBe('cbf43926');
    expect(inHex(crc32(new Uint8Array()))).toBe('00000000');
  });

  test('of a text finds any one changed unit', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', minLength: 1 }),
        fc.nat(),
        fc.integer({ min: 1, max: 0xffff }),
        (text, at, change) => {
          const place = at % text.length;
          const changed = String.fromCharCode(text.charCodeAt(place) ^ change);
          expect(checksumOf(text.slice(0, place) + changed + text.slice(place + 1))).not.toBe(
            checksumOf(text),
          );
        },
      ),
    );
  });
});

describe('a link', () => {
  const link = writeFragment(documentOf(frozen));

  test('holds any workbook whole, but for its photos', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        // Half a surrogate pair has no UTF-8; such a text comes back as the replacement character, as in a file.
        fc.pre(writeWorkbook(document).isWellFormed());
        const read = readFragment(writeFragment(document));
        if ('code' in read) throw new Error(read.found);
        expect(documentOf(read.text)).toStrictEqual(withoutPhotos(document));
      }),
      { numRuns: 200 },
    );
  });

  test('is made of characters that every program leaves as they are', () => {
    expect(link).toMatch(/^#workbook\.1\.\d+\.[0-9a-f]{8}\.[A-Za-z0-9_-]+$/);
    expect(isLink(link)).toBe(true);
    expect(isLink('#figures')).toBe(false);
  });

  test('cut anywhere says so, and how much arrived', () => {
    for (let length = '#workbook.'.length; length < link.length; length += 7) {
      const read = readFragment(link.slice(0, length));
      expect(read, `${length} characters`).toHaveProperty('code', 'cut');
    }
    const read = readFragment(link.slice(0, -100));
    expect(read).toHaveProperty(
      'found',
      expect.stringMatching(/^a link that was cut off: \d,\d{3} of its \d,\d{3}/),
    );
  });

  test('with any one character changed is refused', () => {
    const start = link.lastIndexOf('.') + 1;
    for (let at = start; at < link.length; at += 3) {
      const other = link[at] === 'A' ? 'B' : 'A';
      const read = readFragment(link.slice(0, at) + other + link.slice(at + 1));
      expect(read, `character ${at}`).toHaveProperty('code', 'altered');
    }
    expect(readFragment(`${link}AAAA`)).toHaveProperty('code', 'altered');
  });

  test('with the full stop or bracket of the sentence it stood in is whole', () => {
    for (const behind of ['.', ').', '”,', '>\n']) expect(readFragment(link + behind)).toHaveProperty('text');
  });

  test('of a newer version, or with a right checksum around something else, is refused in words', () => {
    expect(readFragment('#workbook.2.whatever-comes')).toHaveProperty('code', 'newer');
    expect(readFragment(linkAround(new Uint8Array([1, 2, 3, 4])))).toHaveProperty('code', 'altered');
    expect(readFragment(linkAround(deflateSync(new Uint8Array([0xff, 0xfe]))))).toHaveProperty(
      'code',
      'altered',
    );
    const cutStream = deflateSync(new TextEncoder().encode(frozen)).slice(0, -20);
    expect(readFragment(linkAround(cutStream))).toHaveProperty('code', 'altered');
    expect(readFragment('#workbook.1.999999999.00000000.')).toHaveProperty('code', 'too-large');
  });

  test('that would burst is stopped while it unpacks', () => {
    const bomb = linkAround(deflateSync(new Uint8Array(40_000_000), { level: 9 }));
    expect(bomb.length).toBeLessThan(500_000);
    const before = process.memoryUsage().arrayBuffers;
    expect(readFragment(bomb)).toHaveProperty('code', 'too-large');
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50_000_000);
    // Large but not by its ratio: past the most bytes.
    const noise = Uint8Array.from({ length: 3_600_000 }, (_, at) => 33 + ((at * at + (at >> 3)) % 90));
    const large = new Uint8Array(7_200_000);
    large.set(noise);
    large.set(noise.toReversed(), 3_600_000);
    expect(readFragment(linkAround(deflateSync(large, { level: 1 })))).toHaveProperty('code', 'too-large');
  });

  test('of any characters is refused or opened, and nothing is thrown', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), fc.nat(), (text, at) => {
        const place = at % link.length;
        for (const tried of [text, `#workbook.1.${text}`, link.slice(0, place) + text + link.slice(place)]) {
          const read = readFragment(tried);
          if ('code' in read) for (const words of [read.found, read.suggestion]) expect(words).not.toBe('');
        }
      }),
      { numRuns: 2000 },
    );
  });
});

test('lengths of the links of what ships', () => {
  const folder = new URL('../../../templates/', import.meta.url);
  const lines = readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .map((name) => {
      const { length } = writeFragment(documentOf(readFileSync(new URL(name, folder), 'utf8')));
      const fate =
        length > LINK_LENGTHS.tooLong
          ? 'as a file'
          : length > LINK_LENGTHS.cutByChat
            ? 'with a warning'
            : 'freely';
      // Each can be opened again, whichever way it is offered.
      expect(length).toBeLessThan(200_000);
      return `${name} ${length.toLocaleString('en-US')} characters: ${fate}`;
    });
  process.stdout.write(`${lines.join('\n')}\n`);
});
