/** Closes the gaps that formulas written anew leave on the tape and among the call sites. */
import type { CallSite, VectorProgram } from '../formula/compile.ts';
import { OP } from '../formula/tape.ts';
import type { Book } from './book.ts';

/** So much of the tape, in integers, and so many call sites may lie idle whatever is in use. */
const IDLE_CODE = 16_384;
const IDLE_SITES = 1024;

/** Once more than half is idle, so that the cost of an edit stays the same on average. */
export function compact(book: Book): void {
  let code = 0;
  let sites = 0;
  for (const node of book.nodes)
    if (node?.formula && node.type) {
      code += node.codeEnd - node.codeStart;
      sites += node.siteEnd - node.siteStart;
    }
  if (book.codeUsed <= 2 * code + IDLE_CODE && book.sites.length <= 2 * sites + IDLE_SITES) return;
  const from = { code: book.code, origins: book.origins, sites: book.sites.splice(0) };
  book.beginTape(2 * code);
  for (const id of book.nodeAt) {
    const node = book.node(id);
    const { codeStart: start, codeEnd: end } = node;
    const own = node.formula && node.type ? from.sites.slice(node.siteStart, node.siteEnd) : [];
    const shift = book.sites.length - node.siteStart;
    node.siteStart = book.sites.length;
    for (const site of own) book.sites.push(site);
    node.siteEnd = book.sites.length;
    const used = node.formula && node.type ? end : start;
    node.codeStart = book.append(from.code.subarray(start, used), from.origins.subarray(start / 2, used / 2));
    node.codeEnd = book.codeUsed;
    if (own.length === 0 || shift === 0) continue;
    shiftCalls(book.code, node.codeStart, node.codeEnd, shift);
    for (const site of own) for (const v of vectorsOf(site)) shiftCalls(v.code, 0, v.code.length, shift);
  }
}

function shiftCalls(code: Int32Array, from: number, to: number, by: number): void {
  for (let pc = from; pc < to; pc += 4) if (code[pc] === OP.call) code[pc + 2]! += by;
}

function vectorsOf(site: CallSite): readonly VectorProgram[] {
  if (site.kind === 'aggregate') return [site.vector];
  if (site.kind !== 'library') return [];
  return site.arguments.flatMap((a) => (a.kind === 'column' ? [a.vector] : []));
}
