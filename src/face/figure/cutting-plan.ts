/** A cutting plan stick by stick, long pieces first, with the mark and the length of every piece and a box to tick. */
import { counted } from '../../workbook/index.ts';
import { formatFeetInches, formatNumber } from '../../engine/index.ts';
import { asText } from '../display.ts';
import { localNumber } from '../locale.ts';
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';

interface Piece {
  readonly mark: string;
  /** Metres. */
  readonly length: number;
}

export interface DrawnStick {
  readonly stock: number;
  readonly onHand: boolean;
  readonly pieces: readonly Piece[];
  readonly left: number;
  readonly keep: string;
}

export interface CuttingPlanData {
  readonly profile: string;
  readonly status: string;
  readonly waste: string;
  /** Why this profile has no plan, where something is wrong with its pieces or its stock. */
  readonly missing?: string;
  readonly sticks: readonly DrawnStick[];
  readonly kerf: string;
  /** Tape marks, or millimetres. */
  readonly inches: boolean;
}

export const cuttingPlan: FigureKind<CuttingPlanData> = {
  title: 'Cutting plan',
  resolve,
  panels: () => [],
  drawings,
  summary,
};

function resolve(bound: Bound): CuttingPlanData {
  const shown = bound.cell('shown')?.shown;
  const profile = shown ? asText(shown) : '';
  const row = bound.column('profile')?.values.indexOf(profile) ?? -1;
  const text = bound.column('plan')?.values[row];
  const kerf = bound.cell('kerf')?.shown;
  const unit = bound.column('length')?.unit ?? '';
  return {
    profile,
    status: bound.column('status')?.texts[row] ?? '',
    waste: bound.column('waste')?.texts[row] ?? '',
    sticks: typeof text === 'string' ? sticksOf(text) : [],
    ...(row >= 0 && typeof text !== 'string'
      ? { missing: bound.column('problem')?.texts[row] ?? bound.column('plan')?.texts[row] ?? '' }
      : {}),
    kerf: kerf ? asText(kerf) : '',
    inches: unit === 'in' || unit === 'ft',
  };
}

/** The plan as cutting_plan writes it: JSON, in metres. What is no such plan draws nothing. */
function sticksOf(text: string): DrawnStick[] {
  let listed: unknown;
  try {
    listed = JSON.parse(text);
  } catch {
    return [];
  }
  if (!Array.isArray(listed)) return [];
  return listed.flatMap((each: unknown): DrawnStick[] => {
    if (typeof each !== 'object' || each === null) return [];
    const { stock, onHand, pieces, left, keep } = each as Record<string, unknown>;
    if (typeof stock !== 'number' || typeof left !== 'number' || !Array.isArray(pieces)) return [];
    return [
      {
        stock,
        onHand: onHand === true,
        left,
        keep: typeof keep === 'string' ? keep : '',
        pieces: pieces.flatMap((piece: unknown): Piece[] =>
          Array.isArray(piece) && typeof piece[0] === 'string' && typeof piece[1] === 'number'
            ? [{ mark: piece[0], length: piece[1] }]
            : [],
        ),
      },
    ];
  });
}

/** To a sixty-fourth at the saw, or to a tenth of a millimetre. */
function cut(data: CuttingPlanData, metres: number): string {
  return data.inches
    ? inchesText(metres)
    : `${localNumber(formatNumber(metres * 1000, { places: 1 }).value)} mm`;
}

/** Pieces are read off a tape in inches alone. */
function inchesText(metres: number): string {
  const parts = Math.round((metres / 0.0254) * 64);
  const whole = Math.floor(parts / 64);
  let above = parts % 64;
  let below = 64;
  while (above > 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const fraction = above === 0 ? '' : `${above}/${below}`;
  return `${[whole === 0 && fraction !== '' ? '' : String(whole), fraction].filter(Boolean).join(' ')}"`;
}

function stockText(data: CuttingPlanData, metres: number): string {
  return data.inches
    ? formatFeetInches(metres).replace(/ 0"$/, '')
    : `${localNumber(formatNumber(metres, { places: 2 }).value)} m`;
}

const BAR = 26;
const STEP = 50;
/** A line more below a stick whose short pieces have no room for their lengths. */
const BELOW = 16;

function drawings(data: CuttingPlanData, theme: FigureTheme): Drawing[] {
  if (data.sticks.length === 0) return [];
  return [{ label: `${data.profile}, stick by stick`, layout: (width) => layout(data, theme, width) }];
}

function layout(data: CuttingPlanData, theme: FigureTheme, width: number): Layout {
  const shapes: Shape[] = [];
  const longest = Math.max(...data.sticks.map((stick) => stick.stock));
  const scale = (width - 2) / longest;
  let top = 0;
  data.sticks.forEach((stick, n) => {
    const bar = top + 19;
    const from = stick.onHand ? ', on hand' : '';
    shapes.push({
      kind: 'text',
      x: 0,
      y: top + 13,
      text: `${n + 1}. ${stockText(data, stick.stock)}${from}`,
      color: theme.ink,
      size: 12,
      strong: true,
    });
    const rest =
      stick.keep === '' ? `${cut(data, stick.left)} left` : `keep ${stick.keep}, ${cut(data, stick.left)}`;
    shapes.push({
      kind: 'text',
      x: width,
      y: top + 13,
      text: rest,
      color: theme.soft,
      size: 12,
      align: 'right',
    });
    shapes.push({
      kind: 'rect',
      x: 1,
      y: bar,
      width: stick.stock * scale,
      height: BAR,
      fill: stick.keep === '' ? theme.hair : wash(theme.ok, 0.25),
      stroke: theme.rule,
      strokeWidth: 1,
    });
    let x = 1;
    const short: string[] = [];
    // What lies between the pieces and the rest is kerf; it is drawn to scale, so it is mostly seen as a line.
    const kerf = kerfOf(stick);
    for (const piece of stick.pieces) {
      const wide = piece.length * scale;
      shapes.push({
        kind: 'rect',
        x,
        y: bar,
        width: wide,
        height: BAR,
        fill: wash(theme.chalk, 0.2),
        stroke: theme.chalk,
        strokeWidth: 1,
      });
      const size = 12;
      const full = `${piece.mark} ${cut(data, piece.length)}`;
      const text = [full, piece.mark].find((each) => textWidth(each, size) < wide - 6);
      if (text !== full) short.push(full);
      if (text !== undefined)
        shapes.push({
          kind: 'text',
          x: x + wide / 2,
          y: bar + 17,
          text,
          color: theme.ink,
          size,
          align: 'center',
        });
      x += wide + kerf * scale;
    }
    top += STEP;
    for (const line of lines(short, width)) {
      shapes.push({ kind: 'text', x: 1, y: top + 8, text: line, color: theme.soft, size: 12 });
      top += BELOW;
    }
  });
  return { height: top, shapes };
}

/** Words in as few lines as hold them. */
function lines(words: readonly string[], width: number): string[] {
  const all: string[] = [];
  for (const word of words) {
    const last = all.at(-1);
    const longer = last === undefined ? word : `${last}, ${word}`;
    if (last !== undefined && textWidth(longer, 12) <= width) all[all.length - 1] = longer;
    else all.push(word);
  }
  return all;
}

/** Pieces are drawn a saw cut apart. */
function kerfOf(stick: DrawnStick): number {
  const cutLength = stick.pieces.reduce((sum, piece) => sum + piece.length, 0);
  const room = stick.stock - cutLength - stick.left;
  return stick.pieces.length > 1 ? Math.min(0.004, Math.max(0, room / stick.pieces.length)) : 0;
}

/** On one line: the fraction of a length that begins a line of its own would be read as the length. */
function whole(text: string): string {
  return text.replaceAll(' ', '\u00a0');
}

function summary(data: CuttingPlanData): FigureSummary {
  const headers = ['Stick', 'Length', 'Pieces, in cutting order', 'Left'];
  if (data.sticks.length === 0)
    return {
      line:
        data.profile === ''
          ? 'No profile is chosen'
          : data.missing === undefined
            ? `Nothing to cut of ${data.profile}`
            : `No plan of ${data.profile}. ${data.missing}`,
      ...(data.missing === undefined ? {} : { tone: 'hold' as const }),
      headers,
      rows: [],
    };
  const tone = data.status.endsWith('proved') && !data.status.includes('not yet') ? 'ok' : 'hold';
  const told = [
    data.profile,
    counted(data.sticks.length, 'stick'),
    data.status,
    ...(data.waste === '' ? [] : [`${data.waste} waste`]),
    ...(data.kerf === '' ? [] : [`kerf ${data.kerf}`]),
  ];
  return {
    line: told.join('; '),
    tone,
    headers,
    list: 'cut list',
    rows: data.sticks.map((stick, n) => [
      String(n + 1),
      `${stockText(data, stick.stock)}${stick.onHand ? ', on hand' : ''}`,
      stick.pieces.map((piece) => whole(`☐ ${piece.mark} ${cut(data, piece.length)}`)).join('   '),
      stick.keep === ''
        ? whole(cut(data, stick.left))
        : `keep ${stick.keep}, ${whole(cut(data, stick.left))}`,
    ]),
  };
}
