/** What a new part is to be called: the name follows the label until one is typed. */
import { nameOf, namesOf, newItemId, normalName } from '../../workbook/index.ts';
import type { Arranging } from './arranging.svelte.ts';

export class Naming {
  readonly #arranging: Arranging;
  label = $state('');
  /** Undefined as long as the name follows the label. */
  own = $state<string>();
  readonly name: string = $derived.by(() => this.own ?? this.#proposed());
  readonly problem: boolean = $derived.by(
    () => this.name === '' || this.#arranging.nameProblem(this.name) !== undefined,
  );

  constructor(arranging: Arranging) {
    this.#arranging = arranging;
  }

  /** What a part is made with; undefined, and said, where something is missing. */
  settled(): { readonly id: string; readonly name: string; readonly label: string } | undefined {
    const { session } = this.#arranging;
    if (this.problem) {
      session.announcement = 'A label and a name are needed first';
      return undefined;
    }
    const name = normalName(this.name);
    return { id: newItemId(session.document, name), name, label: this.label.trim() };
  }

  #proposed(): string {
    const { session } = this.#arranging;
    if (this.label.trim() === '') return '';
    return nameOf(this.label, namesOf(session.document), (word) => session.workbook.reserved(word));
  }
}
