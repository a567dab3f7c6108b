/** How the fit is drawn: the log-log panel, and under it how far each point is off the line. */
import { fixedWidth, logAxis, signedTick, still, wash } from './axes.ts';
import type { DirectLabel, Guide } from './direct.ts';
import type { FigureChart, FigureTheme, Panel } from './kind.ts';
import { linearRange, logRange, type LogRange } from './scale.ts';
import { titled } from './sentence.ts';

export interface FitPoint {
  readonly pressure: number;
  readonly flow: number;
  readonly used: boolean;
  readonly reason: string;
  readonly residual?: number;
}

export interface FitCurvePoint {
  readonly pressure: number;
  readonly flow: number;
  readonly low?: number;
  readonly high?: number;
}

export interface FitData {
  readonly points: readonly FitPoint[];
  readonly curve: readonly FitCurvePoint[];
  readonly pressureUnit: string;
  readonly flowUnit: string;
  readonly residualUnit: string;
  /** Of which air the flows are: that of the test, or standard air. */
  readonly conditions?: string;
  /** The headline of the fit, where it exists. */
  readonly reference?: { readonly pressure: number; readonly flow: number; readonly text: string };
  /** What is said above: exponent, r², as shown in their cells. */
  readonly facts: readonly string[];
  /** Why there is no fit, in the words of the cell that says so. */
  readonly missing?: string;
  /** The role whose cell is blank for what is not typed elsewhere. */
  readonly wanting?: string;
}

export function panels(data: FitData, theme: FigureTheme): Panel[] {
  const at = data.reference;
  const marked = [...data.points.map((point) => point.pressure), ...(at ? [at.pressure] : [])];
  const x = logRange(
    marked,
    data.curve.map((point) => point.pressure),
  );
  const fit: Panel = { chart: fitChart(data, theme, x), height: 270, label: 'Flow against pressure' };
  const off = data.points.filter((point) => point.used && point.residual !== undefined);
  if (off.length === 0) return [fit];
  return [
    fit,
    { chart: residualChart(data, theme, x), height: 92, label: 'How far each point is off the line' },
  ];
}

function fitChart(data: FitData, theme: FigureTheme, x: LogRange): FigureChart {
  const at = data.reference;
  const inside = data.curve.filter((point) => point.pressure >= x.min && point.pressure <= x.max);
  const y = logRange(
    data.points.map((point) => point.flow),
    inside.map((point) => point.flow),
  );
  const guides: Guide[] = at
    ? [
        { from: ['left', at.flow], to: [at.pressure, at.flow], color: theme.ink, dotted: true },
        { from: [at.pressure, at.flow], to: [at.pressure, 'bottom'], color: theme.ink, dotted: true },
      ]
    : [];
  const labels: DirectLabel[] = data.points
    .filter((point) => !point.used)
    .map((point) => ({
      text: 'left out',
      x: point.pressure,
      y: point.flow,
      dx: 8,
      dy: 0,
      color: theme.hold,
    }));
  if (at)
    labels.push({ text: at.text, x: 'left', y: at.flow, dx: 6, dy: -9, color: theme.ink, strong: true });
  const banded = data.curve.filter((point) => point.low !== undefined && point.high !== undefined);
  const line = { showLine: true, pointRadius: 0, order: 2 } as const;
  return {
    type: 'scatter',
    data: {
      datasets: [
        {
          label: 'upper 95 %',
          ...line,
          data: banded.map((point) => ({ x: point.pressure, y: point.high ?? point.flow })),
          borderWidth: 0,
          fill: '+1',
          backgroundColor: wash(theme.chalk, 0.16),
        },
        {
          label: 'lower 95 %',
          ...line,
          data: banded.map((point) => ({ x: point.pressure, y: point.low ?? point.flow })),
          borderWidth: 0,
        },
        {
          label: 'fit',
          ...line,
          data: data.curve.map((point) => ({ x: point.pressure, y: point.flow })),
          borderColor: theme.chalk,
          borderWidth: 2,
        },
        {
          label: 'points',
          data: data.points
            .filter((point) => point.used)
            .map((point) => ({ x: point.pressure, y: point.flow })),
          order: 1,
          pointRadius: 4.2,
          borderColor: theme.chalk,
          backgroundColor: theme.sheet,
          borderWidth: 2,
        },
        {
          label: 'left out',
          data: data.points
            .filter((point) => !point.used)
            .map((point) => ({ x: point.pressure, y: point.flow })),
          order: 1,
          pointStyle: 'crossRot',
          pointRadius: 5,
          borderColor: theme.hold,
          borderWidth: 2,
        },
      ],
    },
    options: {
      ...still(theme),
      layout: { padding: { top: 20, right: 14, bottom: 16 } },
      scales: {
        x: logAxis(x, theme),
        y: { ...logAxis(y, theme), afterFit: fixedWidth },
      },
      plugins: {
        direct: {
          font: theme.font,
          color: theme.soft,
          ground: theme.sheet,
          xTitle: titled('induced pressure', data.pressureUnit),
          yTitle: titled('flow', data.flowUnit, data.conditions),
          labels,
          guides,
          shades: [],
        },
      },
    },
  };
}

function residualChart(data: FitData, theme: FigureTheme, x: LogRange): FigureChart {
  const points = data.points.flatMap((point) =>
    point.used && point.residual !== undefined ? [{ x: point.pressure, y: point.residual }] : [],
  );
  const most = Math.max(...points.map((point) => Math.abs(point.y)), 0.1);
  const range = linearRange([-1.15 * most, 1.15 * most], 3);
  return {
    type: 'scatter',
    data: {
      datasets: [
        {
          label: 'off the line',
          data: points,
          pointRadius: 3.2,
          borderColor: theme.chalk,
          backgroundColor: theme.sheet,
          borderWidth: 1.6,
        },
      ],
    },
    options: {
      ...still(theme),
      layout: { padding: { top: 20, right: 14 } },
      scales: {
        x: { ...logAxis(x, theme), ticks: { display: false } },
        y: {
          type: 'linear',
          min: -Math.max(-range.min, range.max),
          max: Math.max(-range.min, range.max),
          afterFit: fixedWidth,
          border: { display: false },
          grid: { color: theme.hair, tickLength: 0 },
          ticks: {
            color: theme.soft,
            font: { family: theme.font, size: 12 },
            padding: 6,
            maxTicksLimit: 3,
            callback: signedTick,
          },
        },
      },
      plugins: {
        direct: {
          font: theme.font,
          color: theme.soft,
          ground: theme.sheet,
          yTitle: titled('off the line', data.residualUnit),
          labels: [],
          guides: [{ from: ['left', 0], to: [x.max, 0], color: theme.rule, dotted: false }],
          shades: [],
        },
      },
    },
  };
}
