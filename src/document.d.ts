/** A workbook file as the document in it, made by the build. */
declare module '*.json?document' {
  // eslint-disable-next-line @typescript-eslint/consistent-type-imports -- no module of a pattern imports by a path
  const document: import('./workbook/index.ts').WorkbookDocument;
  export default document;
}
