export {
  BASES,
  describeDimension,
  dimension,
  DIMENSIONLESS,
  dimensionName,
  divide,
  exponents,
  multiply,
  power,
} from './dimension.ts';
export type { Base, Dimension, Exponents } from './dimension.ts';
export { closest } from './spelling.ts';
export { UNIT_ROWS } from './unit-table.ts';
export type { UnitRow, UnitSystem } from './unit-table.ts';
export { parseUnit, scanUnit } from './unit-text.ts';
export type { UnitProblem } from './unit-text.ts';
export { meantFor, miswritten, saidOfHint } from './unit-hints.ts';
export { fromSI, isUnitSymbol, toSI } from './unit.ts';
export type { Unit } from './unit.ts';
export { displayUnit, unitsOf } from './unit-display.ts';
export { formatFeetInches, formatNumber, formatQuantity } from './format.ts';
export type { FormattedNumber, NumberFormat } from './format.ts';
export { lengthInWords, numeral, plainWords, quantityInWords, written } from './numeral.ts';
export type { Stretch, Words } from './numeral.ts';
export { isEntryLike, missingHint, numberOfWord } from './entry-hints.ts';
export { plainWidth, readEntry, scanLiteral } from './notation.ts';
export type {
  Entry,
  EntryProblem,
  Literal,
  LiteralOptions,
  LiteralProblem,
  LiteralScan,
} from './notation.ts';
export { gammaHalfRatio, normalProbability, studentProbability } from './student-distribution.ts';
export { studentDensity, studentProbabilityByDof, studentQuantileSlopes } from './student-derivative.ts';
export { SMALLEST_PROBABILITY, studentQuantile } from './student-quantile.ts';
