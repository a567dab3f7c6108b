/** What a report holds, found by the names that workbooks agree on. It computes nothing: every text comes from a state. */
import type { Column, Section, Table, WorkbookDocument } from '../../workbook/index.ts';
import { headlineOf, type Headline } from '../headline.ts';
import type { Session } from '../session.svelte.ts';
import { chosenParts, together as inSections } from './chosen.ts';
import { preparationLines } from './preparation.ts';
import { ReportBuilder, type ReportBlock, type ReportNote } from './report-builder.ts';

export type ReportKind = 'certificate' | 'client' | 'order' | 'cut' | 'trade' | 'sections';

export const REPORTS: readonly { readonly kind: ReportKind; readonly title: string }[] = [
  { kind: 'certificate', title: 'Test certificate' },
  { kind: 'client', title: 'Client summary' },
  { kind: 'order', title: 'Order list' },
  { kind: 'cut', title: 'Cut list' },
  { kind: 'trade', title: 'Trade sheet' },
  { kind: 'sections', title: 'Chosen parts' },
];

/** At the foot of a report: what the workbook says there; where it is blank there is a line to write on. */
export interface SigningLine {
  readonly label: string;
  readonly typed: string;
}

export interface Report {
  readonly title: string;
  readonly headline?: Headline;
  /** How the result stands to all targets together. */
  readonly together?: string;
  readonly blocks: readonly ReportBlock[];
  readonly notes: readonly ReportNote[];
  readonly signing: readonly SigningLine[];
  /** What this report would show and the workbook does not have. */
  readonly missing: readonly string[];
}

/** Results and settings of a fan test, where the workbook has them. */
const TEST_FACTS = ['shown_test', 'test_method', 'method_verdict', 'verdict_ach50', 'chance_ach50'];
const TEST_RESULTS = ['q50', 'flow_coefficient', 'pressure_exponent', 'r_squared', 'building_volume'];
const TEST_SECOND = ['permeability50', 'target_permeability50', 'verdict_permeability50', 'envelope_area'];

/** What whoever relies on the test needs, and the cell that may say it; workbooks made earlier have none. */
const SIGNING: readonly (readonly [label: string, cell?: string])[] = [
  ['Tested by'],
  ['Gauge and fan, calibrated', 'test_instruments'],
  ['Standard, edition', 'test_edition'],
  ['Signature'],
  ['Signed on'],
];

/** What is said of all targets together. */
const TOGETHER = 'targets_say';

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
  const builder = new ReportBuilder(session);
  const isHeaded = kind === 'certificate' || kind === 'client';
  const together = isHeaded ? builder.said(TOGETHER) : '';
  const headline = isHeaded ? headlineOf(session, together === '') : undefined;
  if (kind === 'certificate') certificate(builder, session);
  else if (kind === 'client') clientSummary(builder);
  else if (kind === 'order') orderList(builder);
  else if (kind === 'cut') cutList(builder);
  else chosen(builder, session.document, printed);
  if (isHeaded && !headline) builder.missing.push('a headline result: its title block names none');
  return {
    title,
    ...(headline && { headline, together }),
    blocks: builder.blocks,
    notes: [...builder.restsOn(isHeaded), ...builder.doubts(), builder.faults()],
    signing: kind === 'certificate' && headline ? signingLines(builder) : [],
    missing: builder.missing,
  };
}

/** One page for one trade. */
function tradeSheet(session: Session, title: string, trade: string | undefined): Report {
  const all = tradeSheets(session.document);
  const section = all.find(({ id }) => id === trade) ?? all[0];
  const builder = new ReportBuilder(session);
  if (section) builder.section({ ...section, title: '' });
  else builder.missing.push('trade sheets: no worksheet has “trade sheet” in its title');
  return {
    title: [title, section?.title].filter(Boolean).join(': '),
    blocks: builder.blocks,
    notes: [],
    signing: [],
    missing: builder.missing,
  };
}

function signingLines(builder: ReportBuilder): SigningLine[] {
  return SIGNING.map(([label, cell]) => ({ label, typed: cell === undefined ? '' : builder.said(cell) }));
}

function certificate(to: ReportBuilder, session: Session): void {
  const prepared = { title: 'Preparation', rows: preparationLines(session) };
  if (!to.figure('power_law_fit', prepared)) to.missing.push('a figure of the fit');
  to.facts('Test', TEST_FACTS);
  to.facts('Result', [...TEST_RESULTS, ...TEST_SECOND]);
  to.conditions();
  if (!to.named('readings')) to.missing.push('a table named readings');
}

function clientSummary(to: ReportBuilder): void {
  if (!to.verdicts()) to.missing.push('verdicts: no cell has “verdict” in its name');
  if (!to.figures(({ figure }) => figure === 'margin' || figure === 'stages', 'half'))
    to.missing.push('a figure of the margin or the stages');
}

function orderList(to: ReportBuilder): void {
  let found = 0;
  for (const section of to.sections()) {
    for (const item of section.items) {
      if (item.kind !== 'table') continue;
      const ordered = orderedColumn(item);
      const isOrder = ORDER.test(item.name) || (ordered !== undefined && ORDERED.test(section.title));
      if (!isOrder) continue;
      to.table(item, ordered);
      found++;
    }
  }
  if (found === 0) to.missing.push('an order list: no table has “order” in its name');
}

const ORDER = /(^|_)orders?(_|$)/;
/** Stages “in order” are nothing that is ordered. */
const ORDERED = /(?<!\bin )\border\b/i;

/** The column that says how many are ordered; a table of an order may call it a quantity or pieces. */
function orderedColumn({ name, columns }: Table): Column | undefined {
  const called = (word: RegExp) =>
    columns.find((column) => column.type === 'number' && column.hidden !== true && word.test(column.name));
  return called(/^orders?$/) ?? (ORDER.test(name) ? called(/^(quantity|pieces)$/) : undefined);
}

function cutList(to: ReportBuilder): void {
  if (!to.figures(({ figure }) => figure === 'cutting_plan')) to.missing.push('a figure of the cutting plan');
}

function chosen(to: ReportBuilder, document: WorkbookDocument, printed: readonly string[]): void {
  const sections = inSections(chosenParts(document, printed));
  for (const section of sections) to.section(section);
  if (sections.length === 0)
    to.blocks.push({
      kind: 'text',
      title: '',
      text: 'Of this workbook nothing is chosen yet: tick above what goes on paper.',
    });
}
