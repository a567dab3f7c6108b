/**
 * What-if: the same workbook with some typed values tried in place of others, side by side with the base. Sources of
 * uncertainty keep their identity across scenarios, so what both sides share cancels in a difference.
 */
import type { Budget, CellState, FunctionLibrary } from '../engine/index.ts';
import type { Override, Scenario, WorkbookDocument } from './document.ts';
import { applyEdit } from './edit.ts';
import type { Edit, EditProblem } from './edit-kinds.ts';
import { findItem, findTable } from './locate.ts';
import { Workbook } from './workbook.ts';

/** The edits that a scenario stands for; an override of what is no longer there is left out. */
export function scenarioEdit(
  document: WorkbookDocument,
  scenario: Pick<Scenario, 'name' | 'overrides'>,
): Edit {
  const edits = scenario.overrides.flatMap((override): Edit[] => {
    if ('cell' in override)
      return findItem(document, override.cell)?.kind === 'cell'
        ? [{ kind: 'set-cell', cell: override.cell, patch: { text: override.text } }]
        : [];
    const table = findTable(document, override.table);
    const there =
      table?.rows.some((r) => r.id === override.row) && table.columns.some((c) => c.id === override.column);
    return there
      ? [
          {
            kind: 'set-entries',
            table: override.table,
            entries: [{ row: override.row, column: override.column, text: override.text }],
          },
        ]
      : [];
  });
  return { kind: 'batch', label: `scenario ${scenario.name}`, edits };
}

/** The workbook as it would be; the base is not touched. */
export function withScenario(
  document: WorkbookDocument,
  library: FunctionLibrary,
  scenario: Pick<Scenario, 'name' | 'overrides'>,
): Workbook | EditProblem {
  const applied = applyEdit(document, scenarioEdit(document, scenario));
  return 'problem' in applied ? applied : new Workbook(applied.document, library);
}

export interface Difference {
  /** Scenario less base, SI. */
  readonly value: number;
  /** Standard uncertainty, SI, with what both share cancelled. */
  readonly uncertainty: number;
  /** Whether the difference is more than twice its standard uncertainty. */
  readonly exceeds: boolean;
}

export interface Compared {
  readonly name: string;
  readonly base: CellState;
  readonly scenario: CellState;
  /** Where both are numbers of one kind. */
  readonly difference?: Difference;
}

export function compare(base: Workbook, scenario: Workbook, names: readonly string[]): Compared[] {
  return names.map((name) => {
    const before = base.state(name);
    const after = scenario.state(name);
    const a = base.budget(name);
    const b = scenario.budget(name);
    const difference = a && b ? differenceOf(a, b) : undefined;
    return { name, base: before, scenario: after, ...(difference ? { difference } : {}) };
  });
}

function differenceOf(a: Budget, b: Budget): Difference | undefined {
  if (a.type.kind !== 'quantity' || b.type.kind !== 'quantity' || a.type.dimension !== b.type.dimension)
    return undefined;
  const parts = new Map<string, number>();
  for (const line of b.lines) parts.set(line.key, (parts.get(line.key) ?? 0) + line.contribution);
  for (const line of a.lines) parts.set(line.key, (parts.get(line.key) ?? 0) - line.contribution);
  let square = 0;
  for (const part of parts.values()) square += part * part;
  const value = b.value - a.value;
  const uncertainty = Math.sqrt(square);
  return { value, uncertainty, exceeds: Math.abs(value) > 2 * uncertainty };
}

/** Overrides with one value set where it stood, or at the end; taken out where `text` is undefined. */
export function withOverride(
  overrides: readonly Override[],
  place:
    { readonly cell: string } | { readonly table: string; readonly row: string; readonly column: string },
  text: string | undefined,
): Override[] {
  const at = overrides.findIndex((o) => placeKey(o) === placeKey(place));
  if (text === undefined) return overrides.filter((_, i) => i !== at);
  return at < 0 ? [...overrides, { ...place, text }] : overrides.with(at, { ...place, text });
}

function placeKey(
  place:
    { readonly cell: string } | { readonly table: string; readonly row: string; readonly column: string },
): string {
  return 'cell' in place ? place.cell : `${place.table}\n${place.row}\n${place.column}`;
}
