/** Fields of a file that the format does not know. They are kept out of the document, and named to the person. */
import * as v from 'valibot';
import { FileShape } from './format.ts';
import { placeInFile, type FileWarning } from './file-error.ts';

const MOST_WARNINGS = 50;

/** Walks the file beside the schema; `file` is known to fit it. */
export function unknownFields(file: unknown): FileWarning[] {
  const warnings: FileWarning[] = [];
  let left = 0;
  const visit = (value: unknown, shape: v.GenericSchema, keys: readonly (string | number)[]): void => {
    const inner = innermost(shape, value);
    if (isList(inner) && Array.isArray(value)) {
      for (const [index, entry] of value.entries()) visit(entry, inner.item, [...keys, index]);
    } else if (isObject(inner) && typeof value === 'object' && value !== null) {
      for (const [key, field] of Object.entries(value)) {
        const known = Object.hasOwn(inner.entries, key) ? inner.entries[key] : undefined;
        if (known) visit(field, known, [...keys, key]);
        else if (warnings.length < MOST_WARNINGS) {
          warnings.push({
            where: placeInFile(file, keys),
            message: `The field “${key.slice(0, 60)}” is not known here and was left out.`,
          });
        } else left++;
      }
    }
  };
  visit(file, FileShape, []);
  if (left > 0)
    warnings.push({ where: 'the file', message: `${String(left)} more unknown fields were left out.` });
  return warnings;
}

type ObjectShape = v.GenericSchema & { readonly entries: Readonly<Record<string, v.GenericSchema>> };
type ListShape = v.GenericSchema & { readonly item: v.GenericSchema };

function isObject(shape: v.GenericSchema): shape is ObjectShape {
  return shape.type === 'object';
}

function isList(shape: v.GenericSchema): shape is ListShape {
  return shape.type === 'array';
}

/** The schema inside an optional one, or the alternative that fits the value's kind. */
function innermost(shape: v.GenericSchema, value: unknown): v.GenericSchema {
  if ('wrapped' in shape) return innermost(shape.wrapped as v.GenericSchema, value);
  if (shape.type !== 'variant') return shape;
  const options = (shape as unknown as { readonly options: readonly ObjectShape[] }).options;
  const fitting = options.find(({ entries }) => {
    const { kind } = entries;
    return kind !== undefined && v.is(kind, (value as { readonly kind?: unknown }).kind);
  });
  return fitting ?? shape;
}
