/** A store with a second copy beside it, which gives back what the first has lost. */
import type { SecondCopies } from './second-copy.ts';
import type { KeptHead, KeptRecords, Snapshot, StoreChange, WorkbookStore } from './store.ts';

export class TwiceKept implements WorkbookStore {
  readonly #first: WorkbookStore;
  readonly #second: SecondCopies;
  #isCompared = false;
  #comparing: Promise<readonly KeptHead[]> | undefined;
  /** Titles of what the first copy had lost, and has again. */
  readonly #broughtBack: string[] = [];

  constructor(first: WorkbookStore, second: SecondCopies) {
    this.#first = first;
    this.#second = second;
  }

  /** The first time, compared with the second copies. */
  async heads(): Promise<readonly KeptHead[]> {
    if (this.#isCompared) return this.#first.heads();
    return (this.#comparing ??= this.#compare().finally(() => (this.#comparing = undefined)));
  }

  /** What the person should know; told once. */
  takeNotes(): string[] {
    const titles = this.#broughtBack.splice(0).map((title) => `“${title}”`);
    if (titles.length === 0) return [];
    return [
      `The browser had lost its database, as may happen when it or the device goes down while something is being written. From the second copy on this device came back: ${titles.join(', ')}. Please look whether the last edits are there.`,
    ];
  }

  read(id: string): Promise<KeptRecords | undefined> {
    return this.#first.read(id);
  }

  second(id: string): Promise<KeptRecords | undefined> {
    return this.#second.read(id);
  }

  snapshot(id: string, sequence: number): Promise<Snapshot | undefined> {
    return this.#first.snapshot(id, sequence);
  }

  /** Resolves when both have it: what is called saved then outlives the one. */
  async write(change: StoreChange): Promise<void> {
    await this.#first.write(change);
    await this.#second.follow(change, () => this.#first.read(change.head.id));
  }

  /** The second copy follows with the next write. */
  leave(change: StoreChange): void {
    this.#first.leave?.(change);
  }

  remove(id: string): Promise<void> {
    return this.#second.remove(id, () => this.#first.remove(id));
  }

  async #compare(): Promise<readonly KeptHead[]> {
    const [heads, copies] = await Promise.all([this.#first.heads(), this.#second.ids()]);
    const there = new Set(heads.map(({ id }) => id));
    const gone = copies.filter((id) => !there.has(id));
    for (const id of gone) await this.#bringBack(id);
    const copied = new Set(copies);
    void this.#copy(heads.filter(({ id, version }) => version === undefined && !copied.has(id)));
    this.#isCompared = true;
    return gone.length === 0 ? heads : this.#first.heads();
  }

  async #bringBack(id: string): Promise<void> {
    const records = await this.#second.read(id);
    const [snapshot] = records?.snapshots ?? [];
    if (!records || !snapshot) return;
    const { head, log } = records;
    // Another tab may have been faster: then it is there.
    const isBack = await this.#first.write({ expects: undefined, head, snapshot, log }).then(
      () => true,
      () => false,
    );
    if (isBack) this.#broughtBack.push(head.title);
  }

  /** What was kept before there were second copies. */
  async #copy(heads: readonly KeptHead[]): Promise<void> {
    for (const { id } of heads) await this.#second.copy(() => this.#first.read(id));
  }
}
