/** The choice that letters typed one after another mean: the one they are, else the first that begins with them. */
export function choiceTyped(choices: readonly string[], typed: string): string | undefined {
  const begun = typed.toLowerCase();
  const fits = choices.filter((choice) => choice.toLowerCase().startsWith(begun));
  const whole = fits.find((choice) => choice.length === typed.length);
  if (whole !== undefined || fits.length > 0) return whole ?? fits[0];
  // One letter again and again goes from choice to choice, as in any list.
  const [letter = ''] = begun;
  if (begun !== letter.repeat(begun.length)) return undefined;
  const those = choices.filter((choice) => choice.toLowerCase().startsWith(letter));
  return those[(begun.length - 1) % those.length];
}
