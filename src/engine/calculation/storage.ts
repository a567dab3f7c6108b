/** Where values live: one array of doubles, one byte of state beside each, texts by number. */
import { memoryOf } from '../formula/memory.ts';
import type { Fault } from '../formula/library.ts';
import type { Span } from '../formula/diagnostic.ts';
import { plainWords, type Stretch } from '../quantity/index.ts';

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
  /** A condition chose the row, which is blank: unlike one that it leaves out, it is missed. */
  readonly chosen?: true;
}

/** The reason of a function that has no result yet, where no more can be said. */
export const NOT_KNOWN = 'not known yet';

/** Whether two reasons would be told in the same words at the same place. */
export function sameCause(a: Cause | undefined, b: Cause | undefined): boolean {
  if (a === b) return true;
  return (
    a?.waitingFor === b?.waitingFor &&
    a?.reason === b?.reason &&
    a?.chosen === b?.chosen &&
    a?.fault?.fault === b?.fault?.fault &&
    a?.fault?.suggestion === b?.fault?.suggestion &&
    a?.span?.start === b?.span?.start &&
    a?.span?.end === b?.span?.end
  );
}

/** Temporaries come first: a formula has at most 5,000 parts, a row formula a few inputs more. */
const TEMPORARIES = 16_384;

/** Memory in which the values lie, and where in it a part was taken. */
export interface Shared {
  readonly memory: WebAssembly.Memory;
  readonly address: number;
}

const ALIGNED = 16;
/** Room is made for what was asked, so many times. */
const SHARES = 4;

export class Storage {
  values: Float64Array = new Float64Array(TEMPORARIES * 2);
  states = new Uint8Array(TEMPORARIES * 2);
  /** Where the values lie while machine code works on them. */
  #memory: WebAssembly.Memory | undefined;
  /** Of that, what lies from here on is free. */
  #sharedTo = 0;
  readonly causes = new Map<number, Cause>();
  readonly temporaries = 0;
  #used = TEMPORARIES;
  /** Slots that were given back, by how many lie side by side. */
  readonly #free = new Map<number, number[]>();
  readonly #constants = new Map<number, number>();
  readonly #texts: string[] = [''];
  readonly #numbers = new Map<string, number>([['', 0]]);
  readonly #numerals = new Map<number, readonly Stretch[]>();

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
    this.#memory = undefined;
    const states = new Uint8Array(this.#used * 2);
    states.set(this.states);
    this.states = states;
  }

  /**
   * Has the values lie in memory that machine code reaches, their slots at eight times their number, and takes so many
   * bytes behind them. Where they lie in such memory without room for that, they move to another. Undefined
   * where the page may have none.
   */
  share(bytes: number): Shared | undefined {
    let memory = this.#memory;
    if (!memory || this.#sharedTo + bytes > memory.buffer.byteLength) {
      const taken = this.values.byteLength;
      memory = memoryOf(taken + SHARES * bytes);
      if (!memory) return undefined;
      const values = new Float64Array(memory.buffer, 0, this.values.length);
      values.set(this.values);
      this.values = values;
      this.#memory = memory;
      this.#sharedTo = taken;
    }
    const address = this.#sharedTo;
    this.#sharedTo += Math.ceil(bytes / ALIGNED) * ALIGNED;
    return { memory, address };
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

  /** The number of words that a function wrote; where numbers stand in them is kept beside them. */
  wordsNumber(words: string): number {
    const { text, numerals } = plainWords(words);
    const n = this.textNumber(text);
    if (numerals) this.#numerals.set(n, numerals);
    return n;
  }

  numeralsOf(n: number): readonly Stretch[] | undefined {
    return this.#numerals.get(n);
  }

  textOf(n: number): string {
    return this.#texts[n] ?? '';
  }

  isTemporary(slot: number): boolean {
    return slot < TEMPORARIES;
  }
}
