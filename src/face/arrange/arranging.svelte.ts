/** What is open while a worksheet is arranged, and the deeds of the person there. */
import { tick } from 'svelte';
import {
  checkName,
  counted,
  duplication,
  idsIn,
  kindOf,
  moveInto,
  namesOf,
  newItemId,
  normalName,
  readersOf,
  removal,
  standingIn,
  step,
  titleOf,
  type BareNumbers,
  type Edit,
  type Item,
  type NameProblem,
  type Part,
  type Reader,
} from '../../workbook/index.ts';
import { createContext } from 'svelte';
import type { Session } from '../session.svelte.ts';

/** What a form stands open for. */
export interface Adding {
  readonly what: 'cell' | 'table' | 'figure' | 'section';
  /** Section that it goes into; a worksheet's id for a new section. */
  readonly into: string;
}

/** Another way to do what was done, offered beside what is said of it. */
export interface Instead {
  readonly words: string;
  readonly edit: Edit;
}

export class Arranging {
  readonly session: Session;
  /** Id of the part that is open. */
  open = $state<string>();
  /** Id of the open part's column that is open. */
  column = $state<string>();
  adding = $state.raw<Adding>();
  /** True: the opened cell's value is to be typed at once. */
  typing = $state(false);
  /** What was done last; it stands until something else is done. */
  #said = $state.raw<{ text: string; revision: number; else?: Instead }>({ text: '', revision: -1 });

  constructor(session: Session) {
    this.session = session;
  }

  get notice(): string {
    return this.#said.revision === this.session.revision ? this.#said.text : '';
  }

  get instead(): Instead | undefined {
    return this.notice === '' ? undefined : this.#said.else;
  }

  say(text: string, instead?: Instead): void {
    this.#said = { text, revision: this.session.revision, ...(instead && { else: instead }) };
    this.session.announcement = text;
  }

  /** Why a word cannot be the name of a new cell or table, or of the one that now bears `own`. */
  nameProblem(typed: string, own?: string): NameProblem | undefined {
    if (normalName(typed) === own) return undefined;
    const { workbook } = this.session;
    return checkName(typed, namesOf(workbook.document), (word) => workbook.reserved(word));
  }

  /** What a change of unit made of numbers that were typed without one. */
  sayBare(bare: BareNumbers | undefined, title: string, before: string, now: string): void {
    if (bare === undefined || before === now) return;
    const edit: Edit = { kind: 'batch', label: `keep “${title}” in ${before}`, edits: [bare.keep] };
    this.say(
      `“${title}”: what was typed without a unit meant ${before} and means ${now === '' ? 'plain numbers' : now} now (${counted(bare.count, 'number')}).`,
      { words: `Write ${before} behind`, edit },
    );
  }

  async doInstead(): Promise<void> {
    const { open, instead } = this;
    if (!this.apply(instead?.edit)) return;
    this.session.announcement = 'Written';
    // What was pressed goes with what was said.
    if (open !== undefined) await focusPart(open);
  }

  apply(edit: Edit | undefined, said?: string): boolean {
    if (edit === undefined || this.session.apply(edit) !== undefined) return false;
    if (said !== undefined) this.say(said);
    return true;
  }

  readers(part: Part): Reader[] {
    return readersOf(this.session.workbook.document, idsIn(part));
  }

  toggle(id: string): void {
    this.column = undefined;
    this.adding = undefined;
    this.typing = false;
    this.open = this.open === id ? undefined : id;
  }

  async remove(id: string): Promise<void> {
    const standing = standingIn(this.session.document, id);
    if (!standing) return;
    const readers = this.readers(standing.part);
    const isSheet = kindOf(standing.part) === 'worksheet';
    const { sheets } = this.session.document;
    const sheetAt = sheets.findIndex((sheet) => sheet.id === id);
    const neighbour = isSheet
      ? ((sheets[sheetAt + 1] ?? sheets[sheetAt - 1])?.id ?? '')
      : neighbourOf(id, idsIn(standing.part));
    const title = titleOf(standing.part);
    if (!this.apply(removal(this.session.document, id))) return;
    if (this.open === id) this.open = undefined;
    this.say(`Deleted the ${kindOf(standing.part)} “${title}”.${readersSaid(readers)}`);
    if (isSheet) this.session.sheetId = neighbour;
    await focusPart(neighbour);
  }

  async duplicate(id: string): Promise<void> {
    const standing = standingIn(this.session.document, id);
    const made = duplication(this.session.document, id);
    if (!standing || !made || !this.apply(made.edit)) return;
    if ('sections' in standing.part) this.session.sheetId = made.id;
    this.open = made.id;
    this.say(`Duplicated “${titleOf(standing.part)}”; what it calculates reads the copies inside it.`);
    await focusPart(made.id);
  }

  async move(id: string, by: -1 | 1): Promise<void> {
    const edit = step(this.session.document, id, by);
    if (!edit) {
      this.session.announcement = by < 0 ? 'It stands first already' : 'It stands last already';
      return;
    }
    if (!this.apply(edit)) return;
    const standing = standingIn(this.session.document, id);
    if (standing)
      this.session.announcement = `“${titleOf(standing.part)}” is now ${standing.at + 1} of ${standing.of}${standing.item ? ` in ${titleOf(standing.section ?? standing.sheet)}` : ''}`;
    await focusPart(id);
  }

  async moveTo(id: string, into: string): Promise<void> {
    const { document } = this.session;
    const standing = standingIn(document, id);
    const target = standingIn(document, into);
    if (!standing || !target || !this.apply(moveInto(document, id, into))) return;
    this.session.sheetId = target.sheet.id;
    this.say(`Moved “${titleOf(standing.part)}” to ${titleOf(target.part)}.`);
    await tick();
    await focusPart(id);
  }

  /** Puts an item into a section: behind the open item where that stands there, else at its end. */
  async insert(section: string, item: Item, what: string): Promise<boolean> {
    const place = standingIn(this.session.document, section);
    if (!place?.section) return false;
    const after = place.section.items.findIndex(({ id }) => id === this.open);
    const at = after < 0 ? place.section.items.length : after + 1;
    const insert: Edit = { kind: 'insert-item', section, at, item };
    if (!this.apply({ kind: 'batch', label: `add ${what}`, edits: [insert] })) return false;
    this.adding = undefined;
    this.open = item.id;
    this.session.announcement = `Added ${what}`;
    await focusPart(item.id);
    return true;
  }

  async addSection(sheet: string, title: string): Promise<void> {
    const place = standingIn(this.session.document, sheet);
    if (!place) return;
    const id = newItemId(this.session.document, 'section');
    const edit: Edit = {
      kind: 'insert-section',
      sheet,
      at: place.sheet.sections.length,
      section: { id, title, note: '', items: [] },
    };
    if (!this.apply(edit, `Added the section “${title}”.`)) return;
    this.adding = undefined;
    this.open = undefined;
    await tick();
    document.querySelector<HTMLElement>(`[data-add-to="${id}"] button`)?.focus();
  }

  async addSheet(): Promise<void> {
    const { sheets } = this.session.document;
    const id = newItemId(this.session.document, 'worksheet');
    const at = sheets.findIndex((sheet) => sheet.id === this.session.sheet?.id) + 1;
    const title = `Worksheet ${sheets.length + 1}`;
    const sheet = { id, title, note: '', sections: [] };
    if (!this.apply({ kind: 'insert-sheet', at, sheet })) return;
    this.session.sheetId = id;
    this.session.page = 'sheet';
    this.open = id;
    this.session.announcement = 'Added a worksheet: type its title';
    await tick();
    const field = document.querySelector<HTMLInputElement>('.arrange input');
    field?.focus();
    field?.select();
  }
}

/** ` It is read by q50 and 3 more; they wait until it is back.` */
function readersSaid(readers: readonly Reader[]): string {
  if (readers.length === 0) return '';
  return ` ${readersText(readers)} read${readers.length === 1 ? 's' : ''} it and cannot be worked out until it is back.`;
}

export function readersText(readers: readonly Reader[]): string {
  const [first, second] = readers;
  if (!first) return 'Nothing';
  if (!second) return first.label;
  return readers.length === 2
    ? `${first.label} and ${second.label}`
    : `${first.label} and ${readers.length - 1} more`;
}

/** The part beside one that goes, with all that stands in it. */
function neighbourOf(id: string, gone: ReadonlySet<string>): string {
  const all = [...document.querySelectorAll<HTMLElement>('[data-part]')].map(
    ({ dataset }) => dataset.part ?? '',
  );
  const at = all.indexOf(id);
  return all.slice(at + 1).find((each) => !gone.has(each)) ?? all[at - 1] ?? '';
}

/** The row of a column in the properties of its table. */
export async function focusColumn(id: string): Promise<void> {
  await tick();
  document.querySelector<HTMLElement>(`[data-column-row="${CSS.escape(id)}"]`)?.focus();
}

export async function focusPart(id: string): Promise<void> {
  await tick();
  // Where no part is left, what adds the first one.
  const button =
    document.querySelector<HTMLElement>(`[data-part="${CSS.escape(id)}"]`) ??
    document.querySelector<HTMLElement>('.arrange [data-first]');
  button?.focus({ preventScroll: true });
  button?.scrollIntoView({ block: 'nearest' });
}

export const [useArranging, provideArranging] = createContext<Arranging>();
