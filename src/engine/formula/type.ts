/** What a formula yields. Quantity types are interned, so two types are equal when they are the same object. */
import { DIMENSIONLESS, describeDimension, dimension, type Dimension } from '../quantity/index.ts';

export interface QuantityType {
  readonly kind: 'quantity';
  readonly dimension: Dimension;
  /** A temperature reading (a point on the scale), as against a difference of temperatures. */
  readonly reading: boolean;
}
export interface TextType {
  readonly kind: 'text';
}
export interface LogicalType {
  readonly kind: 'logical';
}
export interface RecordType {
  readonly kind: 'record';
  readonly fields: ReadonlyMap<string, Type>;
  /** Name of the function that made it: two records are equal in type when one function made both. */
  readonly maker: string;
}
export type Type = QuantityType | TextType | LogicalType | RecordType;

const TEMPERATURE = dimension({ temperature: 1 });
const quantities = new Map<Dimension, QuantityType>();

export function quantityType(dimension: Dimension): QuantityType {
  let type = quantities.get(dimension);
  if (!type) {
    type = Object.freeze({ kind: 'quantity', dimension, reading: false } as const);
    quantities.set(dimension, type);
  }
  return type;
}

export const READING: QuantityType = Object.freeze({
  kind: 'quantity',
  dimension: TEMPERATURE,
  reading: true,
});
export const TEXT: TextType = Object.freeze({ kind: 'text' });
export const LOGICAL: LogicalType = Object.freeze({ kind: 'logical' });
export const NUMBER = quantityType(DIMENSIONLESS);
export const DIFFERENCE = quantityType(TEMPERATURE);

export function sameType(a: Type, b: Type): boolean {
  return a === b || (a.kind === 'record' && b.kind === 'record' && a.maker === b.maker);
}

/** Slots that a value of this type takes: one, or one for each field of a record. */
export function width(type: Type): number {
  return type.kind === 'record' ? type.fields.size : 1;
}

/** Everyday words: "area, length²", "a temperature reading", "text". */
export function describeType(type: Type): string {
  switch (type.kind) {
    case 'quantity':
      if (type.reading) return 'a temperature reading';
      return type.dimension === TEMPERATURE ? 'a temperature difference' : describeDimension(type.dimension);
    case 'text':
      return 'text';
    case 'logical':
      return 'yes or no';
    case 'record':
      return `a record (${[...type.fields.keys()].slice(0, 4).join(', ')}${type.fields.size > 4 ? ', …' : ''})`;
  }
}
