/** A number of a figure as text: four digits, a true minus, no more zeros than it has. */
export function asDigits(value: number): string {
  return String(Number(value.toPrecision(4))).replace('-', '−');
}
