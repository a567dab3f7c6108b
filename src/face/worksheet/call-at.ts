/** The call that a caret stands in: which function, and which of its arguments. */

export interface CallAt {
  readonly name: string;
  /** Counted from 0. */
  readonly argument: number;
}

interface Open {
  readonly name: string;
  argument: number;
}

const NAME_BEFORE = /([\p{L}][\p{L}\p{N}_]*)\s*$/u;

/** The innermost call whose bracket is open before the caret. Brackets and commas in quoted text are text. */
export function callAt(text: string, caret: number): CallAt | undefined {
  const open: Open[] = [];
  let at = 0;
  while (at < caret) {
    const sign = text.charAt(at);
    // Behind a number a quote is the sign of inches.
    if (sign === '"' && !/[\d½¼¾⅛⅜⅝⅞]\s*$/u.test(text.slice(0, at))) {
      const end = text.indexOf('"', at + 1);
      if (end < 0 || end >= caret) break;
      at = end;
    } else if (sign === '(') {
      open.push({ name: NAME_BEFORE.exec(text.slice(0, at))?.[1] ?? '', argument: 0 });
    } else if (sign === ')') open.pop();
    else if (sign === ',') {
      const call = open.at(-1);
      if (call) call.argument += 1;
    }
    at += 1;
  }
  const call = open.findLast(({ name }) => name !== '');
  return call && { ...call };
}
