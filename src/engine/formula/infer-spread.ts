/** Checks `uncertainty(x)` and `chance(x <= y)`, which ask for spreads and not for values alone. */
import { diagnostic } from './diagnostic.ts';
import type { Call, Expression } from './expression.ts';
import { needs } from './mismatch.ts';
import { stop, type Checker } from './scope.ts';
import { DIFFERENCE, NUMBER, READING, type Type } from './type.ts';
import type { Typed } from './typed.ts';

/** `uncertainty(x)` and `chance(x <= y)`: the sides must be cells, since a spread belongs to a cell. */
export function inferSpread(at: Checker, e: Call, of: Expression): Typed {
  if (at.inVector)
    stop(
      diagnostic('nested-column', e, `${e.name} cannot stand inside a column argument`, {
        suggestion: 'give it a column or a cell of its own',
      }),
    );
  const name = e.name === 'chance' ? 'chance' : 'uncertainty';
  const made = (sides: readonly Typed[], type: Type): Typed => ({
    op: 'spread',
    name,
    sides,
    type,
    start: e.start,
    end: e.end,
  });
  if (name === 'uncertainty') {
    const side = plainSide(at, at.visit(of));
    return made([side], side.type === READING ? DIFFERENCE : side.type);
  }
  const comparison = at.visit(of);
  if (comparison.op !== 'binary' || !/^[<>]=?$/.test(comparison.operator))
    stop(needs(at, comparison, 'a comparison', 'chance', 'write chance(result <= target)'));
  const sides = [plainSide(at, comparison.left), plainSide(at, comparison.right)];
  return made(comparison.operator.startsWith('<') ? sides : sides.reverse(), NUMBER);
}

function plainSide(at: Checker, side: Typed): Typed {
  at.quantity(side, 'a spread');
  if (side.op === 'cell' || side.op === 'column' || side.op === 'constant') return side;
  stop(
    diagnostic('spread-of-formula', side, 'only a named value has a spread', {
      found: at.text.slice(side.start, side.end),
      expected: 'the name of a cell or a column',
      suggestion: 'give this part a cell of its own and name it here',
    }),
  );
}
