/** What a report holds, found by the names that workbooks agree on. It computes nothing: every text comes from a state. */
import type { Cell, Column, Figure, Photo, Section, Table, WorkbookDocument } from '../../workbook/index.ts';
import { asText, show } from '../display.ts';
import { foundationsOf } from './assumptions.ts';
import { chosenParts, together } from './chosen.ts';
import { headed } from '../heading.ts';
import { headlineOf, type Headline } from '../headline.ts';
import { standingOf } from '../outline.ts';
import type { Session } from '../session.svelte.ts';
import { photoWords } from '../photos/picture-words.ts';
import { saidText } from '../said.ts';
import { reasonOf, remarksOf, shownColumns, shownRows, shownValue } from '../shown-rows.ts';

export type ReportKind = 'certificate' | 'client' | 'order' | 'trade' | 'sections';

export const REPORTS: readonly { readonly kind: ReportKind; readonly title: string }[] = [
  { kind: 'certificate', title: 'Test certificate' },
  { kind: 'client', title: 'Client summary' },
  { kind: 'order', title: 'Order list' },
  { kind: 'trade', title: 'Trade sheet' },
  { kind: 'sections', title: 'Chosen parts' },
];

export interface ReportRow {
  readonly texts: readonly string[];
  /** Why the row is struck through. */
  readonly leftOut: string;
  /** It stands under the column: sums and the like. */
  readonly footer?: boolean;
}

export type ReportBlock =
  | { readonly kind: 'facts'; readonly title: string; readonly rows: readonly (readonly [string, string])[] }
  | {
      readonly kind: 'table';
      readonly title: string;
      readonly headers: readonly string[];
      readonly rows: readonly ReportRow[];
    }
  /** Words that a person wrote, live values filled in. */
  | { readonly kind: 'text'; readonly title: string; readonly text: string }
  | { readonly kind: 'lines'; readonly title: string; readonly lines: readonly string[] }
  | {
      readonly kind: 'photos';
      readonly title: string;
      readonly photos: readonly { readonly photo: Photo; readonly words: string }[];
    }
  /** `beside`: facts stand at its left. */
  | { readonly kind: 'figure'; readonly figure: Figure; readonly beside: boolean };

export interface Report {
  readonly title: string;
  readonly headline?: Headline;
  readonly blocks: readonly ReportBlock[];
  /** What this report would show and the workbook does not have. */
  readonly missing: readonly string[];
}

/** Results and settings of a fan test, where the workbook has them. */
const TEST_FACTS = ['shown_test', 'test_method', 'method_verdict', 'verdict_ach50', 'chance_ach50'];
const TEST_RESULTS = ['q50', 'flow_coefficient', 'pressure_exponent', 'r_squared', 'building_volume'];
const TEST_SECOND = ['permeability50', 'target_permeability50', 'verdict_permeability50', 'envelope_area'];

/** Sections of worksheets called trade sheets: those that hold a text are for one trade each. */
export function tradeSheets({ sheets }: WorkbookDocument): Section[] {
  return sheets
    .filter(({ title }) => /\btrade sheets?\b/iu.test(title))
    .flatMap(({ sections }) => sections.filter(({ items }) => items.some(({ kind }) => kind === 'prose')));
}

export function reportOf(
  session: Session,
  kind: ReportKind,
  printed: readonly string[],
  trade?: string,
): Report {
  const title = REPORTS.find((report) => report.kind === kind)?.title ?? '';
  if (kind === 'trade') return tradeSheet(session, title, trade);
  const headline = headlineOf(session);
  const builder = new Builder(session);
  if (kind === 'certificate') certificate(builder);
  else if (kind === 'client') clientSummary(builder);
  else if (kind === 'order') orderList(builder);
  else chosen(builder, session.document, printed);
  builder.restsOn(kind === 'certificate' || kind === 'client');
  builder.faults();
  const top = kind === 'certificate' || kind === 'client' ? headline : undefined;
  if (!top && (kind === 'certificate' || kind === 'client'))
    builder.missing.push('a headline result: its title block names none');
  return { title, ...(top ? { headline: top } : {}), blocks: builder.blocks, missing: builder.missing };
}

/** One page for one trade. */
function tradeSheet(session: Session, title: string, trade: string | undefined): Report {
  const all = tradeSheets(session.document);
  const section = all.find(({ id }) => id === trade) ?? all[0];
  const builder = new Builder(session);
  if (section) builder.section({ ...section, title: '' });
  else builder.missing.push('trade sheets: no worksheet has “trade sheet” in its title');
  return {
    title: [title, section?.title].filter(Boolean).join(': '),
    blocks: builder.blocks,
    missing: builder.missing,
  };
}

function certificate(to: Builder): void {
  if (!to.figure('power_law_fit')) to.missing.push('a figure of the fit');
  to.facts('Test', TEST_FACTS);
  to.facts('Result', [...TEST_RESULTS, ...TEST_SECOND]);
  to.conditions();
  if (!to.named('readings')) to.missing.push('a table named readings');
}

function clientSummary(to: Builder): void {
  if (!to.verdicts()) to.missing.push('verdicts: no cell has “verdict” in its name');
  if (!to.figures(({ figure }) => figure === 'margin' || figure === 'stages'))
    to.missing.push('a figure of the margin or the stages');
}

function orderList(to: Builder): void {
  let found = 0;
  for (const section of to.sections()) {
    for (const item of section.items) {
      if (item.kind !== 'table') continue;
      if (!/(^|_)orders?(_|$)/.test(item.name) && !/(?<!\bin )\border\b/i.test(section.title)) continue;
      to.table(item);
      found++;
    }
  }
  if (found === 0) to.missing.push('an order list: no table has “order” in its name');
}

function chosen(to: Builder, document: WorkbookDocument, printed: readonly string[]): void {
  const sections = together(chosenParts(document, printed));
  for (const section of sections) to.section(section);
  if (sections.length === 0) to.missing.push('anything: nothing is chosen yet');
}

class Builder {
  readonly blocks: ReportBlock[] = [];
  readonly missing: string[] = [];
  readonly #session: Session;
  /** Names of what is shown: cells, and columns as `table.column`. */
  readonly #shown: string[] = [];

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

  #fact(cell: Cell): readonly [string, string] {
    this.#shown.push(cell.name);
    const shown = asText(show(this.#session.state(cell.name), cell, this.#session.system));
    return [cell.label || cell.name, shown === '' ? (cell.text === '' ? 'not typed yet' : 'none') : shown];
  }

  /** What the worksheets say in words, under the name of each. */
  verdicts(): boolean {
    const before = this.blocks.length;
    for (const sheet of this.#session.document.sheets) {
      const rows = sheet.sections
        .flatMap(({ items }) => items)
        .flatMap((item) =>
          item.kind === 'cell' && item.type === 'text' && item.name.includes('verdict')
            ? [this.#fact(item)]
            : [],
        );
      if (rows.length > 0) this.blocks.push({ kind: 'facts', title: sheet.title, rows });
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

  figures(wanted: (figure: Figure) => boolean): boolean {
    const before = this.blocks.length;
    for (const { items } of this.sections())
      for (const item of items)
        if (item.kind === 'figure' && wanted(item)) {
          this.blocks.push({ kind: 'figure', figure: item, beside: false });
        }
    return this.blocks.length > before;
  }

  /** The first figure of a kind, with facts beside it. */
  figure(kind: string): boolean {
    for (const { items } of this.sections())
      for (const item of items)
        if (item.kind === 'figure' && item.figure === kind) {
          this.blocks.push({ kind: 'figure', figure: item, beside: true });
          return true;
        }
    return false;
  }

  named(name: string): boolean {
    const item = standingOf(this.#session.outline, name)?.item;
    if (item?.kind === 'table') this.table(item);
    return item?.kind === 'table';
  }

  /** Rows on the screen; units stand in the heads, columns in which nothing stands are left away. */
  table(table: Table): void {
    this.#shown.push(...table.columns.map(({ name }) => `${table.name}.${name}`));
    const session = this.#session;
    const columns = shownColumns(session, table).filter(({ name }) => name !== table.reasonColumn);
    const rows = shownRows(session, table);
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
    const shown = rows.map((row) =>
      show(session.columnState(table.name, column.name, row), column, session.system),
    );
    const units = new Set(shown.map((each) => (each.kind === 'value' ? each.unit : '')).filter(Boolean));
    const [unit = ''] = units.size === 1 ? units : [];
    const label = column.label || column.name;
    const footed = column.footer && show(session.footer(table.name, column.name), column, session.system);
    return {
      header: unit === '' ? label : `${label}, ${unit}`,
      texts: shown.map((each) => asText(each.kind === 'value' && unit !== '' ? { ...each, unit: '' } : each)),
      footer: column.footer && footed ? `${column.footer} ${asText(footed)}` : '',
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
      else if (item.kind === 'figure') this.blocks.push({ kind: 'figure', figure: item, beside: false });
    }
  }

  /** Below the figures: where the typed ones come from, and in every report what is assumed. */
  restsOn(headline: boolean): void {
    const { titleBlock } = this.#session.document;
    const seeds = headline ? (titleBlock ? [titleBlock.result, titleBlock.target] : []) : this.#shown;
    const { sources, unsure, rows } = foundationsOf(this.#session, seeds);
    const line = (cell: Cell) => {
      const [label, value] = this.#fact(cell);
      return `${label}: ${value}. ${saidText(this.#session, cell.note)}`;
    };
    if (headline && sources.length > 0)
      this.blocks.push({ kind: 'lines', title: 'Sources', lines: sources.map(line) });
    const lines = [...unsure.map(line), ...rows];
    this.blocks.push({
      kind: 'lines',
      title: 'Assumptions and values from memory',
      lines: lines.length === 0 ? ['none named'] : lines,
    });
  }

  faults(): void {
    const lines = this.#session.faults.map(({ label, message }) => `${label}: ${message}`);
    this.blocks.push({ kind: 'lines', title: 'Open faults', lines: lines.length === 0 ? ['none'] : lines });
  }
}
