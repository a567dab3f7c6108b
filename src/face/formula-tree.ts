/** Formulas read again and again, as the face does to say where a value comes from: each text is parsed once. */
import { parse } from '../engine/index.ts';

const trees = new Map<string, ReturnType<typeof parse>>();
const MANY = 2_000;

/** Places in the tree are those of the text, with or without the sign of equality before it. */
export function treeOf(text: string): ReturnType<typeof parse> {
  const known = trees.get(text);
  if (known) return known;
  const tree = parse(text.replace(/^\s*=/u, (sign) => ' '.repeat(sign.length)));
  if (trees.size >= MANY) trees.clear();
  trees.set(text, tree);
  return tree;
}
