/** Where values live: one array of doubles, one byte of state beside each, texts by number. */
import type { Fault } from '../formula/library.ts';
import type { Span } from '../formula/diagnostic.ts';

export const VALUE = 0;
export const BLANK = 1;
/** The calculation itself went wrong here. */
export const FAULT = 2;
/** Something that is read here is faulty. */
export const WAITING = 3;
export type SlotState = typeof VALUE | typeof BLANK | typeof FAULT | typeof WAITING;

/** Why a slot is not a value. */
export interface Cause {
  readonly fault?: Fault;
  readonly span?: Span;
  readonly waitingFor?: string;
  /** Why a blank is a blank, where more can be said than "nothing typed". */
  readonly reason?: string;
}

/** Whether two reasons would be told in the same words at the same place. */
export function sameCause(a: Cause | undefined, b: Cause | undefined): boolean {
  if (a === b) return true;
  return (
    a?.waitingFor === b?.waitingFor &&
    a?.reason === b?.reason &&
    a?.fault?.fault === b?.fault?.fault &&
    a?.fault?.suggestion === b?.fault?.suggestion &&
    a?.span?.start === b?.span?.start &&
    a?.span?.end === b?.span?.end
  );
}

/** Temporaries come first: a formula has at most 5,000 parts, a row formula a few inputs more. */
const TEMPORARIES = 16_384;

export class Storage {
  values = new Float64Array(TEMPORARIES * 2);
  states = new Uint8Array(TEMPORARIES * 2);
  readonly causes = new Map<number, Cause>();
  readonly temporaries = 0;
  #used = TEMPORARIES;
  /** Slots that were given back, by how many lie side by side. */
  readonly #free = new Map<number, number[]>();
  readonly #constants = new Map<number, number>();
  readonly #texts: string[] = [''];
  readonly #numbers = new Map<string, number>([['', 0]]);

  /** Slots from here on were never given out. */
  get used(): number {
    return this.#used;
  }

  /** Takes `wide` new slots, all blank. */
  allocate(wide: number): number {
    const slot = this.#free.get(wide)?.pop() ?? this.#used;
    if (slot === this.#used) this.#used += wide;
    if (this.#used > this.values.length) this.#grow();
    this.values.fill(NaN, slot, slot + wide);
    this.states.fill(BLANK, slot, slot + wide);
    return slot;
  }

  /** Gives slots back that nobody reads any more. */
  release(slot: number, wide: number): void {
    for (let k = 0; k < wide; k++) this.causes.delete(slot + k);
    const list = this.#free.get(wide);
    if (list) list.push(slot);
    else this.#free.set(wide, [slot]);
  }

  #grow(): void {
    const values = new Float64Array(this.#used * 2);
    values.set(this.values);
    this.values = values;
    const states = new Uint8Array(this.#used * 2);
    states.set(this.states);
    this.states = states;
  }

  constant(value: number): number {
    let slot = this.#constants.get(value);
    if (slot === undefined || !Object.is(this.values[slot], value)) {
      slot = this.allocate(1);
      this.#constants.set(value, slot);
      this.values[slot] = value;
      this.states[slot] = VALUE;
    }
    return slot;
  }

  /** The number of a text; equal texts have equal numbers. */
  textNumber(text: string): number {
    let n = this.#numbers.get(text);
    if (n === undefined) {
      n = this.#texts.length;
      this.#texts.push(text);
      this.#numbers.set(text, n);
    }
    return n;
  }

  textOf(n: number): string {
    return this.#texts[n] ?? '';
  }

  isTemporary(slot: number): boolean {
    return slot < TEMPORARIES;
  }
}
