/** A value while it is typed: what is wrong with it, and which of two numbers it is where it can be both. */
import { localSaid, storedText, type TwoReadings } from '../locale.ts';
import type { Session } from '../session.svelte.ts';
import type { Diagnostic, Place } from '../view.ts';

export class EntryCheck {
  readonly #session: Session;
  readonly #text: () => string;
  readonly #where: () => Place | undefined;
  /** The text that the person said is a decimal number. */
  #settled = $state('');

  readonly #read: string | TwoReadings = $derived.by(() =>
    this.#where() === undefined ? this.#text() : storedText(this.#text()),
  );
  readonly question: TwoReadings | undefined = $derived.by(() =>
    typeof this.#read === 'string' || this.#settled === this.#text() ? undefined : this.#read,
  );
  readonly diagnostic: Diagnostic | undefined = $derived.by(() => {
    const where = this.#where();
    const text = typeof this.#read === 'string' ? this.#read : this.#read.decimal;
    if (where === undefined || text.trim() === '') return undefined;
    const found = this.#session.workbook.check(text, where);
    if (found?.code !== 'entry') return found;
    const { message, suggestion } = found;
    return {
      ...found,
      message: localSaid(message),
      ...(suggestion === undefined ? {} : { suggestion: localSaid(suggestion) }),
    };
  });

  /** `where` is undefined for a text that is no number. */
  constructor(session: Session, text: () => string, where: () => Place | undefined) {
    this.#session = session;
    this.#text = text;
    this.#where = where;
  }

  /** The answer to the question; returns the text to go on with. */
  settle(which: 'decimal' | 'thousands'): string {
    const { question } = this;
    if (!question) return this.#text();
    if (which === 'thousands') return question.thousands;
    this.#settled = this.#text();
    return this.#text();
  }
}
