/** What the list of worksheets says of one: looked at again when something it reads changed, not at every edit. */
import { saidShortly } from '../said.ts';
import type { Session } from '../session.svelte.ts';
import { steady } from '../steady.ts';

export interface Listed {
  readonly id: string;
  readonly title: string;
  readonly status: string | undefined;
}

export class SheetStatus {
  readonly id: string;
  readonly title: string;
  readonly #session: Session;
  readonly #text: string | undefined;
  readonly said: ReturnType<typeof saidShortly> | undefined = $derived.by(
    steady(() => (this.#text === undefined ? undefined : saidShortly(this.#session, this.#text))),
  );

  constructor(session: Session, { id, title, status }: Listed) {
    this.#session = session;
    this.id = id;
    this.title = title;
    this.#text = status;
  }
}
