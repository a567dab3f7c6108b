/** A result at each stage of a job with its interval, against one or more targets that it should stay under. */
import { asDigits } from './digits.ts';
import { asText } from '../display.ts';
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';
import { linearRange } from './scale.ts';

export interface StageMark {
  readonly stage: string;
  readonly at: number;
  readonly text: string;
  readonly low?: number;
  readonly high?: number;
}

export interface StagesData {
  readonly unit: string;
  readonly stages: readonly StageMark[];
  readonly targets: readonly { readonly label: string; readonly at: number; readonly text: string }[];
}

type Verdict = 'ok' | 'hold' | 'fault';

export const stages: FigureKind<StagesData> = {
  title: 'Stage by stage',
  resolve,
  panels: () => [],
  drawings: (data, theme) =>
    data.stages.length === 0
      ? []
      : [
          {
            label: 'Result of each stage',
            layout: (width) => layoutOf(data, theme, width),
          } satisfies Drawing,
        ],
  summary,
};

function resolve(bound: Bound): StagesData {
  const value = bound.column('value');
  const names = bound.column('stage');
  const low = bound.column('low')?.values;
  const high = bound.column('high')?.values;
  const marks = (value?.values ?? []).flatMap((at, row): StageMark[] => {
    const [from, to] = [low?.[row], high?.[row]];
    if (typeof at !== 'number') return [];
    return [
      {
        stage: names?.texts[row] ?? '',
        at,
        text: value?.texts[row] ?? '',
        ...(typeof from === 'number' && typeof to === 'number' ? { low: from, high: to } : {}),
      },
    ];
  });
  const targets = bound.roles('target').flatMap((role) => {
    const cell = bound.cell(role);
    if (cell?.value === undefined) return [];
    const text = cell.shown.kind === 'value' ? cell.shown.value : asText(cell.shown);
    return [{ label: cell.label.split(',')[0] ?? '', at: cell.value, text }];
  });
  return { unit: value?.unit ?? '', stages: marks, targets };
}

/** Met or not met only where the whole interval is on one side. */
function verdict(mark: StageMark, target: number): Verdict {
  if ((mark.high ?? mark.at) <= target) return 'ok';
  return (mark.low ?? mark.at) > target ? 'fault' : 'hold';
}

const WORDS: Record<Verdict, string> = { ok: 'met', hold: 'too close to call', fault: 'not met' };

function worst(mark: StageMark, data: StagesData): Verdict {
  const all = data.targets.map((target) => verdict(mark, target.at));
  return all.includes('fault') ? 'fault' : all.includes('hold') ? 'hold' : 'ok';
}

function summary(data: StagesData): FigureSummary {
  const headers = [
    'Stage',
    data.unit,
    '95 % from',
    'to',
    ...data.targets.map(({ text }) => `against ${text}`),
  ];
  const number = (value: number | undefined) => (value === undefined ? '' : asDigits(value));
  const rows = data.stages.map((mark) => [
    mark.stage,
    mark.text,
    number(mark.low),
    number(mark.high),
    ...data.targets.map((target) => WORDS[verdict(mark, target.at)]),
  ]);
  const last = data.stages.at(-1);
  if (!last) return { line: 'No result yet', tone: 'hold', headers, rows };
  const [first] = data.stages;
  const way =
    first === undefined || first === last
      ? `${last.stage}: ${last.text}`
      : `from ${first.text} to ${last.text}`;
  const told = data.targets.map(
    (target) => `${data.targets.length === 1 ? 'target' : target.text} ${WORDS[verdict(last, target.at)]}`,
  );
  return {
    line: [way, ...told].join('; '),
    ...(data.targets.length === 0 ? {} : { tone: worst(last, data) }),
    headers,
    rows,
  };
}

const ROW = 42;
const SIDE = 14;
const SMALL = 12;

function layoutOf(data: StagesData, theme: FigureTheme, width: number): Layout {
  const values = [
    ...data.stages.flatMap((mark) => [mark.at, mark.low ?? mark.at, mark.high ?? mark.at]),
    ...data.targets.map((target) => target.at),
  ];
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low || Math.abs(high) || 1) * 0.12;
  const range = linearRange([Math.max(low - room, 0), high + room], width < 420 ? 4 : 6);
  const x = (value: number) =>
    SIDE + ((value - range.min) / (range.max - range.min)) * Math.max(width - 2 * SIDE, 1);
  const top = 6 + 16 * data.targets.length;
  const bottom = top + ROW * data.stages.length + 6;
  const shapes: Shape[] = [];

  const strictest = Math.min(...data.targets.map((target) => target.at));
  if (Number.isFinite(strictest)) {
    shapes.push({
      kind: 'rect',
      x: x(strictest),
      y: top,
      width: width - SIDE - x(strictest),
      height: bottom - top,
      fill: wash(theme.fault, 0.08),
    });
  }
  for (let tick = range.min; tick <= range.max + range.step / 2; tick += range.step) {
    const at = x(tick);
    const shown = asDigits(tick, 6);
    shapes.push(
      {
        kind: 'line',
        points: [
          [at, bottom],
          [at, bottom + 5],
        ],
        stroke: theme.soft,
      },
      {
        kind: 'text',
        x: Math.min(Math.max(at, textWidth(shown, SMALL) / 2), width - textWidth(shown, SMALL) / 2),
        y: bottom + 19,
        text: shown,
        color: theme.soft,
        size: SMALL,
        align: 'center',
      },
    );
  }
  shapes.push({
    kind: 'line',
    points: [
      [SIDE, bottom],
      [width - SIDE, bottom],
    ],
    stroke: theme.rule,
  });
  shapes.push(...targetShapes(data, theme, x, bottom, width));
  data.stages.forEach((mark, row) => {
    shapes.push(...stageShapes(mark, theme[worstTone(mark, data)], theme, x, top + row * ROW, width));
  });
  return { height: bottom + 26, shapes };
}

function worstTone(mark: StageMark, data: StagesData): 'ok' | 'hold' | 'fault' | 'chalk' {
  return data.targets.length === 0 ? 'chalk' : worst(mark, data);
}

/**
 * Each target has its own line of words, and its line begins there: one whose words stand to the right comes before
 * those to the right of it, so that no line runs through the words of another.
 */
function targetShapes(
  data: StagesData,
  theme: FigureTheme,
  x: (value: number) => number,
  bottom: number,
  width: number,
): Shape[] {
  const labels = data.targets.map((target) => {
    const text = `${data.targets.length === 1 ? 'target' : target.label.toLowerCase()} ${target.text}`;
    const at = x(target.at);
    return { text, at, toLeft: at + 6 + textWidth(text, SMALL) > width - SIDE };
  });
  const inOrder = [
    ...labels.filter(({ toLeft }) => toLeft).sort((a, b) => b.at - a.at),
    ...labels.filter(({ toLeft }) => !toLeft).sort((a, b) => a.at - b.at),
  ];
  return inOrder.flatMap(({ text, at, toLeft }, line): Shape[] => {
    const y = 14 + 16 * line;
    return [
      {
        kind: 'line',
        points: [
          [at, y - 10],
          [at, bottom],
        ],
        stroke: theme.ink,
        strokeWidth: 1.4,
      },
      {
        kind: 'text',
        x: at + (toLeft ? -6 : 6),
        y,
        text,
        color: theme.ink,
        size: SMALL,
        align: toLeft ? 'right' : 'left',
      },
    ];
  });
}

function stageShapes(
  mark: StageMark,
  tone: string,
  theme: FigureTheme,
  x: (value: number) => number,
  top: number,
  width: number,
): Shape[] {
  const y = top + 31;
  const at = x(mark.at);
  // The name stands over the mark, kept inside the page.
  const name = `${mark.stage}  ${mark.text}`;
  const half = textWidth(name, 13) / 2 + 4;
  const middle = Math.min(Math.max(at, half), width - half);
  const shapes: Shape[] = [
    // Paper under the name, so that the line of a target does not run through it.
    { kind: 'rect', x: middle - half, y: top + 8, width: 2 * half, height: 16, fill: theme.sheet },
    { kind: 'text', x: middle, y: top + 20, text: name, color: theme.ink, size: 13, align: 'center' },
  ];
  if (mark.low !== undefined && mark.high !== undefined) {
    const [from, to] = [x(mark.low), x(mark.high)];
    shapes.push(
      {
        kind: 'line',
        points: [
          [from, y],
          [to, y],
        ],
        stroke: tone,
        strokeWidth: 2,
      },
      {
        kind: 'line',
        points: [
          [from, y - 5],
          [from, y + 5],
        ],
        stroke: tone,
        strokeWidth: 2,
      },
      {
        kind: 'line',
        points: [
          [to, y - 5],
          [to, y + 5],
        ],
        stroke: tone,
        strokeWidth: 2,
      },
    );
  }
  shapes.push({
    kind: 'line',
    points: [
      [at, y - 5],
      [at + 5, y],
      [at, y + 5],
      [at - 5, y],
    ],
    fill: tone,
    stroke: tone,
  });
  return shapes;
}
