/** The trade's functions: pure, and declared to the engine as `tradeFunctions`. */
import type { FunctionDefinition } from '../engine/index.ts';
import { airDensityFunction } from './airtightness/air-density.ts';
import { airViscosityFunction } from './airtightness/air-viscosity.ts';
import { directionSignFunction } from './airtightness/direction.ts';
import { envelopeFlowFactorFunction } from './airtightness/envelope-flow-factor.ts';
import { fanFlowFunction } from './airtightness/fan-flow.ts';
import { fanReadingStatusFunction } from './airtightness/fan-reading-status.ts';
import { moistAirDensityFunction } from './airtightness/moist-air-density.ts';
import { pointResidualFunction } from './airtightness/point-residual.ts';
import { pointStatusFunction } from './airtightness/point-status.ts';
import { powerLawFitFunction } from './airtightness/power-law-fit.ts';
import { powerLawFlowFunction } from './airtightness/power-law-flow.ts';
import { powerLawFlowHighFunction, powerLawFlowLowFunction } from './airtightness/power-law-limits.ts';
import { assemblyResistanceFunction } from './heat/assembly-resistance.ts';
import { atmosphericPressureFunction } from './moisture/atmospheric-pressure.ts';
import { dewPointFunction } from './moisture/dew-point.ts';
import { humidityRatioFunction, relativeHumidityFunction } from './moisture/humidity-ratio.ts';
import { dewPointInWallFunction, vapourPressureFunction } from './moisture/interstitial-saturation.ts';
import { membraneThicknessFunction } from './moisture/membrane-curve.ts';
import { moistAirEnthalpyFunction, moistAirVolumeFunction } from './moisture/moist-air.ts';
import { saturationPressureFunction } from './moisture/saturation-pressure.ts';
import { vapourProfileFunction } from './moisture/vapour-profile.ts';
import { humidityRatioAtWetBulbFunction, wetBulbFunction } from './moisture/wet-bulb.ts';
import { yearOfWaterFunction } from './moisture/year-of-water.ts';
import { roomMeanHeightFunction } from './rooms/room-mean-height.ts';
import { beamCutLengthFunction } from './beams/beam-cut-length.ts';
import { decorativeLoadFunction } from './beams/decorative-load.ts';
import { densityFromBasicGravityFunction } from './beams/density-from-basic-gravity.ts';
import { lateralValueFunction } from './beams/lateral-value.ts';
import { withdrawalValueFunction } from './beams/withdrawal-value.ts';
import { woodDensityFunction } from './beams/wood-density.ts';
import { boardCoursesFunction } from './finishes/board-courses.ts';
import { boardLayoutFunction } from './finishes/board-layout.ts';
import { boardPieceFunction } from './finishes/board-piece.ts';
import { boardTogetherFunction } from './finishes/board-together.ts';
import { boardScrewsFunction } from './finishes/board-screws.ts';
import { equilibriumMoistureFunction } from './finishes/equilibrium-moisture.ts';
import { movementCoefficientFunction } from './finishes/movement-coefficient.ts';
import { woodMovementFunction } from './finishes/wood-movement.ts';
import { linearInterpolationFunction } from './columns/linear-interpolation.ts';
import { daysBetweenFunction } from './schedule/days-between.ts';
import { workdayFunction } from './schedule/workday.ts';
import { listedFunction } from './columns/listed.ts';
import { nameOfLargestFunction } from './columns/name-of-largest.ts';
import { finishCuttingPlan } from './trim/finish-cutting-plan.ts';
import { clearRunFunction } from './trim/clear-run.ts';
import { cuttingPlanFunction } from './trim/cutting-plan.ts';
import { placeInPlanFunction } from './trim/place-in-plan.ts';
import { sticksInPlanFunction } from './trim/sticks-in-plan.ts';
import { tQuantile } from './statistics/student-quantile.ts';
import { altshulTsalFrictionFactorFunction } from './ventilation/altshul-tsal-friction-factor.ts';
import { bandedRateFunction } from './ventilation/banded-rate.ts';
import { colebrookFrictionFactorFunction } from './ventilation/colebrook-friction-factor.ts';
import { fanOperatingPointFunction } from './ventilation/fan-operating-point.ts';
import { shortfallsFunction } from './ventilation/shortfalls.ts';
import { crossingPressureFunction } from './airtightness/crossing-pressure.ts';
import { squareHoleFunction } from './airtightness/square-hole.ts';
import { leakSizeFunction } from './airtightness/leak-size.ts';
import { largestStepFunction } from './airtightness/largest-step.ts';
import { leaveOneOutFunction } from './airtightness/leave-one-out.ts';
import { nextPointHintFunction } from './airtightness/next-point-hint.ts';
import { pointRemarkFunction } from './airtightness/point-remark.ts';
import { powerLawFitBothAxesFunction } from './airtightness/power-law-fit-both-axes.ts';
import { tProbability } from './statistics/student-probability.ts';

/** Each under the heading where it stands in the list of functions. */
function under(topic: string, functions: readonly FunctionDefinition[]): FunctionDefinition[] {
  return functions.map((definition) => Object.freeze({ ...definition, topic }));
}

export const tradeFunctions: readonly FunctionDefinition[] = Object.freeze([
  ...under('Statistics', [tQuantile, tProbability]),
  ...under('Airtightness', [
    fanFlowFunction,
    fanReadingStatusFunction,
    directionSignFunction,
    pointStatusFunction,
    powerLawFitFunction,
    powerLawFlowFunction,
    powerLawFlowLowFunction,
    powerLawFlowHighFunction,
    pointResidualFunction,
    leaveOneOutFunction,
    pointRemarkFunction,
    nextPointHintFunction,
    largestStepFunction,
    crossingPressureFunction,
    squareHoleFunction,
    leakSizeFunction,
    powerLawFitBothAxesFunction,
    airDensityFunction,
    moistAirDensityFunction,
    airViscosityFunction,
    envelopeFlowFactorFunction,
  ]),
  ...under('Heat', [assemblyResistanceFunction]),
  ...under('Moisture', [
    atmosphericPressureFunction,
    saturationPressureFunction,
    dewPointFunction,
    humidityRatioFunction,
    relativeHumidityFunction,
    humidityRatioAtWetBulbFunction,
    wetBulbFunction,
    moistAirEnthalpyFunction,
    moistAirVolumeFunction,
    vapourPressureFunction,
    dewPointInWallFunction,
    membraneThicknessFunction,
    vapourProfileFunction,
    yearOfWaterFunction,
  ]),
  ...under('Rooms', [roomMeanHeightFunction]),
  ...under('Board, plaster and wood', [
    boardCoursesFunction,
    boardLayoutFunction,
    boardTogetherFunction,
    boardPieceFunction,
    boardScrewsFunction,
    equilibriumMoistureFunction,
    movementCoefficientFunction,
    woodMovementFunction,
  ]),
  ...under('Beams', [
    beamCutLengthFunction,
    decorativeLoadFunction,
    densityFromBasicGravityFunction,
    lateralValueFunction,
    withdrawalValueFunction,
    woodDensityFunction,
  ]),
  ...under('Columns of any table', [linearInterpolationFunction, nameOfLargestFunction, listedFunction]),
  ...under('Schedule', [workdayFunction, daysBetweenFunction]),
  ...under('Ventilation', [
    bandedRateFunction,
    colebrookFrictionFactorFunction,
    altshulTsalFrictionFactorFunction,
    fanOperatingPointFunction,
    shortfallsFunction,
  ]),
  ...under('Trim', [clearRunFunction, cuttingPlanFunction, sticksInPlanFunction, placeInPlanFunction]),
]);

export { airDensity } from './airtightness/air-density.ts';
export { airViscosity } from './airtightness/air-viscosity.ts';
export { directionSign, type Direction } from './airtightness/direction.ts';
export { envelopeFlowFactor } from './airtightness/envelope-flow-factor.ts';
export { fanFlow } from './airtightness/fan-flow.ts';
export { fanReadingStatus } from './airtightness/fan-reading-status.ts';
export { moistAirDensity } from './airtightness/moist-air-density.ts';
export { pointResidual } from './airtightness/point-residual.ts';
export { pointStatus } from './airtightness/point-status.ts';
export { beamCutLength } from './beams/beam-cut-length.ts';
export { decorativeLoad } from './beams/decorative-load.ts';
export { densityFromBasicGravity } from './beams/density-from-basic-gravity.ts';
export { lateralValue } from './beams/lateral-value.ts';
export { withdrawalValue } from './beams/withdrawal-value.ts';
export { woodDensity } from './beams/wood-density.ts';
export { boardCourses, type BoardCourses } from './finishes/board-courses.ts';
export { sheetsTogether } from './finishes/board-together.ts';
export { boardScrews } from './finishes/board-screws.ts';
export { equilibriumMoisture } from './finishes/equilibrium-moisture.ts';
export { movementCoefficient } from './finishes/movement-coefficient.ts';
export { layoutSheets, type SheetLayout, type SheetPiece, type Surface } from './finishes/sheet-layout.ts';
export { woodMovement, type WoodMovement } from './finishes/wood-movement.ts';
export { fitLogarithms, powerLawFit, type PowerLawFit } from './airtightness/power-law-fit.ts';
export { powerLawFlow } from './airtightness/power-law-flow.ts';
export { powerLawFlowHigh, powerLawFlowLow } from './airtightness/power-law-limits.ts';
export { assemblyResistance, type AssemblyResistance } from './heat/assembly-resistance.ts';
export { atmosphericPressure } from './moisture/atmospheric-pressure.ts';
export { type Airs, type Layers } from './moisture/assembly-section.ts';
export { monthOfWater } from './moisture/condensation-month.ts';
export { condensationYear, type Month } from './moisture/condensation-year.ts';
export { dewPoint } from './moisture/dew-point.ts';
export { humidityRatio, relativeHumidity } from './moisture/humidity-ratio.ts';
export { interstitialDewPoint, interstitialSaturation } from './moisture/interstitial-saturation.ts';
export { moistAirEnthalpy, moistAirVolume } from './moisture/moist-air.ts';
export { saturationPressure } from './moisture/saturation-pressure.ts';
export { faceState } from './moisture/vapour-profile.ts';
export { humidityRatioAtWetBulb, wetBulb } from './moisture/wet-bulb.ts';
export { roomMeanHeight } from './rooms/room-mean-height.ts';
export { lineStandardError, straightLineFit, type StraightLineFit } from './statistics/straight-line-fit.ts';
export { linearInterpolation } from './columns/linear-interpolation.ts';
export { listed } from './columns/listed.ts';
export { nameOfLargest } from './columns/name-of-largest.ts';
export { altshulTsalFrictionFactor } from './ventilation/altshul-tsal-friction-factor.ts';
export { bandedRate } from './ventilation/banded-rate.ts';
export { colebrookFrictionFactor } from './ventilation/colebrook-friction-factor.ts';
export { fanOperatingPoint, type OperatingPoint } from './ventilation/fan-operating-point.ts';
export { shortfalls } from './ventilation/shortfalls.ts';
export { clearRun } from './trim/clear-run.ts';
export { finishCuttingPlan, type FinishTools } from './trim/finish-cutting-plan.ts';

/** Deferred functions by name: the full answer, for a worker. */
export const finishers: Readonly<Record<string, typeof finishCuttingPlan>> = {
  cutting_plan: finishCuttingPlan,
};
export { crossingPressure } from './airtightness/crossing-pressure.ts';
export { squareHole } from './airtightness/square-hole.ts';
export { largestStep } from './airtightness/largest-step.ts';
export { leaveOneOut, type LeaveOneOut } from './airtightness/leave-one-out.ts';
export { nextPointHint } from './airtightness/next-point-hint.ts';
export { pointRemark } from './airtightness/point-remark.ts';
export { powerLawFitBothAxes, type BothAxesFit } from './airtightness/power-law-fit-both-axes.ts';
export { yorkFit, type YorkFit } from './statistics/york-fit.ts';
