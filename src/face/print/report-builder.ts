/** The parts of a report, gathered one after the other: every text comes from a state. */
import { counted } from '../../workbook/index.ts';
import type { Cell, Column, Figure, Photo, Section, Table } from '../../workbook/index.ts';
import { awaited } from '../blamed.ts';
import { asText, doubtText, doubtWord, saidIn, sampledText, show } from '../display.ts';
import { faultText } from '../fault-text.ts';
import { footerOf } from '../footer.ts';
import { headed } from '../heading.ts';
import { named } from '../named.ts';
import { noneOf } from '../none-of.ts';
import { standingOf } from '../outline.ts';
import { photoWords } from '../photos/picture-words.ts';
import { saidText } from '../said.ts';
import type { Session } from '../session.svelte.ts';
import { reasonOf, remarksOf, shownColumns, shownRows, shownValue } from '../shown-rows.ts';
import { foundationsOf } from './assumptions.ts';

export interface ReportRow {
  readonly texts: readonly string[];
  /** Why the row is struck through. */
  readonly leftOut: string;
  /** It stands under the column: sums and the like. */
  readonly footer?: boolean;
}

export type ReportBlock =
  | {
      readonly kind: 'facts';
      readonly title: string;
      readonly rows: readonly (readonly [string, string])[];
      /** Two such lists stand beside each other. */
      readonly isHalf?: boolean;
    }
  | {
      readonly kind: 'table';
      readonly title: string;
      readonly headers: readonly string[];
      /** Which columns hold numbers. */
      readonly numeric: readonly boolean[];
      readonly rows: readonly ReportRow[];
      /** What the table leaves out, in words. */
      readonly leaves?: string;
    }
  /** Words that a person wrote, live values filled in. */
  | { readonly kind: 'text'; readonly title: string; readonly text: string }
  | {
      readonly kind: 'photos';
      readonly title: string;
      readonly photos: readonly { readonly photo: Photo; readonly words: string }[];
    }
  | {
      readonly kind: 'figure';
      readonly figure: Figure;
      readonly span: Span;
      /** In small print under it, where facts beside it leave room. */
      readonly under?: Under;
    };

export interface Under {
  readonly title: string;
  readonly rows: readonly (readonly [string, string])[];
}

/** Of a figure: across the page, half of it, or at the right of the facts. */
export type Span = 'whole' | 'half' | 'beside';

/** In small print at the foot: what the figures rest on, and what is open. */
export interface ReportNote {
  readonly title: string;
  readonly lines: readonly string[];
}

/** It repeats the word of one row, the one that is shown just now, and says nothing of the others. */
function isOfOneRow({ text }: Cell): boolean {
  return /^=\s*lookup\([^()]*\)$/u.test(text.trim());
}

export class ReportBuilder {
  readonly blocks: ReportBlock[] = [];
  readonly missing: string[] = [];
  readonly #session: Session;
  /** Names of what is shown: cells, and columns as `table.column`. */
  readonly #shown: string[] = [];

  /** What a doubt means, to what is shown and has it. */
  readonly #doubts = new Map<string, Map<string, string>>();

  constructor(session: Session) {
    this.#session = session;
  }

  sections(): Section[] {
    return this.#session.document.sheets.flatMap(({ sections }) => sections);
  }

  cells(): Cell[] {
    return this.sections().flatMap(({ items }) => items.filter((item) => item.kind === 'cell'));
  }

  facts(title: string, names: readonly string[]): void {
    const rows = names.flatMap((name) => {
      const item = standingOf(this.#session.outline, name)?.item;
      return item?.kind === 'cell' ? [this.#fact(item)] : [];
    });
    if (rows.length > 0) this.blocks.push({ kind: 'facts', title, rows });
  }

  /** What a cell says in words, where it says anything. */
  said(name: string): string {
    const item = standingOf(this.#session.outline, name)?.item;
    const state = this.#session.state(name);
    return item?.kind === 'cell' ? saidIn(state, this.#session.system) : '';
  }

  #fact(cell: Cell): readonly [string, string] {
    this.#shown.push(cell.name);
    const session = this.#session;
    const label = cell.label || cell.name;
    const state = session.state(cell.name);
    const shown = show(state, cell, session.system);
    const sampled = sampledText(session.sampled(cell.name), cell, state, session.system);
    if (sampled === undefined) this.#doubt(doubtText(state), label);
    else if (shown.kind === 'value')
      return [label, `${[shown.value, shown.unit].filter(Boolean).join(' ')}, ${sampled}`];
    const text = asText(shown);
    // A remark that has nothing to say is no list in which nothing was found.
    if (text === '') return [label, shown.kind === 'blank' ? noneOf(session, cell) : '–'];
    if (shown.kind === 'blank') return [label, named(session, text)];
    if (shown.kind === 'waiting') return [label, `waits for ${awaited(session, shown.for).words}`];
    const word = doubtWord(state);
    return [label, word === '' || text.endsWith(word) ? text : `${text}, ${word}`];
  }

  /** `rows`: of a column, how many. */
  #doubt(meaning: string, of: string, rows = ''): void {
    if (meaning === '') return;
    const found = this.#doubts.get(meaning) ?? new Map<string, string>();
    this.#doubts.set(meaning, found.set(of, rows));
  }

  /** What the worksheets say in words, under the name of each. */
  verdicts(): boolean {
    const before = this.blocks.length;
    for (const sheet of this.#session.document.sheets) {
      const rows = sheet.sections
        .flatMap(({ items }) => items)
        .flatMap((item) =>
          item.kind === 'cell' && item.type === 'text' && item.name.includes('verdict') && !isOfOneRow(item)
            ? [this.#fact(item)]
            : [],
        );
      if (rows.length > 0) this.blocks.push({ kind: 'facts', title: sheet.title, rows, isHalf: true });
    }
    return this.blocks.length > before;
  }

  /** The row of the table of tests that belongs to the test shown. */
  conditions(): void {
    const session = this.#session;
    const tests = standingOf(session.outline, 'tests')?.item;
    const state = session.state('shown_test');
    const wanted = state.state === 'value' ? state.value : undefined;
    if (tests?.kind !== 'table') {
      this.missing.push('the conditions of the test: no table is named tests');
      return;
    }
    const row = tests.rows.findIndex((_, at) => {
      const name = session.columnState('tests', tests.columns[0]?.name ?? '', at);
      return wanted !== undefined && name.state === 'value' && name.value === wanted;
    });
    if (row < 0) {
      this.missing.push('the conditions of the test: the test shown stands in no row of tests');
      return;
    }
    const said = tests.columns
      .slice(1)
      .filter((column) => column.hidden !== true && column.formula === undefined)
      .map((column) => {
        const state = session.columnState('tests', column.name, row);
        return [column.label || column.name, asText(show(state, column, session.system))] as const;
      });
    const rows = said.filter(([, text]) => text !== '');
    // In one line: much of it is only read where it matters, and the page has room for one.
    const missing = said.filter(([, text]) => text === '').map(([label]) => label);
    if (missing.length > 0) rows.push(['Not typed', missing.join(', ')]);
    this.blocks.push({ kind: 'facts', title: 'Conditions', rows });
  }

  /** `span`: of those that follow the first, where two stand beside each other. */
  figures(wanted: (figure: Figure) => boolean, span: Span = 'whole'): boolean {
    const found = this.sections()
      .flatMap(({ items }) => items)
      .filter((item) => item.kind === 'figure')
      .filter(wanted);
    // The first across the page where one would be left without another beside it.
    const first = found.length % 2;
    for (const [at, figure] of found.entries()) this.#figure(figure, at < first ? 'whole' : span);
    return found.length > 0;
  }

  #figure(figure: Figure, span: Span = 'whole'): void {
    this.#shown.push(...Object.values(figure.bindings));
    this.blocks.push({ kind: 'figure', figure, span });
  }

  /** The first figure of a kind, with facts beside it. */
  figure(kind: string, under: Under): boolean {
    for (const { items } of this.sections())
      for (const item of items)
        if (item.kind === 'figure' && item.figure === kind) {
          this.blocks.push({ kind: 'figure', figure: item, span: 'beside', under });
          return true;
        }
    return false;
  }

  named(name: string): boolean {
    const item = standingOf(this.#session.outline, name)?.item;
    if (item?.kind === 'table') this.table(item);
    return item?.kind === 'table';
  }

  /**
   * Rows on the screen; units stand in the heads, columns in which nothing stands are left away, and so are rows of
   * which nothing is ordered.
   */
  table(table: Table, ordered?: Column): void {
    this.#shown.push(...table.columns.map(({ name }) => `${table.name}.${name}`));
    const session = this.#session;
    const columns = shownColumns(session, table).filter(({ name }) => name !== table.reasonColumn);
    const all = shownRows(session, table);
    const rows = ordered ? all.filter((row) => !this.#isNone(table, ordered, row)) : all;
    const none = all.length - rows.length;
    const written = columns
      .map((column) => this.#column(table, column, rows))
      .filter(({ texts }) => texts.some((text) => text !== ''));
    const remarks = rows.map((row) => {
      const leftOut = reasonOf(session, table, row);
      const said = remarksOf(session, table, columns, row).filter((remark) => remark !== leftOut);
      return { leftOut, text: [leftOut, ...said].filter(Boolean).join('; ') };
    });
    const isRemarked = remarks.some(({ text }) => text !== '');
    const footer = written.map((each) => each.footer);
    const chosen = shownValue(session, table);
    this.blocks.push({
      kind: 'table',
      title: [table.label || table.name, chosen].filter(Boolean).join(': '),
      headers: [...written.map(({ header }) => header), ...(isRemarked ? ['Remarks'] : [])],
      numeric: [...written.map(({ isNumber }) => isNumber), ...(isRemarked ? [false] : [])],
      ...(none > 0 && {
        leaves: `${counted(none, 'line')} with nothing to order ${none === 1 ? 'is' : 'are'} left out.`,
      }),
      rows: [
        ...remarks.map(({ leftOut, text }, at) => ({
          texts: [...written.map(({ texts }) => texts[at] ?? ''), ...(isRemarked ? [text] : [])],
          leftOut,
        })),
        ...(footer.some((text) => text !== '')
          ? [{ texts: isRemarked ? [...footer, ''] : footer, leftOut: '', footer: true }]
          : []),
      ],
    });
    this.#photos(table, rows);
  }

  #isNone(table: Table, column: Column, row: number): boolean {
    const state = this.#session.columnState(table.name, column.name, row);
    return state.state === 'value' && state.value === 0;
  }

  /** Photos of the rows shown, each with what its row is called. */
  #photos(table: Table, rows: readonly number[]): void {
    const lead = table.columns[0];
    const photos = rows.flatMap((row) =>
      (table.rows[row]?.photos ?? []).map((photo) => {
        const state = lead && this.#session.columnState(table.name, lead.name, row);
        const name = lead && state ? asText(show(state, lead, this.#session.system)) : '';
        return { photo, words: [name || `row ${row + 1}`, photoWords(photo)].filter(Boolean).join(': ') };
      }),
    );
    const title = `Photos: ${table.label || table.name}`;
    if (photos.length > 0) this.blocks.push({ kind: 'photos', title, photos });
  }

  #column(table: Table, column: Column, rows: readonly number[]) {
    const session = this.#session;
    const label = column.label || column.name;
    const states = rows.map((row) => session.columnState(table.name, column.name, row));
    const meanings = states.map(doubtText);
    for (const meaning of new Set(meanings)) {
      const { length } = meanings.filter((each) => each === meaning);
      this.#doubt(meaning, `${table.label || table.name}, ${label}`, counted(length, 'row'));
    }
    // Feet and inches as they were typed.
    const shown = states.map((state, at) => {
      const text = table.rows[rows[at] ?? 0]?.entries[column.id];
      return show(state, text === undefined ? column : { ...column, text }, session.system);
    });
    const units = new Set(shown.map((each) => (each.kind === 'value' ? each.unit : '')).filter(Boolean));
    const [unit = ''] = units.size === 1 ? units : [];
    const footed = footerOf(session, table, column, shownRows(session, table).length);
    return {
      header: unit === '' ? label : `${label}, ${unit}`,
      isNumber: column.type === 'number',
      texts: shown.map((each) => asText(each.kind === 'value' && unit !== '' ? { ...each, unit: '' } : each)),
      footer: footed ? `${footed.words} ${asText(footed.shown)}` : '',
    };
  }

  section({ title, items }: Section): void {
    const facts = items.flatMap((item) => (item.kind === 'cell' ? [this.#fact(item)] : []));
    if (facts.length > 0) this.blocks.push({ kind: 'facts', title, rows: facts });
    for (const item of items) {
      if (item.kind === 'prose') {
        const { heading, body } = headed(saidText(this.#session, item.text));
        this.blocks.push({ kind: 'text', title: heading || title, text: body });
      } else if (item.kind === 'table') this.table(item);
      else if (item.kind === 'figure') this.#figure(item);
    }
  }

  /** Where the typed figures come from, and in every report what is assumed. */
  restsOn(isHeaded: boolean): ReportNote[] {
    const { titleBlock } = this.#session.document;
    const seeds = isHeaded ? (titleBlock ? [titleBlock.result, titleBlock.target] : []) : this.#shown;
    const { sources, unsure, rows } = foundationsOf(this.#session, seeds, isHeaded);
    const line = (cell: Cell) => {
      const [label, value] = this.#fact(cell);
      return `${label}: ${value}. ${saidText(this.#session, cell.note)}`;
    };
    const lines = [...unsure.map(line), ...rows];
    return [
      ...(isHeaded && sources.length > 0 ? [{ title: 'Sources', lines: sources.map(line) }] : []),
      { title: 'Assumptions and values from memory', lines: lines.length === 0 ? ['none named'] : lines },
    ];
  }

  /** Results shown that could be otherwise, each with what that means. */
  doubts(): ReportNote[] {
    const lines = [...this.#doubts].map(([meaning, found]) => {
      const names = [...found].map(([of, rows]) => (rows === '' ? of : `${of} (${rows})`));
      return `${names.join('; ')}. ${meaning}`;
    });
    return lines.length === 0 ? [] : [{ title: 'Open doubts', lines }];
  }

  faults(): ReportNote {
    const lines = this.#session.faults.map((fault) => `${fault.label}: ${faultText(this.#session, fault)}`);
    return { title: 'Open faults', lines: lines.length === 0 ? ['none'] : lines };
  }
}
