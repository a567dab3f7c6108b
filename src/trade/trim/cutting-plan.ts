import { defineFunction, isFault } from '../../engine/index.ts';
import { cuttingAnswer, NO_PLAN, NOT_ENOUGH } from './cutting-answer.ts';
import { prepareJob, type CuttingRequest } from './cutting-request.ts';
import { quickPlan } from './quick-plan.ts';

/** Arguments of `cutting_plan`, in its order. */
export type CuttingArguments = readonly [
  marks: readonly string[],
  lengths: readonly number[],
  quantities: readonly number[],
  stockLengths: readonly number[],
  usableLengths: readonly number[],
  prices: readonly number[],
  atMost: readonly number[],
  handLengths: readonly number[],
  handQuantities: readonly number[],
  kerf: number,
  keepLonger: number,
  objective: string,
];

export function cuttingRequest(given: CuttingArguments): CuttingRequest {
  const [marks, lengths, quantities, stockLengths, usableLengths, prices, atMost] = given;
  const [, , , , , , , handLengths, handQuantities, kerf, keepLonger, objective] = given;
  return {
    marks,
    lengths,
    quantities,
    stockLengths,
    usableLengths,
    prices,
    atMost,
    handLengths,
    handQuantities,
    kerf,
    keepLonger,
    objective,
  };
}

const number = { kind: 'quantity', unit: '' } as const;
const length = { kind: 'quantity', unit: 'm' } as const;
const money = { kind: 'quantity', unit: 'USD' } as const;
const text = { kind: 'text' } as const;
const column = true;

export const cuttingPlanFunction = defineFunction({
  name: 'cutting_plan',
  summary:
    'Cuts pieces from stock lengths and from what lies on site so that price, length or the number of sticks is least.',
  source:
    'Quick answer: first-fit and best-fit decreasing. Full answer: column generation (P. C. Gilmore and R. E. Gomory, Operations Research 9, 1961; from memory, not read) with branching on the number of sticks, integer programs by HiGHS. Checked with published cutting-stock instances.',
  limits:
    'A kerf lies between neighbouring pieces only. Lengths are held in 1/64 in, or in 0.1 mm where all stand on that; in between, a piece counts as longer and a stick as shorter. At most 5,000 pieces. A piece longer than every stick is refused: scarf it first. Grain, defects and matching of figure are not known to it. A plan is of the lengths as typed: it carries no ±.',
  parameters: [
    { name: 'mark', type: text, column, table: 'pieces', summary: 'What is written on the piece' },
    { name: 'length', type: length, column, table: 'pieces', summary: 'Long point to long point' },
    { name: 'quantity', type: number, column, table: 'pieces', summary: 'How many of it' },
    { name: 'stock_length', type: length, column, table: 'stock', summary: 'As it is bought' },
    { name: 'usable_length', type: length, column, table: 'stock', summary: 'With both ends squared' },
    { name: 'price', type: money, column, table: 'stock', summary: 'Of one stick' },
    {
      name: 'at_most',
      type: number,
      column,
      table: 'stock',
      summary: 'How many can be had; 100,000 or more is no limit',
    },
    {
      name: 'hand_length',
      type: length,
      column,
      table: 'stock on hand',
      summary: 'Usable length of what lies on site',
    },
    {
      name: 'hand_quantity',
      type: number,
      column,
      table: 'stock on hand',
      summary: 'How many of it; they cost nothing more',
    },
    { name: 'kerf', type: length, summary: 'Width of the saw cut' },
    { name: 'keep_longer', type: length, summary: 'An offcut longer than this is kept and labelled' },
    { name: 'objective', type: text, summary: 'What is to be least: price, length or sticks' },
  ],
  result: {
    kind: 'record',
    fields: {
      price: { type: money, summary: 'Of the sticks that are bought' },
      sticks: { type: number, summary: 'Sticks that are bought' },
      bought_length: { type: length, summary: 'Their length' },
      from_hand: { type: number, summary: 'Sticks used of what lies on site' },
      cut_length: { type: length, summary: 'Length of all pieces' },
      kept_offcuts: { type: number, summary: 'Offcuts that are kept' },
      kept_length: { type: length, summary: 'Their length' },
      waste: { type: number, summary: 'Part of all sticks used that is neither piece nor kept offcut' },
      gap: { type: number, summary: 'How much less the least could be at best; 0 is proved' },
      first_fit_price: { type: money, summary: 'Of first-fit decreasing from the longest stock alone' },
      status: { type: text, summary: 'What is proved' },
      plan: { type: text, summary: 'Stick by stick, for the figure and the cut list' },
    },
  },
  example: {
    arguments: [
      ['leg', 'head', 'sill'],
      [2.125, 1, 1.2],
      [4, 2, 1],
      [2.4384, 4.8768],
      [2.4, 4.85],
      [8, 18],
      [100000, 100000],
      [1.3],
      [1],
      0.003,
      0.6,
      'price',
    ],
    result: {
      price: 40,
      sticks: 5,
      bought_length: 12.192,
      from_hand: 1,
      cut_length: 11.7,
      kept_offcuts: 0,
      kept_length: 0,
      waste: 0.132819448562111,
      gap: NaN,
      first_fit_price: 54,
      status: 'quick plan, not yet proved',
      plan: '[{"stock":2.4384,"onHand":false,"pieces":[["leg",2.125]],"left":0.272},{"stock":2.4384,"onHand":false,"pieces":[["leg",2.125]],"left":0.272},{"stock":2.4384,"onHand":false,"pieces":[["leg",2.125]],"left":0.272},{"stock":2.4384,"onHand":false,"pieces":[["leg",2.125]],"left":0.272},{"stock":2.4384,"onHand":false,"pieces":[["sill",1.2],["head",1]],"left":0.194},{"stock":1.3,"onHand":true,"pieces":[["head",1]],"left":0.297}]',
    },
  },
  deferred: true,
  compute: (...given: CuttingArguments) => {
    const request = cuttingRequest(given);
    const prepared = prepareJob(request);
    if (isFault(prepared)) return prepared;
    if (prepared.job.pieces.length === 0) return NO_PLAN;
    const plan = quickPlan(prepared.job);
    return plan ? cuttingAnswer(request, prepared, { plan }) : NOT_ENOUGH;
  },
});
