/** Columns of a new table from headings as they are written on paper: `Width (ft)`, `Area (ft2) = width * depth`. */
import { parseUnit } from '../engine/index.ts';
import type { Column } from './document.ts';
import { freeId } from './identity.ts';
import { freeName, nameFrom } from './name.ts';

/** One heading a line. `refused` tells why a word cannot be a name. */
export function columnsFrom(
  lines: string,
  refused: (word: string) => string | undefined = () => undefined,
): Column[] {
  const names = new Set<string>();
  const ids = new Set<string>();
  return lines.split('\n').flatMap((line): Column[] => {
    const equals = line.indexOf('=');
    const heading = (equals < 0 ? line : line.slice(0, equals)).trim();
    const formula = equals < 0 ? '' : line.slice(equals + 1).trim();
    if (heading === '') return [];
    const { label, unit, isNumber } = splitUnit(heading);
    const name = nameOf(label, names, refused);
    names.add(name);
    const id = freeId(name, ids);
    ids.add(id);
    return [
      {
        id,
        name,
        label,
        type: isNumber || formula !== '' ? 'number' : 'text',
        unit,
        ...(formula === '' ? {} : { formula }),
        note: '',
      },
    ];
  });
}

/** Brackets make a number: `Width (ft)`, `Pieces (number)`. A bare heading is text until it is told otherwise. */
function splitUnit(heading: string): { label: string; unit: string; isNumber: boolean } {
  const found = /^(?<label>.*\S)\s*\((?<unit>[^()]*)\)$/u.exec(heading)?.groups;
  const { label = '', unit = '' } = found ?? {};
  if (label === '') return { label: heading, unit: '', isNumber: false };
  if (unit === 'number' || unit === '1') return { label, unit: '', isNumber: true };
  return 'problem' in parseUnit(unit)
    ? { label: heading, unit: '', isNumber: false }
    : { label, unit, isNumber: true };
}

/** A free name made of the label, that is no unit and no function. */
export function nameOf(
  label: string,
  taken: { has(name: string): boolean },
  refused: (word: string) => string | undefined = () => undefined,
): string {
  const plain = nameFrom(label).toLowerCase();
  const wish = refused(plain) === undefined ? plain : `${plain}_value`;
  return freeName(wish, { has: (name) => taken.has(name) || refused(name) !== undefined });
}
