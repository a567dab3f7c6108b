/** The workbook's door. */
export type * from './document.ts';
export type { Completion, CompletionPlace, Place } from './completion.ts';
export { describeState } from './describe.ts';
export {
  compare,
  scenarioEdit,
  withOverride,
  withScenario,
  type Compared,
  type Difference,
} from './scenario.ts';
export { counted } from './counted.ts';
export { coverageFactor, oneSided95 } from './coverage.ts';
export { entryName } from './place.ts';
export { solve, type NoSolution, type Question, type Solution } from './solve.ts';
export type { WorkbookFault } from './faults.ts';
export type { ChangeSet } from './workbook.ts';
export { Workbook } from './workbook.ts';
export { applyEdit, type Applied, type Edit, type EditProblem } from './edit.ts';
export type { CellPatch, ColumnPatch, EntryChange } from './edit-kinds.ts';
export { copyPart, itemsIn, nextName, nextTitle, type Copied, type Part } from './copy-part.ts';
export {
  destinations,
  duplication,
  idsIn,
  kindOf,
  moveInto,
  removal,
  standingOf as standingIn,
  step,
  titleOf,
  type Destination,
  type Made,
} from './arranging.ts';
export { bareInCell, bareInColumn, type BareNumbers } from './bare-numbers.ts';
export { asCalculated, asTyped, columnDuplication, columnRemoval, columnStep } from './arranging-columns.ts';
export { columnsFrom, nameOf } from './columns-from.ts';
export { readersOf, readersOfColumn, type Reader } from './readers.ts';
export { pastedBlocks } from './pasted-blocks.ts';
export type { Pasted } from './paste.ts';
export { photoBytes, photosOf } from './photo.ts';
export { LIMITS } from './limits.ts';
export { newColumnId, newItemId, newRowIds } from './identity.ts';
export { textParts, type LiveText, type TextFault, type TextPart } from './live-text.ts';
export { followEntries, type Following } from './follow-choice.ts';
export { findItem, findTable, itemsOf, namesOf, tablesOf } from './locate.ts';
export { checkName, nameFrom, normalName, type NameProblem } from './name.ts';
export { hiddenBy } from './rename.ts';
export { foundWords } from './file/file-error.ts';
export { readWorkbook, type FileError, type FileWarning, type Opened } from './file/read.ts';
export { writeWorkbook } from './file/write.ts';
export { checksumOf } from './file/checksum.ts';
export { FILE_FORMAT } from './file/migrations.ts';
export * from './link.ts';
export { toBase64 } from './base64.ts';
export { csvFiles } from './csv.ts';
export type { CsvOptions, CsvProblem, CsvReading } from './file/csv.ts';
export { imported, importEdit, shownValue } from './import.ts';
export { unsaidBy } from './unsaid.ts';
export {
  askedOf,
  asTemplate,
  columnTick,
  hasInputs,
  newJob,
  templateVersion,
  withoutJob,
  type AskedSection,
  type AskedTable,
  type TemplateWish,
} from './template.ts';
export { pairOf, taking, type Pair, type PartDifference } from './differences.ts';
export {
  editTo,
  isTaken,
  merged,
  mergeOf,
  type ChangedBy,
  type Merge,
  type MergeDifference,
} from './merge.ts';
export type { PartKind, PartOfDocument, Parts } from './parts.ts';
export { sharedVersion, stamped, versionOf } from './versions.ts';
export { copySheets, type CopiedSheets } from './copy-sheets.ts';
export { checkSample, type SampledCheck } from './monte-carlo.ts';
export { effects, ranked, tightness, type Effect, type RankedSource } from './ranking.ts';
export { unfinishedFor } from './unfinished.ts';
