/** Writes texts so that a spreadsheet reads them back as the same cells. */
export function writeBlock(rows: readonly (readonly string[])[]): string {
  const guard = (text: string) => (/[\t\r\n]|^"/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return rows.map((row) => row.map(guard).join('\t')).join('\n');
}
