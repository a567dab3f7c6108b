/** The engine's door. */
export * from './quantity/index.ts';
export { BUILTINS } from './formula/builtins.ts';
export {
  isDiagnostic,
  nearest,
  renderDiagnostic,
  saidInLine,
  type Diagnostic,
  type Span,
} from './formula/diagnostic.ts';
export { children, type Expression, type Path } from './formula/expression.ts';
export { parse } from './formula/parse.ts';
export {
  defineFunction,
  fault,
  FunctionLibrary,
  isFault,
  type Answer,
  type Argument,
  type Fault,
  type FunctionDefinition,
  type Parameter,
  type Partials,
  type Scatter,
  type Result,
  type Scalar,
  type ValueType,
} from './formula/library.ts';
export { describeType, type QuantityType, type RecordType, type Type } from './formula/type.ts';
export { Engine } from './calculation/engine.ts';
export type {
  CellDefinition,
  ColumnDefinition,
  EntryType,
  PlusMinusMeaning,
  TableDefinition,
} from './calculation/node.ts';
export type { Budget, BudgetLine } from './calculation/budget.ts';
export { sampling, type Drawable, type Sample, type Sampling } from './calculation/sampling.ts';
export type { DeferredTask } from './calculation/deferred.ts';
export { NOT_KNOWN } from './calculation/storage.ts';
export type { CellState, Changes } from './calculation/state.ts';
