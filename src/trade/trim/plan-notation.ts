/**
 * A plan as one text, which a cell can hold and a figure can draw: JSON, lengths in metres, sticks in cutting order.
 */

export interface PlannedStick {
  /** Length as bought, or as it lies on site. */
  readonly stock: number;
  readonly onHand: boolean;
  /** Mark and length of each piece, longest first. */
  readonly pieces: readonly (readonly [mark: string, length: number])[];
  /** What is left behind the last cut. */
  readonly left: number;
  /** Label of the offcut where it is kept. */
  readonly keep?: string;
}

export function writePlan(sticks: readonly PlannedStick[]): string {
  return sticks.length === 0 ? '' : JSON.stringify(sticks);
}

/** Plans read lately, the newest last: a table asks about one plan row by row, and to read it anew each time takes seconds. */
const lately = new Map<string, readonly PlannedStick[]>();
const MOST_LATELY = 8;

/** Undefined where the text is no plan. */
export function readPlan(text: string): readonly PlannedStick[] | undefined {
  if (text === '') return [];
  const known = lately.get(text) ?? parsed(text);
  if (!known) return undefined;
  lately.delete(text);
  lately.set(text, known);
  for (const oldest of lately.keys()) {
    if (lately.size <= MOST_LATELY) break;
    lately.delete(oldest);
  }
  return known;
}

function parsed(text: string): readonly PlannedStick[] | undefined {
  try {
    const sticks: unknown = JSON.parse(text);
    return Array.isArray(sticks) && sticks.every(isStick) ? sticks : undefined;
  } catch {
    return undefined;
  }
}

function isStick(value: unknown): value is PlannedStick {
  if (typeof value !== 'object' || value === null) return false;
  const { stock, onHand, pieces, left } = value as Record<string, unknown>;
  return (
    typeof stock === 'number' &&
    typeof onHand === 'boolean' &&
    typeof left === 'number' &&
    Array.isArray(pieces) &&
    pieces.every(
      (piece) => Array.isArray(piece) && typeof piece[0] === 'string' && typeof piece[1] === 'number',
    )
  );
}
