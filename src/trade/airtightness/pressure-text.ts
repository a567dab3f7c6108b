/** A pressure inside a message: six digits at most, so that taking off a baseline shows no rounding noise. */
export function pressureText(pascal: number): string {
  return `${String(Number(pascal.toPrecision(6))).replace('-', '−')} Pa`;
}
