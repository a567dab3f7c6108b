/** A result with its interval on a number line, against targets that it should stay under, or reach. */
import { asDigits } from './digits.ts';
import { NOT_KNOWN } from '../../engine/index.ts';
import { asText, type Shown } from '../display.ts';
import { still, wash } from './axes.ts';
import type { DirectLabel } from './direct.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme, Panel } from './kind.ts';
import { linearRange } from './scale.ts';
import { NORMAL_95 } from './spread.ts';

export interface MarginTarget {
  readonly label: string;
  readonly value: number;
  readonly text: string;
  /** The value must reach it; else stay under it. */
  readonly atLeast?: true;
  /** Chance that it is met, with all that it shares with the value; and as shown in its cell. */
  readonly chance?: { readonly of: number; readonly text: string };
}

export interface MarginData {
  readonly unit: string;
  readonly value?: {
    readonly at: number;
    readonly text: string;
    readonly plusMinus?: number;
    /** What the true value stays within to one side, with a chance of 95 %. */
    readonly reach?: number;
    /** True: its ± cannot be told. */
    readonly untold?: true;
  };
  /** The 95 % interval. */
  readonly interval?: { readonly low: number; readonly high: number };
  readonly targets: readonly MarginTarget[];
  readonly missing?: string;
}

export const margin: FigureKind<MarginData> = { title: 'Margin to target', resolve, panels, summary };

/** A blank of which no more can be said. */
function isNotKnown(shown: Shown): boolean {
  return shown.kind === 'blank' && shown.reason === NOT_KNOWN;
}

function resolve(bound: Bound): MarginData {
  const value = bound.cell('value');
  const low = bound.cell('low')?.value;
  const high = bound.cell('high')?.value;
  const interval =
    low !== undefined && high !== undefined
      ? { low, high }
      : value?.value !== undefined && value.plusMinus !== undefined && value.plusMinus > 0
        ? { low: value.value - NORMAL_95 * value.plusMinus, high: value.value + NORMAL_95 * value.plusMinus }
        : undefined;
  return {
    unit: value?.unit ?? '',
    targets: [
      ...bound.roles('target').flatMap((role) => targetOf(bound, role)),
      ...bound.roles('least').flatMap((role) => targetOf(bound, role, true)),
    ],
    ...(value?.value === undefined
      ? { missing: value && !isNotKnown(value.shown) ? asText(value.shown) : '' }
      : {
          value: {
            at: value.value,
            text: bare(value.shown),
            ...(value.plusMinus === undefined ? {} : { plusMinus: value.plusMinus }),
            ...(value.reach === undefined || low !== undefined || high !== undefined
              ? {}
              : { reach: value.reach }),
            ...(value.shown.kind === 'value' && value.shown.untold ? { untold: true } : {}),
          },
        }),
    ...(interval ? { interval } : {}),
  };
}

function targetOf(bound: Bound, role: string, atLeast = false): MarginTarget[] {
  const cell = bound.cell(role);
  if (cell?.value === undefined) return [];
  const number = role.replace(/^[a-z]+/, '');
  // Of a target to stay under and one to reach, the chance is the former's.
  const chance =
    atLeast && bound.cell(`target${number}`) !== undefined ? undefined : bound.cell(`chance${number}`);
  return [
    {
      label: cell.label,
      value: cell.value,
      text: bare(cell.shown),
      ...(atLeast ? { atLeast } : {}),
      ...(chance?.value === undefined
        ? {}
        : { chance: { of: chance.value / (chance.unit === '%' ? 100 : 1), text: asText(chance.shown) } }),
    },
  ];
}

function bare(shown: Shown): string {
  return shown.kind === 'value' ? shown.value : asText(shown);
}

/** `First target, at most` is too long beside its line. */
function shortened(label: string): string {
  return label.split(',')[0]?.toLowerCase() ?? '';
}

const MET = 0.95;

type Verdict = 'ok' | 'hold' | 'fault';

/**
 * Met or not met where the chance of it is 95 % at least, the rule of the worksheets' verdicts: by the chance that is
 * bound, which knows what value and target share; else by the ± of the value alone, or by the limits given.
 */
function verdict(data: MarginData, target: MarginTarget): Verdict {
  const { at = Number.NaN, reach, untold } = data.value ?? {};
  if (target.chance) return target.chance.of >= MET ? 'ok' : target.chance.of <= 1 - MET ? 'fault' : 'hold';
  const low = reach === undefined ? (data.interval?.low ?? at) : at - reach;
  const high = reach === undefined ? (data.interval?.high ?? at) : at + reach;
  if (untold && !data.interval) return 'hold';
  if (target.atLeast) return low >= target.value ? 'ok' : high < target.value ? 'fault' : 'hold';
  if (high <= target.value) return 'ok';
  return low > target.value ? 'fault' : 'hold';
}

const WORDS: Record<Verdict, string> = { ok: 'met', hold: 'too close to call', fault: 'not met' };

function wordOf(data: MarginData, target: MarginTarget): string {
  const said = verdict(data, target);
  return said === 'hold' && data.value?.untold && !data.interval ? '± not told' : WORDS[said];
}

function worst(data: MarginData): Verdict {
  const all = data.targets.map((target) => verdict(data, target));
  return all.includes('fault') ? 'fault' : all.includes('hold') ? 'hold' : 'ok';
}

function summary(data: MarginData): FigureSummary {
  const unit = data.unit === '' ? '' : ` ${data.unit}`;
  const headers = ['', data.unit];
  if (!data.value) {
    const why = data.missing ? `: ${data.missing}` : '';
    return { line: `No result yet${why}`, tone: 'hold', headers, rows: [] };
  }
  const told = data.targets.map((target) => {
    const word = wordOf(data, target);
    return data.targets.length === 1 ? word : `${target.text}${unit} ${word}`;
  });
  const chances = data.targets.flatMap(({ atLeast, text, chance }) =>
    chance ? [`${atLeast ? 'at least' : 'under'} ${text}: ${chance.text}`] : [],
  );
  if (chances.length > 0) told.push(`chance the true value is ${chances.join('; ')}`);
  const rows = [['value', data.value.text]];
  if (data.interval) {
    rows.push(['95 % from', asDigits(data.interval.low)], ['95 % to', asDigits(data.interval.high)]);
  }
  for (const target of data.targets) rows.push([target.label, target.text]);
  return {
    line: told.length === 0 ? 'No target yet' : told.join('; '),
    ...(data.targets.length === 0 ? {} : { tone: worst(data) }),
    headers,
    rows,
  };
}

function panels(data: MarginData, theme: FigureTheme): Panel[] {
  const tone = data.targets.length === 0 || !data.value ? theme.chalk : theme[worst(data)];
  const shown = data.targets.map((target) => target.value);
  const bell = bellOf(data);
  if (data.value) shown.push(data.value.at);
  if (data.interval) shown.push(data.interval.low, data.interval.high);
  const range = linearRange(padded(shown), 7);
  const labels: DirectLabel[] = data.targets.map((target, at) => ({
    text: `${data.targets.length === 1 ? 'target' : shortened(target.label)} ${target.text}`,
    x: target.value,
    y: 'top',
    dx: 6,
    dy: 8 + 14 * at,
    color: theme.ink,
  }));
  if (data.value) {
    const { at } = data.value;
    const text = [data.value.text, data.unit].filter(Boolean).join(' ');
    labels.push({
      text,
      x: at,
      y: bell.length > 0 ? 1 : 0.4,
      dx: 0,
      dy: -11,
      color: theme.ink,
      strong: true,
      align: 'center',
    });
  }
  const shades = shadesOf(data.targets).map((shade) => ({ ...shade, color: wash(theme.fault, 0.08) }));
  const line = { showLine: true, pointRadius: 0 } as const;
  return [
    {
      height: 156,
      label: 'Result with its interval, against the target',
      chart: {
        type: 'scatter',
        data: {
          datasets: [
            {
              label: 'how likely',
              ...line,
              data: bell,
              order: 3,
              borderWidth: 0,
              fill: 'origin',
              backgroundColor: wash(tone, 0.22),
            },
            {
              label: '95 % interval',
              data: data.interval ? [at(data.interval.low), at(data.interval.high)] : [],
              order: 2,
              showLine: true,
              borderColor: tone,
              borderWidth: 2,
              pointStyle: 'line',
              pointRotation: 90,
              pointRadius: 6,
            },
            {
              label: 'value',
              data: data.value ? [at(data.value.at)] : [],
              order: 1,
              pointRadius: 4,
              borderWidth: 0,
              backgroundColor: tone,
            },
          ],
        },
        options: {
          ...still(theme),
          layout: { padding: { top: 4, left: 12, right: 12 } },
          scales: {
            x: {
              type: 'linear',
              min: range.min,
              max: range.max,
              border: { color: theme.rule },
              grid: { drawOnChartArea: false, color: theme.soft, tickLength: 5 },
              ticks: {
                color: theme.soft,
                font: { family: theme.font, size: 12 },
                stepSize: range.step,
                maxRotation: 0,
                autoSkip: true,
              },
            },
            y: { type: 'linear', display: false, min: 0, max: 2.1 },
          },
          plugins: {
            direct: {
              font: theme.font,
              color: theme.soft,
              ground: theme.sheet,
              labels,
              guides: data.targets.map((target) => ({
                from: [target.value, 'top'] as const,
                to: [target.value, 'bottom'] as const,
                color: theme.ink,
                dotted: false,
              })),
              shades,
            },
          },
        },
      },
    },
  ];
}

/** What lies on the wrong side of the strictest target of each kind. */
function shadesOf(targets: readonly MarginTarget[]): { from: number; to?: number }[] {
  const most = targets.filter((target) => !target.atLeast).map((target) => target.value);
  const least = targets.filter((target) => target.atLeast).map((target) => target.value);
  return [
    ...(most.length === 0 ? [] : [{ from: Math.min(...most) }]),
    ...(least.length === 0 ? [] : [{ from: -Infinity, to: Math.max(...least) }]),
  ];
}

const at = (x: number) => ({ x, y: 0.16 });

/** Room beside the outermost values, so that nothing is drawn on the edge. */
function padded(values: readonly number[]): number[] {
  if (values.length === 0) return [0, 1];
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low || Math.abs(high) || 1) * 0.3;
  return [Math.max(low - room, low > 0 ? 0 : -Infinity), high + room];
}

/** The shape of a value known to ± one standard uncertainty; drawn, not computed with. */
function bellOf(data: MarginData): { x: number; y: number }[] {
  const u = data.value?.plusMinus;
  if (!data.value || u === undefined || !(u > 0)) return [];
  const points: { x: number; y: number }[] = [];
  for (let step = -35; step <= 35; step++) {
    const z = step / 10;
    points.push({ x: data.value.at + z * u, y: Math.exp(-0.5 * z * z) });
  }
  return points;
}
