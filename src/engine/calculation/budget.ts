/** An uncertainty budget: every source with its size, its sensitivity, what it contributes and its share. */
import type { Type } from '../formula/type.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { ByDifferences } from './by-differences.ts';
import { effectiveDof, type SourceKind } from './sources.ts';
import { VALUE } from './storage.ts';
import type { Uncertainty } from './uncertainty.ts';

export interface BudgetLine {
  /** The source's identity, equal in every workbook that has it. */
  readonly key: string;
  /** Name of the cell, or of the column with its row, that the uncertainty was typed at; or the fit it scatters about. */
  readonly source: string;
  readonly kind: SourceKind;
  /** Standard uncertainty of the source, SI; 1 for a component of a fit's scatter. */
  readonly uncertainty: number;
  /** Change of the result for a unit change of the source, SI. */
  readonly sensitivity: number;
  /** Sensitivity times uncertainty, with its sign. */
  readonly contribution: number;
  /** Part of the result's variance. */
  readonly share: number;
  readonly degreesOfFreedom: number;
}

export interface Budget {
  readonly type: Type;
  readonly value: number;
  /** Standard uncertainty, SI. */
  readonly uncertainty: number;
  /** Effective degrees of freedom (Welch–Satterthwaite). */
  readonly degreesOfFreedom: number;
  /** Largest share first. */
  readonly lines: readonly BudgetLine[];
  /** Functions whose sensitivities were found by differences, not exactly, and where they are called. */
  readonly byDifferences: readonly ByDifferences[];
}

export function budgetOf(
  book: Book,
  uncertainty: Uncertainty,
  name: string,
  row?: number,
): Budget | undefined {
  const [first = '', second, third] = name.split('.');
  const column = second === undefined ? undefined : book.tables.get(first)?.columns.get(second);
  const node = column ?? book.byKey.get(first);
  const offset = node && fieldOffset(node, column ? third : second);
  if (!node || offset === undefined || node.type === undefined) return undefined;
  if (column) {
    const field = column.data?.fields[offset];
    if (row === undefined || field?.states[row] !== VALUE) return undefined;
    return make(uncertainty, { node, row, offset }, field.values[row]!);
  }
  const slot = node.slot + offset;
  if (slot < 0 || book.storage.states[slot] !== VALUE) return undefined;
  return make(uncertainty, { node, row: -1, offset }, book.storage.values[slot]!);
}

function fieldOffset(node: GraphNode, field: string | undefined): number | undefined {
  if (node.type?.kind !== 'record') return field === undefined ? 0 : undefined;
  const at = field === undefined ? -1 : [...node.type.fields.keys()].indexOf(field);
  return at < 0 ? undefined : at;
}

function fieldType(node: GraphNode, offset: number): Type {
  if (node.type?.kind === 'record') return [...node.type.fields.values()][offset]!;
  return node.type!;
}

interface Place {
  readonly node: GraphNode;
  /** -1 for a cell. */
  readonly row: number;
  readonly offset: number;
}

function make(uncertainty: Uncertainty, { node, row, offset }: Place, value: number): Budget {
  const spread = row < 0 ? uncertainty.ofCell(node, offset) : uncertainty.ofRow(node, row, offset);
  const u = spread.uncertainty;
  const lines = Array.from(spread.set.ids, (id, k): BudgetLine => {
    const source = uncertainty.sources.get(id);
    const contribution = spread.parts[k]!;
    return {
      key: source.key,
      source: source.label,
      kind: source.kind,
      uncertainty: source.u,
      sensitivity: source.u === 0 ? 0 : contribution / source.u,
      contribution,
      share: u === 0 ? 0 : (contribution / u) ** 2,
      degreesOfFreedom: source.dof,
    };
  });
  return {
    type: fieldType(node, offset),
    value,
    uncertainty: u,
    degreesOfFreedom: effectiveDof(spread, uncertainty.sources),
    lines: lines.sort((a, b) => b.share - a.share),
    byDifferences: uncertainty.byDifferences(node, row, offset),
  };
}
