/** Dates as the person's country writes them: month first in the United States, ISO 8601 elsewhere. */
const US = typeof document !== 'undefined' && /^en-US\b/iu.test(navigator.language);

function parts(day: number): [year: string, month: string, day: string] {
  const [year = '', month = '', date = ''] = new Date(day * 86_400_000).toISOString().slice(0, 10).split('-');
  return [year, month, date];
}

/** `day`: since 1970-01-01. */
export function dateText(day: number, us = US): string {
  const [year, month, date] = parts(day);
  return us ? `${Number(month)}/${Number(date)}/${year}` : `${year}-${month}-${date}`;
}

/** Without the year, where the axis shows it is one. */
export function shortDate(day: number, us = US): string {
  const [, month, date] = parts(day);
  return us ? `${Number(month)}/${Number(date)}` : `${month}-${date}`;
}
