/**
 * Bytes of a WebAssembly module (WebAssembly Core Specification 2.0, chapter 5, binary format): only what
 * machine-code.ts needs of it.
 */

export const I32 = 0x7f;
export const F64 = 0x7c;
export const V128 = 0x7b;

/** Instructions: their first byte. */
export const W = {
  block: 0x02,
  loop: 0x03,
  if: 0x04,
  else: 0x05,
  end: 0x0b,
  br: 0x0c,
  brIf: 0x0d,
  call: 0x10,
  callIndirect: 0x11,
  drop: 0x1a,
  select: 0x1b,
  get: 0x20,
  set: 0x21,
  tee: 0x22,
  loadI32: 0x28,
  loadF64: 0x2b,
  storeI32: 0x36,
  storeF64: 0x39,
  constI32: 0x41,
  constF64: 0x44,
  eqzI32: 0x45,
  eqI32: 0x46,
  ltI32: 0x48,
  gtI32: 0x4a,
  geI32: 0x4e,
  addI32: 0x6a,
  andI32: 0x71,
  shlI32: 0x74,
  eq: 0x61,
  ne: 0x62,
  less: 0x63,
  greater: 0x64,
  lessOrEqual: 0x65,
  greaterOrEqual: 0x66,
  abs: 0x99,
  neg: 0x9a,
  sqrt: 0x9f,
  add: 0xa0,
  sub: 0xa1,
  mul: 0xa2,
  div: 0xa3,
  min: 0xa4,
  max: 0xa5,
} as const;

/** Fills memory: address, byte, how many. */
export const FILL = [0xfc, 0x0b, 0x00] as const;

/** Instructions on two doubles at a time. */
export const V = {
  load: [0xfd, 0x00],
  loadSplat: [0xfd, 0x0a],
  store: [0xfd, 0x0b],
  splat: [0xfd, 0x14],
  lane: [0xfd, 0x21],
  eq: [0xfd, 0x47],
  ne: [0xfd, 0x48],
  less: [0xfd, 0x49],
  greater: [0xfd, 0x4a],
  lessOrEqual: [0xfd, 0x4b],
  greaterOrEqual: [0xfd, 0x4c],
  and: [0xfd, 0x4e],
  andNot: [0xfd, 0x4f],
  bitSelect: [0xfd, 0x52],
  abs: [0xfd, 0xec, 0x01],
  neg: [0xfd, 0xed, 0x01],
  sqrt: [0xfd, 0xef, 0x01],
  add: [0xfd, 0xf0, 0x01],
  sub: [0xfd, 0xf1, 0x01],
  mul: [0xfd, 0xf2, 0x01],
  div: [0xfd, 0xf3, 0x01],
  min: [0xfd, 0xf4, 0x01],
  max: [0xfd, 0xf5, 0x01],
  /** The second where it is less, or greater; else the first. */
  lesser: [0xfd, 0xf6, 0x01],
  greatest: [0xfd, 0xf7, 0x01],
} as const;

/** Block without a result. */
export const EMPTY = 0x40;

export interface FunctionCode {
  /** Index of its type. */
  readonly type: number;
  /** Locals beside the parameters: how many of each type. */
  readonly locals: readonly (readonly [count: number, type: number])[];
  readonly body: readonly number[];
}

export interface ModuleParts {
  /** Parameters and results. */
  readonly types: readonly (readonly [readonly number[], readonly number[]])[];
  /** Imported from `env`: functions with the index of their type; the memory comes from there too. */
  readonly imports: readonly (readonly [name: string, type: number])[];
  readonly functions: readonly FunctionCode[];
  /** Index, imports counted, of the one that is exported as `run`. */
  readonly exported: number;
  /** Indices of functions that stand in the table. */
  readonly table: readonly number[];
}

/** Unsigned, seven bits a byte. */
export function unsigned(value: number): number[] {
  const bytes: number[] = [];
  for (let rest = value; ;) {
    const low = rest & 0x7f;
    rest >>>= 7;
    if (rest === 0) return [...bytes, low];
    bytes.push(low | 0x80);
  }
}

/** Instruction that puts an address or a small number on the stack: signed, seven bits a byte. */
export function i32(value: number): number[] {
  const bytes: number[] = [W.constI32];
  for (let rest = value; ;) {
    const low = rest & 0x7f;
    rest >>= 7;
    if (rest === -(low >> 6)) return [...bytes, low];
    bytes.push(low | 0x80);
  }
}

const double = new DataView(new ArrayBuffer(8));

export function f64(value: number): number[] {
  double.setFloat64(0, value, true);
  return [W.constF64, ...Array.from({ length: 8 }, (_, k) => double.getUint8(k))];
}

export function moduleBytes(parts: ModuleParts): Uint8Array<ArrayBuffer> {
  const { types, imports, functions, table } = parts;
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(
      1,
      list(
        types.map(([given, made]) => [0x60, ...list(given.map((t) => [t])), ...list(made.map((t) => [t]))]),
      ),
    ),
    ...section(
      2,
      list([
        ...imports.map(([name, type]) => [...text('env'), ...text(name), 0x00, ...unsigned(type)]),
        [...text('env'), ...text('memory'), 0x02, 0x00, 0x01],
      ]),
    ),
    ...section(3, list(functions.map((f) => unsigned(f.type)))),
    ...section(4, list([[0x70, 0x00, ...unsigned(table.length)]])),
    ...section(7, list([[...text('run'), 0x00, ...unsigned(parts.exported)]])),
    ...section(9, list([[0x00, W.constI32, 0x00, W.end, ...list(table.map(unsigned))]])),
    ...section(10, list(functions.map(functionBytes))),
  ]);
}

function functionBytes({ locals, body }: FunctionCode): number[] {
  const bytes = [...list(locals.map(([count, type]) => [...unsigned(count), type])), ...body, W.end];
  return [...unsigned(bytes.length), ...bytes];
}

function section(id: number, bytes: readonly number[]): number[] {
  return [id, ...unsigned(bytes.length), ...bytes];
}

function list(items: readonly (readonly number[])[]): number[] {
  return [...unsigned(items.length), ...items.flat()];
}

function text(ascii: string): number[] {
  return list(Array.from(ascii, (letter) => [letter.charCodeAt(0)]));
}
