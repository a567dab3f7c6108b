/** Flow against pressure on logarithmic axes: the points, the fitted line with its 95 % band, and what each point is off by. */
import { counted } from '../../workbook/index.ts';
import { asDigits } from './digits.ts';
import { asText, type Shown } from '../display.ts';
import type { Bound, FigureKind, FigureSummary } from './kind.ts';
import { panels, type FitCurvePoint, type FitData, type FitPoint } from './power-law-fit-chart.ts';
import { titled } from './sentence.ts';

const REFERENCE_PRESSURE = 50; // Pa

export const powerLawFit: FigureKind<FitData> = {
  title: 'Fit',
  resolve,
  panels,
  summary,
  wanting: (data) => data.wanting,
};

function resolve(bound: Bound): FitData {
  const pressure = bound.column('pressure');
  const flow = bound.column('flow');
  const residual = bound.column('residual');
  const used = bound.column('used');
  const reason = bound.column('reason');
  const points = (pressure?.values ?? []).flatMap((x, row): FitPoint[] => {
    const y = flow?.values[row];
    if (typeof x !== 'number' || typeof y !== 'number') return [];
    const why = reason?.values[row];
    const off = residual?.values[row];
    return [
      {
        pressure: x,
        flow: y,
        used: used ? isYes(used.values[row]) : why === undefined || why === '',
        reason: typeof why === 'string' ? (reason?.texts[row] ?? why) : '',
        ...(typeof off === 'number' ? { residual: off } : {}),
      },
    ];
  });
  const read = (pressure?.values ?? []).filter((x) => typeof x === 'number').length;
  const flowAt = bound.cell('flow50');
  const at = bound.pascals('pressure', REFERENCE_PRESSURE);
  const conditions = bound.cell('conditions')?.shown;
  return {
    points,
    curve: curveOf(bound),
    pressureUnit: pressure?.unit ?? '',
    flowUnit: flow?.unit ?? '',
    residualUnit: residual?.unit ?? '',
    facts: factsOf(bound),
    ...(conditions?.kind === 'text' ? { conditions: conditions.text } : {}),
    ...(flowAt?.value === undefined
      ? {}
      : {
          reference: {
            pressure: at,
            flow: flowAt.value,
            text: `${nominal(flowAt.shown)} at ${asDigits(at)} ${pressure?.unit ?? 'Pa'}`,
          },
        }),
    ...(flowAt !== undefined && flowAt.value === undefined
      ? { missing: missing(points, flowAt.shown, read) }
      : {}),
    ...(flowAt?.shown.kind === 'blank' && isWithoutFlow(points, read) ? { wanting: 'flow50' } : {}),
  };
}

/** Through so many points there is a line. */
const FEWEST = 2;

/** What to type as long as there are too few points, else why there is no result. */
function missing(points: readonly FitPoint[], shown: Shown, read: number): string {
  if (shown.kind === 'blank' && isWithoutFlow(points, read))
    return `${counted(read, 'reading')} so far, none with its flow`;
  const used = points.filter((point) => point.used).length;
  if (shown.kind !== 'blank' || used >= FEWEST) return asText(shown);
  const so = used === 0 ? 'no point' : counted(used, 'point');
  return `${so} so far; type readings at different pressures`;
}

/** Enough pressures are typed, and something that the flows rest on is not. */
function isWithoutFlow(points: readonly FitPoint[], read: number): boolean {
  return points.length === 0 && read >= FEWEST;
}

/** Beside its point a value stands without its ±: the band shows that. */
function nominal(shown: Shown): string {
  return shown.kind === 'value' ? `${shown.value} ${shown.unit}`.trim() : asText(shown);
}

function isYes(value: unknown): boolean {
  return value === true || value === 1 || value === 'yes';
}

function curveOf(bound: Bound): FitCurvePoint[] {
  const x = bound.column('curve_pressure')?.values ?? [];
  const y = bound.column('curve_flow')?.values ?? [];
  const low = bound.column('curve_low')?.values ?? [];
  const high = bound.column('curve_high')?.values ?? [];
  return x.flatMap((pressure, row): FitCurvePoint[] => {
    const flow = y[row];
    if (typeof pressure !== 'number' || typeof flow !== 'number') return [];
    const below = low[row];
    const above = high[row];
    const band = typeof below === 'number' && typeof above === 'number' ? { low: below, high: above } : {};
    return [{ pressure, flow, ...band }];
  });
}

function factsOf(bound: Bound): string[] {
  const facts: string[] = [];
  const exponent = bound.cell('exponent');
  const r2 = bound.cell('r2');
  if (exponent?.value !== undefined) facts.push(`n ${asText(exponent.shown)}`);
  if (r2?.value !== undefined) facts.push(`r² ${asText(r2.shown)}`);
  return facts;
}

function summary(data: FitData): FigureSummary {
  const out = data.points.filter((point) => !point.used).length;
  const parts = [...data.facts, `${data.points.length - out} points`];
  if (out > 0) parts.push(`${out} left out`);
  const line = data.reference ? parts.join(', ') : `No fit yet${data.missing ? `: ${data.missing}` : ''}`;
  const number = (value: number | undefined, digits: number) =>
    value === undefined ? '' : asDigits(value, digits);
  return {
    line,
    ...(data.reference ? {} : { tone: 'hold' as const }),
    headers: [
      titled('Pressure', data.pressureUnit),
      titled('Flow', data.flowUnit, data.conditions),
      titled('Off the line', data.residualUnit),
      'In the fit',
    ],
    rows: data.points.map((point) => [
      number(point.pressure, 4),
      number(point.flow, 4),
      number(point.residual, 2),
      point.used ? 'yes' : `left out${point.reason === '' ? '' : `: ${point.reason}`}`,
    ]),
  };
}
