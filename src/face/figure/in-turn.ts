/**
 * The drawings of one edit, one after another: the first at once, the next ones while they are quick, and the rest
 * right after the picture, so that a sheet of many figures on a slow phone shows what was typed without waiting for
 * all of them.
 */
import { afterPaint } from '../after-paint.ts';

/** Milliseconds that the figures may take before the picture: an eighth of a frame. */
const SHARE = 2;

let spent = 0;
let isCounting = false;

/** Paper takes its colours after `beforeprint`, and no picture comes before the page is printed. */
const isOnPaper = () => 'matchMedia' in globalThis && matchMedia('print').matches;

/** Draws now or right after the picture, in the order asked. */
export function inTurn(draw: () => void): void {
  if (spent >= SHARE && !isOnPaper()) {
    afterPaint(draw);
    return;
  }
  if (!isCounting) {
    isCounting = true;
    afterPaint(() => {
      isCounting = false;
      spent = 0;
    });
  }
  const began = performance.now();
  draw();
  spent += performance.now() - began;
}
