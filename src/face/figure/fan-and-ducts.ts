/** A fan's typed curve and the ducts it blows into, unit by unit: where they meet is the flow that will run. */
import { asDigits } from './digits.ts';
import { still } from './axes.ts';
import { numberAt } from './flow-balance.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme, Panel } from './kind.ts';
import { linearRange } from './scale.ts';
import { titled } from './sentence.ts';

interface Point {
  readonly x: number;
  readonly y: number;
}

export interface UnitCurves {
  readonly unit: string;
  readonly fan: readonly Point[];
  readonly ducts: readonly Point[];
  readonly meet?: Point;
  readonly meetText: string;
}

export interface FanAndDuctsData {
  readonly flowUnit: string;
  readonly pressureUnit: string;
  readonly units: readonly UnitCurves[];
}

export const fanAndDucts: FigureKind<FanAndDuctsData> = {
  title: 'Fan against ducts',
  resolve,
  panels,
  summary,
};

function resolve(bound: Bound): FanAndDuctsData {
  const unit = bound.column('unit');
  const of = bound.column('curve_unit');
  const flow = bound.column('curve_flow');
  const fan = bound.column('curve_pressure');
  const ducts = bound.column('duct_pressure');
  const meetFlow = bound.column('operating_flow');
  const meetPressure = bound.column('operating_pressure');
  const points = (name: string, pressures: typeof fan) =>
    (of?.texts ?? []).flatMap((each, row): Point[] => {
      const [x, y] = [numberAt(flow, row), numberAt(pressures, row)];
      return each === name && x !== undefined && y !== undefined ? [{ x, y }] : [];
    });
  return {
    flowUnit: flow?.unit ?? '',
    pressureUnit: fan?.unit ?? '',
    units: (unit?.texts ?? []).map((name, row): UnitCurves => {
      const [x, y] = [numberAt(meetFlow, row), numberAt(meetPressure, row)];
      return {
        unit: name,
        fan: points(name, fan),
        ducts: points(name, ducts),
        ...(x === undefined || y === undefined ? {} : { meet: { x, y } }),
        meetText: meetFlow?.texts[row] ?? '',
      };
    }),
  };
}

function summary(data: FanAndDuctsData): FigureSummary {
  const headers = ['', data.flowUnit, titled('fan', data.pressureUnit), titled('ducts', data.pressureUnit)];
  const number = (value: number | undefined) => (value === undefined ? '' : asDigits(value, 3));
  const told = data.units.map(
    (unit) => `${unit.unit} ${unit.meet ? `gives ${unit.meetText}` : 'unknown yet'}`,
  );
  return {
    line: told.length === 0 ? 'No unit yet' : told.join('; '),
    ...(data.units.some((unit) => unit.meet === undefined) ? { tone: 'hold' as const } : {}),
    headers,
    rows: data.units.flatMap((unit) =>
      unit.fan.map((point, at) => [unit.unit, number(point.x), number(point.y), number(unit.ducts[at]?.y)]),
    ),
  };
}

function panels(data: FanAndDuctsData, theme: FigureTheme): Panel[] {
  return data.units.filter((unit) => unit.fan.length > 0).map((unit) => panelOf(unit, data, theme));
}

function panelOf(unit: UnitCurves, data: FanAndDuctsData, theme: FigureTheme): Panel {
  const top = Math.max(...unit.fan.map((point) => point.y), unit.meet?.y ?? 0);
  const flows = linearRange([0, ...unit.fan.map((point) => point.x)], 5);
  const pressures = linearRange([0, top], 4);
  const axis = (range: typeof flows) => ({
    type: 'linear' as const,
    min: 0,
    max: range.max,
    border: { color: theme.rule },
    grid: { color: theme.hair, tickLength: 0 },
    ticks: {
      color: theme.soft,
      font: { family: theme.font, size: 12 },
      padding: 6,
      stepSize: range.step,
      maxRotation: 0,
    },
  });
  const line = (points: readonly Point[], color: string, dashed: boolean) => ({
    data: [...points],
    showLine: true,
    borderColor: color,
    borderWidth: 2,
    borderDash: dashed ? [5, 4] : [],
    pointRadius: dashed ? 0 : 2.5,
    pointBackgroundColor: color,
    cubicInterpolationMode: dashed ? ('monotone' as const) : ('default' as const),
    tension: 0,
  });
  const { meet } = unit;
  const last = unit.fan.at(-1);
  const shownDucts = unit.ducts.filter((point) => point.y <= pressures.max);
  const end = shownDucts.at(-1);
  return {
    height: 190,
    label: `${unit.unit}, pressure against flow`,
    chart: {
      type: 'scatter',
      data: {
        datasets: [
          { label: 'fan', ...line(unit.fan, theme.chalk, false) },
          {
            label: 'ducts',
            ...line(shownDucts, theme.soft, true),
          },
          {
            label: 'where they meet',
            data: meet ? [meet] : [],
            pointRadius: 5,
            borderWidth: 0,
            backgroundColor: theme.ink,
          },
        ],
      },
      options: {
        ...still(theme),
        layout: { padding: { top: 20, bottom: 16, right: 10 } },
        scales: { x: axis(flows), y: axis(pressures) },
        plugins: {
          direct: {
            font: theme.font,
            color: theme.soft,
            ground: theme.sheet,
            xTitle: data.flowUnit,
            yTitle: titled(unit.unit, data.pressureUnit),
            guides: meet
              ? [
                  {
                    from: [meet.x, meet.y] as const,
                    to: [meet.x, 'bottom'] as const,
                    color: theme.ink,
                    dotted: true,
                  },
                ]
              : [],
            shades: [],
            labels: [
              ...(meet
                ? [
                    {
                      text: unit.meetText,
                      x: meet.x,
                      y: meet.y,
                      dx: 9,
                      dy: -10,
                      color: theme.ink,
                      strong: true,
                    },
                  ]
                : []),
              ...(end
                ? [
                    {
                      text: 'ducts',
                      x: end.x,
                      y: end.y,
                      dx: -10,
                      dy: -8,
                      color: theme.soft,
                      align: 'right' as const,
                    },
                  ]
                : []),
              ...(last
                ? [
                    {
                      text: 'fan',
                      x: last.x,
                      y: last.y,
                      dx: -4,
                      dy: -12,
                      color: theme.chalk,
                      align: 'right' as const,
                    },
                  ]
                : []),
            ],
          },
        },
      },
    },
  };
}
