/** Raised digits, as in m³ and 10⁻⁶, and the low ones of a typeset fraction. */

const HIGH = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const LOW = '₀₁₂₃₄₅₆₇₈₉';

/** -12 as ⁻¹². */
export function writeSuperscript(integer: number): string {
  return String(integer).replace(/[-\d]/gu, (sign) => (sign === '-' ? '⁻' : (HIGH[Number(sign)] ?? '')));
}

/** Raised and lowered digits and signs become ordinary ones; all else stays. */
export function plainDigits(text: string): string {
  return text.replace(/[⁻⁺−⁰¹²³⁴-⁹₀-₉]/gu, (sign) => {
    if (sign === '⁻' || sign === '−') return '-';
    if (sign === '⁺') return '+';
    const high = HIGH.indexOf(sign);
    return String(high < 0 ? LOW.indexOf(sign) : high);
  });
}
