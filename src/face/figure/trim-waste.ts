/** Waste of each profile as a bar: what is neither piece nor kept offcut, of all sticks used. */
import { wash } from './axes.ts';
import type { Drawing, Layout, Shape } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';

interface Bar {
  readonly profile: string;
  readonly text: string;
  readonly value?: number;
}

export interface TrimWasteData {
  readonly unit: string;
  readonly bars: readonly Bar[];
}

export const trimWaste: FigureKind<TrimWasteData> = {
  title: 'Waste by profile',
  resolve,
  panels: () => [],
  drawings,
  summary,
};

function resolve(bound: Bound): TrimWasteData {
  const profiles = bound.column('profile');
  const waste = bound.column('waste');
  return {
    unit: waste?.unit ?? '',
    bars: (profiles?.texts ?? []).map((profile, row): Bar => {
      const value = waste?.values[row];
      return {
        profile,
        text: waste?.texts[row] ?? '',
        ...(typeof value === 'number' ? { value } : {}),
      };
    }),
  };
}

const ROW = 28;
const NAME = 104;

function drawings(data: TrimWasteData, theme: FigureTheme): Drawing[] {
  if (data.bars.every((bar) => bar.value === undefined)) return [];
  return [{ label: 'a bar a profile', layout: (width) => layout(data, theme, width) }];
}

function layout(data: TrimWasteData, theme: FigureTheme, width: number): Layout {
  const most = Math.max(...data.bars.map((bar) => bar.value ?? 0), Number.MIN_VALUE);
  const room = width - NAME - 64;
  const shapes = data.bars.flatMap((bar, n): Shape[] => {
    const y = n * ROW;
    const long = (room * (bar.value ?? 0)) / most;
    return [
      { kind: 'text', x: 0, y: y + 18, text: bar.profile, color: theme.ink },
      {
        kind: 'rect',
        x: NAME,
        y: y + 5,
        width: long,
        height: 18,
        fill: wash(theme.hold, 0.35),
        stroke: theme.hold,
        strokeWidth: 1,
      },
      { kind: 'text', x: NAME + long + 8, y: y + 18, text: bar.text || 'no plan', color: theme.ink },
    ];
  });
  return { height: data.bars.length * ROW, shapes };
}

function summary(data: TrimWasteData): FigureSummary {
  const known = data.bars.filter((bar) => bar.value !== undefined);
  const worst = known.reduce<Bar | undefined>(
    (most, bar) => (most === undefined || (bar.value ?? 0) > (most.value ?? 0) ? bar : most),
    undefined,
  );
  return {
    line: worst ? `Most is wasted of ${worst.profile}: ${worst.text}` : 'No plan yet',
    headers: ['Profile', 'Waste'],
    rows: data.bars.map((bar) => [bar.profile, bar.text]),
  };
}
