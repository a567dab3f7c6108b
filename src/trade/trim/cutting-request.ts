import { fault, lengthInWords, numeral, written, type Fault } from '../../engine/index.ts';
import type { CuttingJob } from './cutting-job.ts';

export type Objective = 'price' | 'length' | 'sticks';
const OBJECTIVES: readonly string[] = ['price', 'length', 'sticks'] satisfies Objective[];

/** What is asked of a plan, in metres and dollars; columns of one table stand side by side. */
export interface CuttingRequest {
  readonly marks: readonly string[];
  readonly lengths: readonly number[];
  readonly quantities: readonly number[];
  readonly stockLengths: readonly number[];
  readonly usableLengths: readonly number[];
  readonly prices: readonly number[];
  readonly atMost: readonly number[];
  readonly handLengths: readonly number[];
  readonly handQuantities: readonly number[];
  readonly kerf: number;
  readonly keepLonger: number;
  readonly objective: string;
}

/** The job in whole numbers, and the way back. */
export interface PreparedJob {
  readonly job: CuttingJob;
  readonly objective: Objective;
  /** Metres in one unit of length of the job. */
  readonly unit: number;
  /** By stock of the job: its length as bought, metres; and whether it is there already. */
  readonly stocks: readonly { readonly nominal: number; readonly price: number; readonly onHand: boolean }[];
  /** By piece of the job: the marks to be cut, one for each, and their length as typed, metres. */
  readonly marks: readonly (readonly { readonly mark: string; readonly length: number }[])[];
}

/** Pieces that one plan takes: ten houses' worth of one moulding. */
export const MOST_PIECES = 5000;
const MOST_STICKS = 100_000;
const SIXTY_FOURTH = 0.0254 / 64;
const TENTH_MILLIMETRE = 0.0001;
/** Prices are held in hundredths of a cent. */
const COIN = 10_000;
const NEAR = 1e-6;

/** Turns a request into whole numbers, or says what is wrong with it. */
export function prepareJob(request: CuttingRequest): PreparedJob | Fault {
  const wrong = badPieces(request) ?? badStock(request);
  if (wrong) return wrong;
  const objective = request.objective as Objective;
  const unit = unitOf(request);
  // Between two marks of the rule a piece counts as longer and a stick as shorter, so that what is planned fits.
  const up = (metres: number) => Math.ceil(metres / unit - NEAR);
  const down = (metres: number) => Math.floor(metres / unit + NEAR);
  const stocks: { nominal: number; price: number; onHand: boolean }[] = [];
  const list: { length: number; cost: number; limit: number }[] = [];
  request.usableLengths.forEach((usable, s) => {
    const nominal = request.stockLengths[s] ?? usable;
    const price = request.prices[s] ?? 0;
    const atMost = request.atMost[s] ?? Infinity;
    stocks.push({ nominal, price, onHand: false });
    const cost = objective === 'price' ? Math.round(price * COIN) : objective === 'length' ? up(nominal) : 1;
    list.push({ length: down(usable), cost, limit: atMost >= MOST_STICKS ? Infinity : Math.floor(atMost) });
  });
  request.handLengths.forEach((length, s) => {
    const count = Math.floor(request.handQuantities[s] ?? 0);
    if (count < 1 || down(length) < 1) return;
    stocks.push({ nominal: length, price: 0, onHand: true });
    list.push({ length: down(length), cost: 0, limit: count });
  });
  const marks = new Map<number, { mark: string; length: number }[]>();
  request.lengths.forEach((length, i) => {
    const key = up(length);
    const known = marks.get(key) ?? [];
    marks.set(key, known);
    for (let n = 0; n < (request.quantities[i] ?? 0); n++)
      known.push({ mark: request.marks[i] ?? '', length });
  });
  const lengths = [...marks.keys()].sort((a, b) => b - a);
  return {
    job: {
      kerf: up(request.kerf),
      pieces: lengths.map((length) => ({ length, demand: marks.get(length)?.length ?? 0 })),
      stocks: list,
    },
    objective,
    unit,
    stocks,
    marks: lengths.map((length) => marks.get(length) ?? []),
  };
}

/** Sixty-fourths of an inch where every length stands on them, else tenths of a millimetre where every length does. */
function unitOf(request: CuttingRequest): number {
  const all = [
    ...request.lengths,
    ...request.usableLengths,
    ...request.handLengths,
    request.kerf,
    ...(request.objective === 'length' ? request.stockLengths : []),
  ];
  const onGrid = (unit: number) =>
    all.every((metres) => Math.abs(metres / unit - Math.round(metres / unit)) < NEAR);
  return !onGrid(SIXTY_FOURTH) && onGrid(TENTH_MILLIMETRE) ? TENTH_MILLIMETRE : SIXTY_FOURTH;
}

function badPieces(request: CuttingRequest): Fault | undefined {
  const { marks, lengths, quantities } = request;
  const name = (i: number) => (marks[i] ? `Piece ${marks[i]}` : `The piece in row ${i + 1}`);
  let total = 0;
  for (let i = 0; i < lengths.length; i++) {
    const length = lengths[i] ?? NaN;
    const quantity = quantities[i] ?? NaN;
    if (!(length > 0))
      return fault(
        `${name(i)} has the length ${lengthInWords(length)}.`,
        'Type a length above zero, or take the row out.',
      );
    if (!Number.isInteger(quantity) || quantity < 0)
      return fault(`${name(i)} is asked for ${numeral(quantity)} times.`, 'Type a whole number.');
    total += quantity;
  }
  if (total > MOST_PIECES)
    return fault(
      `${numeral(total)} pieces are more than the ${numeral(MOST_PIECES)} that one plan takes.`,
      'Check the quantities, or plan floor by floor.',
    );
  const longest = Math.max(0, ...request.usableLengths, ...request.handLengths);
  const i = lengths.findIndex((length) => length > longest + NEAR * SIXTY_FOURTH);
  if (i < 0 || longest === 0) return undefined;
  const length = lengths[i] ?? 0;
  const parts = Math.ceil(length / longest);
  return fault(
    `${name(i)}, ${lengthInWords(length)}, is longer than the longest stick, ${lengthInWords(longest)}.`,
    `Scarf it over a stud in ${parts} or more lengths (the take-off does so for a run), or add a longer stock.`,
  );
}

function badStock(request: CuttingRequest): Fault | undefined {
  const { usableLengths, stockLengths, prices, atMost, kerf, objective } = request;
  const name = (s: number) => lengthInWords(stockLengths[s] ?? NaN);
  if (!OBJECTIVES.includes(objective))
    return fault(
      `A plan cannot be made for the least “${objective}”.`,
      `Choose one of: ${OBJECTIVES.join(', ')}.`,
    );
  if (!(kerf >= 0 && kerf < 0.0254))
    return fault(
      `A kerf of ${lengthInWords(kerf)} is no saw cut.`,
      `Type 0 to ${written('1 in')}; ${written('1/8 in')} is usual (from memory).`,
    );
  for (let s = 0; s < usableLengths.length; s++) {
    if (!((usableLengths[s] ?? NaN) > 0))
      return fault(
        `The ${name(s)} stick has no usable length.`,
        'The end trim is longer than the stick: correct one of them.',
      );
    if (!((prices[s] ?? NaN) >= 0))
      return fault(`The ${name(s)} stick has a price below zero.`, 'Type its price.');
    if (!((atMost[s] ?? Infinity) >= 0))
      return fault(
        `Of the ${name(s)} stick there are fewer than none.`,
        'Type how many there are, or nothing.',
      );
  }
  const asked = request.quantities.some((quantity) => quantity > 0);
  if (asked && usableLengths.length === 0 && request.handQuantities.every((count) => count < 1))
    return fault(
      'There is no stick to cut these pieces from.',
      'Give this profile a stock length with a price in the table of stock.',
    );
  return undefined;
}
