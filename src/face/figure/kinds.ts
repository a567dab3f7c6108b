/** The kinds of figure a workbook may name. To add one: its file, and one line here. */
import { bars } from './bars.ts';
import { cuttingPlan } from './cutting-plan.ts';
import { fanAndDucts } from './fan-and-ducts.ts';
import { flowBalance } from './flow-balance.ts';
import { houseFlows } from './house-flows.ts';
import type { FigureKind } from './kind.ts';
import { margin } from './margin.ts';
import { plan } from './plan.ts';
import { points } from './points.ts';
import { powerLawFit } from './power-law-fit.ts';
import { ranking } from './ranking.ts';
import { stack } from './stack.ts';
import { stages } from './stages.ts';
import { section } from './section.ts';
import { timeline } from './timeline.ts';

/** A kind whose data only it knows. */
type AnyKind = FigureKind<unknown>;

const KINDS: ReadonlyMap<string, AnyKind> = new Map<string, AnyKind>([
  ['power_law_fit', powerLawFit],
  ['margin', margin],
  ['cutting_plan', cuttingPlan],
  ['flow_balance', flowBalance],
  ['house_flows', houseFlows],
  ['fan_and_ducts', fanAndDucts],
  ['stages', stages],
  ['plan', plan],
  ['stack', stack],
  ['ranking', ranking],
  ['points', points],
  ['bars', bars],
  ['section', section],
  ['timeline', timeline],
]);

export function figureKind(name: string): AnyKind | undefined {
  return KINDS.get(name);
}

export const KIND_NAMES: readonly string[] = [...KINDS.keys()];
