/**
 * Aggregates keep one partial result for every 512 rows, so that an edit of one row touches one chunk. The chunk
 * size is fixed: another would change the last digit of sums.
 */
import { CHUNK } from './kernel.ts';
import type { AggregateData, ColumnData, GraphNode } from './node.ts';
import { BLANK, VALUE, WAITING, type Cause, type SlotState } from './storage.ts';

/** Brings the partial results of the chunks that hold rows `from` up to `to` up to date. */
export function updateChunks(aggregate: AggregateData, column: ColumnData, from: number, to: number): void {
  const chunks = Math.ceil(column.rows / CHUNK);
  let first = Math.floor(from / CHUNK);
  let last = Math.min(chunks, Math.ceil(to / CHUNK));
  if (aggregate.sums.length !== chunks) {
    aggregate.sums = new Float64Array(chunks);
    aggregate.counts = new Int32Array(chunks);
    aggregate.faulty = new Int32Array(chunks);
    first = 0;
    last = chunks;
  }
  const field = column.fields[aggregate.offset];
  if (!field) return;
  for (let chunk = first; chunk < last; chunk++)
    partial(aggregate, chunk, field.values, field.states, Math.min(column.rows, (chunk + 1) * CHUNK));
}

function partial(
  aggregate: AggregateData,
  chunk: number,
  values: Float64Array,
  states: Uint8Array,
  end: number,
): void {
  const start = chunk * CHUNK;
  const { name } = aggregate;
  let count = end - start;
  let result = 0;
  let faulty = -1;
  if (name === 'sum' || name === 'mean') for (let i = start; i < end; i++) result += values[i]!;
  else if (name === 'min') {
    result = Infinity;
    for (let i = start; i < end; i++) {
      const v = values[i]!;
      result = v < result ? v : v >= result ? result : NaN;
    }
  } else if (name === 'max') {
    result = -Infinity;
    for (let i = start; i < end; i++) {
      const v = values[i]!;
      result = v > result ? v : v <= result ? result : NaN;
    }
  } else for (let i = start; i < end; i++) result += values[i]! * 0;
  if (result !== result) {
    // Some row is no value: the same again, looking at each.
    count = 0;
    result = name === 'min' ? Infinity : name === 'max' ? -Infinity : 0;
    for (let i = start; i < end; i++) {
      const state = states[i];
      if (state === BLANK) continue;
      if (state !== VALUE) {
        if (faulty < 0) faulty = i;
        continue;
      }
      const v = values[i]!;
      count++;
      if (name === 'min') result = Math.min(result, v);
      else if (name === 'max') result = Math.max(result, v);
      else result += v;
    }
  }
  aggregate.sums[chunk] = result;
  aggregate.counts[chunk] = count;
  aggregate.faulty[chunk] = faulty;
}

export interface Combined {
  readonly value: number;
  readonly state: SlotState;
  readonly cause?: Cause;
}

const EMPTY: Cause = { reason: 'no row to take it from' };

export function combine(aggregate: AggregateData, column: GraphNode): Combined {
  const { name, sums, counts, faulty } = aggregate;
  let count = 0;
  let result = name === 'min' ? Infinity : name === 'max' ? -Infinity : 0;
  for (let chunk = 0; chunk < sums.length; chunk++) {
    if (faulty[chunk]! >= 0)
      return {
        value: NaN,
        state: WAITING,
        cause: { waitingFor: `${column.key}, row ${faulty[chunk]! + 1}` },
      };
    count += counts[chunk]!;
    const s = sums[chunk]!;
    if (name === 'min') result = Math.min(result, s);
    else if (name === 'max') result = Math.max(result, s);
    else result += s;
  }
  if (name === 'count') return { value: count, state: VALUE };
  if (name === 'sum') return { value: result, state: VALUE };
  if (count === 0) return { value: NaN, state: BLANK, cause: EMPTY };
  return { value: name === 'mean' ? result / count : result, state: VALUE };
}
