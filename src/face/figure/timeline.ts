/** Stages of the work as bars from day to day, with the hold points that stand before them. */
import { wash } from './axes.ts';
import { dateText, shortDate } from './date-text.ts';
import { textWidth, type Layout, type Shape } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';

export interface Stage {
  readonly name: string;
  /** Days since 1970-01-01; undefined where a date is wanting. */
  readonly start?: number;
  /** The last day of work. */
  readonly finish?: number;
  readonly days: string;
  readonly point: string;
  readonly state: string;
}

export interface TimelineData {
  readonly stages: readonly Stage[];
  readonly today?: number;
}

const DAY = 86_400_000;

export const timeline: FigureKind<TimelineData> = {
  title: 'Timeline',
  resolve,
  panels: () => [],
  drawings: (data, theme) => [
    { label: 'Stages of the work from day to day', layout: (width) => layout(data, theme, width) },
  ],
  summary,
};

function dayOf(value: unknown): number | undefined {
  if (typeof value !== 'string' || !/^\d{4}-\d\d-\d\d$/u.test(value)) return undefined;
  const time = Date.parse(`${value}T00:00:00Z`);
  return Number.isNaN(time) ? undefined : time / DAY;
}

function resolve(bound: Bound): TimelineData {
  const names = bound.column('stage');
  const [starts, finishes, days, points, states] = ['start', 'finish', 'days', 'point', 'point_state'].map(
    (role) => bound.column(role),
  );
  const shown = bound.cell('today')?.shown;
  const today = shown?.kind === 'text' ? dayOf(shown.text) : undefined;
  return {
    stages: (names?.texts ?? []).flatMap((name, row) => {
      if (name === '') return [];
      const [start, finish] = [dayOf(starts?.values[row]), dayOf(finishes?.values[row])];
      return [
        {
          name,
          ...(start === undefined ? {} : { start }),
          ...(finish === undefined ? {} : { finish }),
          days: days?.texts[row] ?? '',
          point: points?.texts[row] ?? '',
          state: states?.texts[row] ?? '',
        },
      ];
    }),
    ...(today === undefined ? {} : { today }),
  };
}

function isReleased(state: string): boolean {
  return state.startsWith('released');
}

type Dated = Stage & { readonly start: number; readonly finish: number };

function dated(data: TimelineData): Dated[] {
  return data.stages.filter(
    (stage): stage is Dated => stage.start !== undefined && stage.finish !== undefined,
  );
}

function summary(data: TimelineData): FigureSummary {
  const headers = ['stage', 'from', 'to', 'days', 'hold point before it', 'state'];
  const text = (day: number | undefined) => (day === undefined ? '' : dateText(day));
  const rows = data.stages.map((stage) => [
    stage.name,
    text(stage.start),
    text(stage.finish),
    stage.days,
    stage.point,
    stage.state,
  ]);
  const known = dated(data);
  if (data.stages.length === 0) return { line: 'No stage yet', tone: 'hold', headers, rows };
  if (known.length === 0)
    return {
      line: 'No dates yet: a start date, quantities and rates are wanted',
      tone: 'hold',
      headers,
      rows,
    };
  const [first, last] = [
    Math.min(...known.map(({ start }) => start)),
    Math.max(...known.map(({ finish }) => finish)),
  ];
  const next = data.stages.find((stage) => stage.point !== '' && !isReleased(stage.state));
  const told = [`From ${dateText(first)} to ${dateText(last)}`];
  if (known.length < data.stages.length) told.push(`${data.stages.length - known.length} without dates`);
  if (next) told.push(`next hold point: ${next.point}, ${next.state || 'not known'}`);
  return { line: told.join('; '), tone: next ? 'hold' : 'ok', headers, rows };
}

const ROW = 38;
const TOP = 26;

function layout(data: TimelineData, theme: FigureTheme, width: number): Layout {
  const shapes: Shape[] = [];
  const known = dated(data);
  if (known.length === 0) {
    const text = data.stages.length === 0 ? 'No stage yet.' : 'No dates yet.';
    return { height: 34, shapes: [{ kind: 'text', x: 0, y: 20, text, color: theme.soft }] };
  }
  const days = known.flatMap(({ start, finish }) => [start, finish + 1]);
  const first = Math.min(...days, data.today ?? Infinity);
  const last = Math.max(...days, (data.today ?? -Infinity) + 1);
  const left = 8;
  const right = width - 8;
  const x = (day: number) => left + ((day - first) / Math.max(1, last - first)) * (right - left);
  const bottom = TOP + ROW * known.length;
  for (const { day, text } of ticks(first, last, right - left)) {
    shapes.push(
      {
        kind: 'line',
        points: [
          [x(day), TOP - 6],
          [x(day), bottom],
        ],
        stroke: theme.hair,
        strokeWidth: 1,
      },
      { kind: 'text', x: x(day) + 3, y: 13, text, color: theme.soft, size: 12 },
    );
  }
  for (const [row, stage] of known.entries()) shapes.push(...stageShapes(stage, row, x, width, theme));
  if (data.today !== undefined) {
    const at = x(data.today + 0.5);
    shapes.push(
      {
        kind: 'line',
        points: [
          [at, TOP - 4],
          [at, bottom],
        ],
        stroke: theme.chalk,
        strokeWidth: 1.5,
        dashed: true,
      },
      {
        kind: 'text',
        x: at > width / 2 ? at - 4 : at + 4,
        y: bottom + 13,
        text: 'today',
        color: theme.chalk,
        size: 12,
        align: at > width / 2 ? 'right' : 'left',
      },
    );
  }
  const key = 'bar: first to last day of work; diamond: hold point before it, filled when released';
  const lines = wrapped(key, width, 12);
  for (const [at, text] of lines.entries())
    shapes.push({ kind: 'text', x: 0, y: bottom + 32 + at * 16, text, color: theme.soft, size: 12 });
  return { height: bottom + 30 + lines.length * 16, shapes };
}

function stageShapes(
  stage: Dated,
  row: number,
  x: (day: number) => number,
  width: number,
  theme: FigureTheme,
): Shape[] {
  const y = TOP + row * ROW;
  const from = x(stage.start);
  const long = Math.max(3, x(stage.finish + 1) - from);
  const said = [stage.name, stage.days === '' ? '' : `${stage.days} ${stage.days === '1' ? 'day' : 'days'}`]
    .filter(Boolean)
    .join(', ');
  const start = Math.max(0, Math.min(from, width - textWidth(said, 13) - 4));
  const shapes: Shape[] = [
    { kind: 'text', x: start, y: y + 14, text: said, color: theme.ink, size: 13 },
    { kind: 'rect', x: from, y: y + 20, width: long, height: 11, fill: wash(theme.chalk, 0.45) },
  ];
  if (stage.point === '') return shapes;
  const released = isReleased(stage.state);
  const color = released ? theme.ok : theme.hold;
  const centre = Math.max(6, from);
  shapes.push({
    kind: 'line',
    points: [
      [centre, y + 19],
      [centre + 6.5, y + 25.5],
      [centre, y + 32],
      [centre - 6.5, y + 25.5],
      [centre, y + 19],
    ],
    fill: released ? color : theme.sheet,
    stroke: color,
    strokeWidth: 1.75,
  });
  return shapes;
}

/** Mondays, or firsts of months where the weeks stand too close. */
function ticks(first: number, last: number, room: number): { day: number; text: string }[] {
  const most = Math.max(2, Math.floor(room / 52));
  const weeks = Math.ceil((last - first) / 7);
  const step = Math.max(1, Math.ceil(weeks / most));
  const monday = first + ((7 - ((first + 3) % 7)) % 7);
  const found: { day: number; text: string }[] = [];
  for (let day = monday; day < last; day += 7 * step)
    if ((day - first) / (last - first) < 0.93) found.push({ day, text: shortDate(day) });
  return found;
}

function wrapped(text: string, width: number, size: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && textWidth(`${line} ${word}`, size) <= width)
      lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}
