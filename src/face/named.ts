const COLUMN = /(?<![\p{L}\p{N}_.])\p{L}[\p{L}\p{N}_]*\.\p{L}[\p{L}\p{N}_]*/gu;

interface Labels {
  label(name: string): string;
}

/** What the engine says of columns by their names, as people call them: “Tests, Indoor is empty in row 1”. */
export function named(session: Labels, words: string): string {
  return words.replace(COLUMN, (name) => session.label(name));
}
