import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { inTurn } from '../../../src/face/figure/in-turn.ts';

let now = 0;
let frames: (() => void)[] = [];
let drawn: string[] = [];

/** A figure that takes so many milliseconds. */
const figure = (name: string, takes: number) => () => {
  drawn.push(name);
  now += takes;
};

function paint(): void {
  for (const frame of frames.splice(0)) frame();
  vi.advanceTimersByTime(0);
}

beforeEach(() => {
  vi.useFakeTimers();
  frames = [];
  drawn = [];
  vi.spyOn(performance, 'now').mockImplementation(() => now);
  vi.stubGlobal('requestAnimationFrame', (run: () => void) => frames.push(run));
  vi.stubGlobal('addEventListener', () => undefined);
  vi.stubGlobal('removeEventListener', () => undefined);
});

afterEach(() => {
  paint();
  vi.useRealTimers();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

it('draws all quick figures before the picture', () => {
  for (const name of ['fit', 'residuals', 'margin']) inTurn(figure(name, 0.5));
  expect(drawn).toEqual(['fit', 'residuals', 'margin']);
});

it('draws the first of slow figures at once and the others after the picture, in their order', () => {
  for (const name of ['fit', 'residuals', 'margin']) inTurn(figure(name, 5));
  expect(drawn).toEqual(['fit']);
  paint();
  expect(drawn).toEqual(['fit', 'residuals', 'margin']);
});

it('begins anew with every picture', () => {
  inTurn(figure('fit', 5));
  paint();
  inTurn(figure('fit again', 5));
  expect(drawn).toEqual(['fit', 'fit again']);
});

it('draws all figures at once where the page goes on paper: no picture comes before it', () => {
  let isPaper = false;
  vi.stubGlobal('matchMedia', (query: string) => ({ matches: isPaper && query === 'print' }));
  inTurn(figure('fit', 5));
  isPaper = true;
  for (const name of ['residuals', 'margin']) inTurn(figure(name, 5));
  expect(drawn).toEqual(['fit', 'residuals', 'margin']);
});
