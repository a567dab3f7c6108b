/**
 * Functions that take seconds: a quick answer stands in the cell at once; the full one is worked out elsewhere and
 * kept in the library by what was asked.
 */
import { answerKey, type Argument } from '../formula/library.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Sites } from './sites.ts';

/** An answer that is wanted and not yet full. */
export interface DeferredTask {
  readonly key: string;
  /** Name of the function, as declared. */
  readonly name: string;
  readonly arguments: readonly Argument[];
  /** The cell or column that asks, and its row. */
  readonly where: string;
  readonly row?: number;
}

/** Every full answer that is still wanted, in order of calculation. */
export function unfinished(book: Book, sites: Sites): DeferredTask[] {
  const tasks = new Map<string, DeferredTask>();
  for (const id of book.nodeAt) {
    const node = book.nodes[id];
    if (!node?.defers || !node.type) continue;
    if (node.kind !== 'column') {
      sites.runForward(node);
      ask(book, sites, node, -1, tasks);
      continue;
    }
    for (let row = 0; row < (node.data?.rows ?? 0); row++) {
      if (node.data?.overrides.has(row)) continue;
      sites.enterRow(node.inputs, row);
      sites.runForward(node);
      ask(book, sites, node, row, tasks);
    }
  }
  return [...tasks.values()];
}

function ask(book: Book, sites: Sites, node: GraphNode, row: number, tasks: Map<string, DeferredTask>): void {
  for (let index = node.siteStart; index < node.siteEnd; index++) {
    const site = book.sites[index];
    if (site?.kind !== 'library' || !site.definition.deferred) continue;
    const given = sites.arguments(site, false);
    if ('state' in given) continue;
    const key = answerKey(site.definition.name, given.values);
    const known = book.library.answers.get(key);
    if (!known || known.full || tasks.has(key)) continue;
    const { name } = site.definition;
    tasks.set(key, {
      key,
      name,
      arguments: given.values,
      where: node.key,
      ...(row < 0 ? {} : { row }),
    });
  }
}
