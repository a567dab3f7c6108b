/** The signs beside the words of what can be done to rows. */
import type { Component } from 'svelte';
import ArrowDown from 'lucide-static/icons/arrow-down.svg?icon';
import ArrowDownToLine from 'lucide-static/icons/arrow-down-to-line.svg?icon';
import ArrowUp from 'lucide-static/icons/arrow-up.svg?icon';
import CopyPlus from 'lucide-static/icons/copy-plus.svg?icon';
import Eraser from 'lucide-static/icons/eraser.svg?icon';
import Plus from 'lucide-static/icons/plus.svg?icon';
import StickyNote from 'lucide-static/icons/sticky-note.svg?icon';
import Trash from 'lucide-static/icons/trash.svg?icon';
import type { RowCommandId } from './grid-keys.ts';

export const rowIcons: Readonly<Record<RowCommandId, Component>> = {
  above: Plus,
  below: Plus,
  duplicate: CopyPlus,
  up: ArrowUp,
  down: ArrowDown,
  'fill down': ArrowDownToLine,
  clear: Eraser,
  note: StickyNote,
  remove: Trash,
};
