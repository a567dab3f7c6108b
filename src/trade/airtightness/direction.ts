import { defineFunction, fault, type Fault } from '../../engine/index.ts';

export type Direction = 'depressurise' | 'pressurise';

/** Both spellings are read, whatever the capitals. */
export function readDirection(text: string): Direction | Fault {
  switch (text.trim().toLowerCase()) {
    case 'depressurise':
    case 'depressurize':
      return 'depressurise';
    case 'pressurise':
    case 'pressurize':
      return 'pressurise';
    default:
      return fault(
        text.trim() === ''
          ? 'The direction of the test is missing.'
          : `“${text}” is not a direction of a test.`,
        'Write depressurise (air is drawn out) or pressurise (air is blown in).',
      );
  }
}

/** −1 when air is drawn out, +1 when it is blown in: a valid induced pressure times this is above zero. */
export function directionSign(text: string): number | Fault {
  const direction = readDirection(text);
  return typeof direction === 'string' ? (direction === 'depressurise' ? -1 : 1) : direction;
}

export const directionSignFunction = defineFunction({
  name: 'direction_sign',
  summary: '−1 for a depressurising test, +1 for a pressurising one.',
  source:
    'Common practice, no source: house pressure is read against outdoors, so drawing air out makes it negative.',
  limits: 'Reads depressurise and pressurise, also spelt with z; any other text is a fault.',
  parameters: [{ name: 'direction', type: { kind: 'text' }, summary: 'depressurise or pressurise' }],
  result: { kind: 'quantity', unit: '' },
  example: { formula: 'direction_sign("depressurise")', arguments: ['depressurise'], result: -1 },
  compute: directionSign,
});
