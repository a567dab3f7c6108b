import { defineFunction, fault, isFault, type Fault } from '../../engine/index.ts';

export interface OperatingPoint {
  /** m³/s */
  readonly flow: number;
  /** Pa */
  readonly pressure: number;
}

interface Crossing extends OperatingPoint {
  /** Row at the start of the straight piece that is crossed, and how far along it. */
  readonly row: number;
  readonly part: number;
  /** Pa a m³/s, of the fan's piece and of the ducts. */
  readonly fanSlope: number;
  readonly ductSlope: number;
}

/**
 * Where a fan's typed curve (flows m³/s rising, pressures Pa; straight lines between the points) meets the ducts,
 * whose pressure grows with the square of flow through the point (designFlow, designPressure).
 */
export function fanOperatingPoint(
  flows: readonly number[],
  pressures: readonly number[],
  designFlow: number,
  designPressure: number,
): OperatingPoint | Fault {
  // No curve typed yet, or no room served yet: nothing is wrong and nothing is known.
  if (flows.length === 0 || designFlow === 0) return { flow: NaN, pressure: NaN };
  const found = crossingOf(flows, pressures, designFlow, designPressure);
  return isFault(found) ? found : { flow: found.flow, pressure: found.pressure };
}

function crossingOf(
  flows: readonly number[],
  pressures: readonly number[],
  designFlow: number,
  designPressure: number,
): Crossing | Fault {
  if (flows.length < 2) return fault('One point is no fan curve.', 'Type two points or more.');
  const falls = flows.findIndex((flow, i) => i > 0 && !(flow > (flows[i - 1] ?? NaN)));
  if (falls > 0) {
    return fault(
      `The flows of the fan curve do not rise from point ${falls} to point ${falls + 1}.`,
      'Type the points in rising order of flow, each flow once.',
    );
  }
  if (!(designFlow > 0 && designPressure > 0)) {
    return fault(
      'The design flow and the pressure at it must be above zero.',
      'Give the rooms of this unit their design flows, and the unit its pressure.',
    );
  }
  const k = designPressure / (designFlow * designFlow);
  const above = flows.map((flow, i) => (pressures[i] ?? NaN) - k * flow * flow);
  const rows = above.flatMap((here, i) => ((above[i + 1] ?? here) < 0 !== here < 0 ? [i] : []));
  const [row] = rows;
  if (row === undefined) {
    return fault(
      above.every((here) => here < 0)
        ? 'The whole fan curve lies under the pressure that these ducts need.'
        : 'The ducts meet the fan curve beyond its last point.',
      'Type further points of the fan curve, or check the design flow and pressure.',
    );
  }
  if (rows.length > 1) {
    return fault(
      'The ducts meet the fan curve more than once: the fan would hunt between flows.',
      'Check the points of the curve; choose another speed or fan.',
    );
  }
  const q1 = flows[row] ?? NaN;
  const p1 = pressures[row] ?? NaN;
  const q2 = flows[row + 1] ?? NaN;
  const slope = ((pressures[row + 1] ?? NaN) - p1) / (q2 - q1);
  // k q² − slope q − (p1 − slope q1) = 0, the root that lies on the piece; written so that nothing cancels.
  const constant = p1 - slope * q1;
  const root = Math.sqrt(slope * slope + 4 * k * constant);
  const flow = slope <= 0 ? (2 * constant) / (root - slope) : (slope + root) / (2 * k);
  return {
    flow,
    pressure: k * flow * flow,
    row,
    part: (flow - q1) / (q2 - q1),
    fanSlope: slope,
    ductSlope: 2 * k * flow,
  };
}

const flow = { kind: 'quantity', unit: 'm3/s' } as const;
const pressure = { kind: 'quantity', unit: 'Pa' } as const;

export const fanOperatingPointFunction = defineFunction({
  name: 'fan_operating_point',
  summary: 'Where the fan’s typed curve meets the ducts: the flow that will really run, and its pressure.',
  source:
    'Fan curve against system curve, the pressure of ducts growing with the square of flow (any text on fans; common practice).',
  limits:
    'Straight lines between the typed points, flows rising. Filters and short laminar ducts grow less than with the square; the true crossing then lies a little apart.',
  parameters: [
    { name: 'flow', type: flow, column: true, summary: 'Points of the fan curve, rising' },
    { name: 'pressure', type: pressure, column: true, summary: 'One for each flow' },
    { name: 'design_flow', type: flow, summary: 'Flow for which the ducts were worked out' },
    { name: 'design_pressure', type: pressure, summary: 'Pressure of the ducts at that flow' },
  ],
  result: {
    kind: 'record',
    fields: {
      flow: { type: flow, summary: 'Where the curves meet' },
      pressure: { type: pressure, summary: 'There' },
    },
  },
  example: {
    arguments: [[0, 1, 2], [100, 75, 0], 1, 62.5],
    result: { flow: 1.0613247725836, pressure: 70.400642056229 },
  },
  compute: (
    flows: readonly number[],
    pressures: readonly number[],
    designFlow: number,
    designPressure: number,
  ) => {
    const found = fanOperatingPoint(flows, pressures, designFlow, designPressure);
    return isFault(found) ? found : { ...found };
  },
  partials: (
    flows: readonly number[],
    pressures: readonly number[],
    designFlow: number,
    designPressure: number,
  ) => {
    const at = crossingOf(flows, pressures, designFlow, designPressure);
    if (isFault(at)) return {};
    // The difference of the two pressures stays zero where the crossing moves.
    const move = 1 / (at.ductSlope - at.fanSlope);
    const onRow = (first: number, second: number) =>
      flows.map((_, i) => (i === at.row ? first : i === at.row + 1 ? second : 0));
    const byFlows = onRow(-at.fanSlope * (1 - at.part) * move, -at.fanSlope * at.part * move);
    const byPressures = onRow((1 - at.part) * move, at.part * move);
    const ductByFlow = (-2 * at.pressure) / designFlow;
    const ductByPressure = at.pressure / designPressure;
    const byDesignFlow = -ductByFlow * move;
    const byDesignPressure = -ductByPressure * move;
    return {
      flow: [byFlows, byPressures, byDesignFlow, byDesignPressure],
      pressure: [
        byFlows.map((by) => by * at.ductSlope),
        byPressures.map((by) => by * at.ductSlope),
        byDesignFlow * at.ductSlope + ductByFlow,
        byDesignPressure * at.ductSlope + ductByPressure,
      ],
    };
  },
});
