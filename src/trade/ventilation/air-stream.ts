/** What the friction of air in ducts has in common. */
import { fault, written, type Fault } from '../../engine/index.ts';

/** Below this Reynolds number flow in a duct is laminar. */
export const LAMINAR_BELOW = 2300;

export function airStreamFault(reynolds: number, roughness: number): Fault | undefined {
  if (!(reynolds >= 0))
    return fault('The Reynolds number must not be negative.', 'Check the sign of the flow.');
  if (!(roughness >= 0 && roughness <= 0.1)) {
    return fault(
      'The roughness must lie between 0 and a tenth of the diameter.',
      `Check the units of roughness and diameter: smooth duct is about ${written('0.0003')} ft, ${written('0.09')} mm.`,
    );
  }
  return undefined;
}
