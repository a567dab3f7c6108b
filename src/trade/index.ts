/** The trade's functions: pure, and declared to the engine as `tradeFunctions`. */
import type { FunctionDefinition } from '../engine/index.ts';
import { airDensityFunction } from './airtightness/air-density.ts';
import { airViscosityFunction } from './airtightness/air-viscosity.ts';
import { directionSignFunction } from './airtightness/direction.ts';
import { envelopeFlowFactorFunction } from './airtightness/envelope-flow-factor.ts';
import { fanFlowFunction } from './airtightness/fan-flow.ts';
import { fanReadingStatusFunction } from './airtightness/fan-reading-status.ts';
import { pointResidualFunction } from './airtightness/point-residual.ts';
import { pointStatusFunction } from './airtightness/point-status.ts';
import { powerLawFitFunction } from './airtightness/power-law-fit.ts';
import { powerLawFlowFunction } from './airtightness/power-law-flow.ts';
import { powerLawFlowHighFunction, powerLawFlowLowFunction } from './airtightness/power-law-limits.ts';
import { roomMeanHeightFunction } from './rooms/room-mean-height.ts';
import { tQuantile } from './statistics/student-quantile.ts';

export const tradeFunctions: readonly FunctionDefinition[] = Object.freeze([
  // statistics
  tQuantile,
  // airtightness
  fanFlowFunction,
  fanReadingStatusFunction,
  directionSignFunction,
  pointStatusFunction,
  powerLawFitFunction,
  powerLawFlowFunction,
  powerLawFlowLowFunction,
  powerLawFlowHighFunction,
  pointResidualFunction,
  airDensityFunction,
  airViscosityFunction,
  envelopeFlowFactorFunction,
  // rooms
  roomMeanHeightFunction,
]);

export { airDensity } from './airtightness/air-density.ts';
export { airViscosity } from './airtightness/air-viscosity.ts';
export { directionSign, type Direction } from './airtightness/direction.ts';
export { envelopeFlowFactor } from './airtightness/envelope-flow-factor.ts';
export { fanFlow } from './airtightness/fan-flow.ts';
export { fanReadingStatus } from './airtightness/fan-reading-status.ts';
export { pointResidual } from './airtightness/point-residual.ts';
export { pointStatus } from './airtightness/point-status.ts';
export { fitLogarithms, powerLawFit, type PowerLawFit } from './airtightness/power-law-fit.ts';
export { powerLawFlow } from './airtightness/power-law-flow.ts';
export { powerLawFlowHigh, powerLawFlowLow } from './airtightness/power-law-limits.ts';
export { roomMeanHeight } from './rooms/room-mean-height.ts';
export { lineStandardError, straightLineFit, type StraightLineFit } from './statistics/straight-line-fit.ts';
