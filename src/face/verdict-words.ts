/** Which of the words beside a row ask for something: only those are coloured. */

const SETTLED =
  /^(?:$|pass|met|enough|closed|released?\b|dry enough|not asked|within|usual|linear|symmetric|balanced|yes\b|last course is wide enough)/u;

/** A verdict with which nothing is left to do, or none. */
export function isSettled(words: string): boolean {
  return SETTLED.test(words);
}

/** Taken over from elsewhere, such as a species or the stick of a plan: no verdict at all. */
export function isTold(formula: string | undefined): boolean {
  return /^(?:lookup|place_in_plan|name_of_largest|listed|workday)\(|^\w+(?:\.\w+)?$/u.test(formula ?? '');
}

/** A label that tells no more than the words under it do. */
export function saysNothing(label: string): boolean {
  return /^(?:verdict|check|outcome|state|stands as|what to do|remark)$/iu.test(label);
}
