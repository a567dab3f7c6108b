/** How many there are of something: “1 row”, “3 rows”. Give the plural where it takes more than an s. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${String(count)} ${count === 1 ? one : many}`;
}
