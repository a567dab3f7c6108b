/** What the keys do, for the page that lists them. Those of rows come from the commands themselves. */
import { ROW_COMMANDS } from '../worksheet/row-commands.ts';

export interface KeyGroup {
  readonly where: string;
  /** Keys as they are written, alternatives apart; and what they do. */
  readonly keys: readonly (readonly [keys: readonly string[], does: string])[];
}

export const KEY_GROUPS: readonly KeyGroup[] = [
  {
    where: 'Everywhere',
    keys: [
      [['Ctrl K'], 'Find a cell, a table or a column'],
      [['Ctrl Z'], 'Undo'],
      [['Ctrl Y', 'Ctrl Shift Z'], 'Redo'],
      [['Ctrl S'], 'Save'],
      [['Ctrl Shift S'], 'Save as another file'],
      [['Ctrl P'], 'Print the worksheet'],
      [['Ctrl E'], 'Arrange the parts of the worksheet, and back'],
      [['Ctrl B'], 'Show where the ± of the opened cell comes from'],
      [['Ctrl [', 'Ctrl ]'], 'Go to what the opened cell reads, or to what reads it'],
      [['F1'], 'Functions and units; in a formula, the function at the caret'],
    ],
  },
  {
    where: 'In a list of cells',
    keys: [
      [['↑', '↓'], 'From cell to cell'],
      [['Enter', 'F2'], 'Edit; typing begins anew'],
      [['Escape'], 'Leave as it was'],
      [['Enter', 'Tab'], 'Keep what was typed'],
    ],
  },
  {
    where: 'In a table',
    keys: [
      [['↑', '↓', '←', '→'], 'From cell to cell; with Shift, select'],
      [['Home', 'End'], 'To the first or the last column'],
      [['Ctrl Home', 'Ctrl End'], 'To the first or the last cell'],
      [['Page Up', 'Page Down'], 'By what is in view'],
      [['Ctrl ←', 'Ctrl ↑', 'Ctrl →', 'Ctrl ↓'], 'To the edge'],
      [['Enter', 'F2'], 'Edit; typing begins anew'],
      [
        ['Enter', 'Tab'],
        'Keep what was typed and go on below, or to the right; after Tab, Enter begins the next row',
      ],
      [['Tab'], 'In a row that is typed with Tab: pass a cell over; Escape first leaves the table'],
      [['Escape'], 'Leave as it was; take back the selection'],
      [['Shift Space', 'Ctrl Space', 'Ctrl A'], 'Select rows, columns, all'],
      [['Ctrl C', 'Ctrl X', 'Ctrl V'], 'Copy, cut, paste, also from and to other spreadsheets'],
      ...ROW_COMMANDS.flatMap(({ keys, words }) => (keys === '' ? [] : [[[keys], words(1)] as const])),
      [['Shift F10'], 'What can be done to the row; on a heading, sort and show only'],
    ],
  },
  {
    where: 'In a formula',
    keys: [
      [['Ctrl Space', 'Alt ↓'], 'Offer the names that fit, also before a letter is typed'],
      [['↑', '↓'], 'Choose among the names offered'],
      [['Tab', 'Enter'], 'Take the name; without one, keep the formula'],
      [['Ctrl I'], 'Put in the example of the function'],
    ],
  },
  {
    where: 'While arranging',
    keys: [
      [['↑', '↓'], 'From part to part'],
      [['Enter'], 'Open its properties'],
      [['Alt ↑', 'Alt ↓'], 'Move'],
      [['Ctrl D'], 'Duplicate'],
      [['Delete'], 'Delete'],
    ],
  },
];
