/**
 * One writer a workbook: a lock that only one tab holds. Where the browser has no locks, or refuses them, every tab gets
 * its lease; the store still refuses the second writer. A tab that takes over asks the holder to finish first, and waits for
 * a tab that does not answer (a sleeping one) only so long.
 */

export interface Notice {
  readonly kind: 'saved' | 'take over' | 'yielded' | 'list';
  readonly id: string;
  readonly from: string;
}

/** What tabs tell each other; what a notice says is only ever a reason to look into the store. */
export class Tabs {
  /** This tab. */
  readonly name: string;
  readonly #channel: BroadcastChannel | undefined;
  readonly #listeners = new Set<(notice: Notice) => void>();

  constructor(name: string) {
    this.name = name;
    if (typeof BroadcastChannel === 'undefined') return;
    this.#channel = new BroadcastChannel('close-in');
    this.#channel.onmessage = ({ data }: MessageEvent<unknown>) => {
      if (!isNotice(data)) return;
      for (const listener of [...this.#listeners]) listener(data);
    };
  }

  tell(kind: Notice['kind'], id: string): void {
    this.#channel?.postMessage({ kind, id, from: this.name } satisfies Notice);
  }

  listen(listener: (notice: Notice) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Resolves with the first notice of the kind, or after the time. */
  hear(kind: Notice['kind'], id: string, milliseconds: number): Promise<void> {
    return new Promise((resolve) => {
      const finish = () => {
        clearTimeout(timer);
        stop();
        resolve();
      };
      const stop = this.listen((notice) => {
        if (notice.kind === kind && notice.id === id) finish();
      });
      const timer = setTimeout(finish, milliseconds);
    });
  }
}

function isNotice(data: unknown): data is Notice {
  if (typeof data !== 'object' || data === null) return false;
  const { kind, id, from } = data as Record<string, unknown>;
  return typeof kind === 'string' && typeof id === 'string' && typeof from === 'string';
}

export type LeaseWish = 'if free' | 'when free' | 'take';

export class Lease {
  readonly #release: () => void;
  /** Settles when the browser has done with the lock. */
  #over: Promise<unknown> = Promise.resolve();
  readonly #waiting: AbortController;

  /** `ongiven(true)` once the lock is held, `(false)` when it is not free; `onlost` when another tab took it. */
  constructor(id: string, wish: LeaseWish, ongiven: (held: boolean) => void, onlost: () => void) {
    this.#waiting = new AbortController();
    let release = (): void => undefined;
    const ended = new Promise<void>((resolve) => {
      release = resolve;
    });
    this.#release = release;
    // Absent in old browsers, and in pages that came over plain http.
    const locks = (navigator as Partial<Navigator>).locks;
    if (!locks) {
      ongiven(true);
      return;
    }
    let held = false;
    const options: LockOptions =
      wish === 'if free'
        ? { ifAvailable: true }
        : wish === 'take'
          ? { steal: true }
          : { signal: this.#waiting.signal };
    this.#over = locks
      .request(`close-in workbook ${id}`, options, (lock) => {
        held = lock !== null;
        ongiven(held);
        return held ? ended : undefined;
      })
      .catch(() => {
        if (held) onlost();
        // A page that is being left loses its lock in WebKit, and whatever it asks for then is refused at once: asking
        // again would never end, and the page would never go.
        else if (wish !== 'when free' && !this.#waiting.signal.aborted) ongiven(wish === 'if free');
      });
  }

  /** Resolves once the lock is free for the next: browsers take their time over it. */
  async release(): Promise<void> {
    this.#waiting.abort();
    this.#release();
    await this.#over;
  }
}
