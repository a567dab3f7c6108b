/** The keys of a grid, as the WAI-ARIA Authoring Practices list them (grid pattern), and what each asks for. */

export type GridCommand =
  | { readonly kind: 'move'; readonly rows: number; readonly columns: number; readonly extend: boolean }
  | {
      readonly kind: 'jump';
      readonly row?: 'first' | 'last';
      readonly column?: 'first' | 'last';
      readonly extend: boolean;
    }
  | { readonly kind: 'page'; readonly direction: -1 | 1; readonly extend: boolean }
  | { readonly kind: 'edit' }
  | { readonly kind: 'type'; readonly text: string }
  | { readonly kind: 'select'; readonly what: 'row' | 'column' | 'all' }
  | { readonly kind: 'deselect' }
  | { readonly kind: 'menu' }
  | { readonly kind: 'rows'; readonly id: RowCommandId };

/** What can be done to rows, by key, from the menu and on a card. */
export type RowCommandId =
  'above' | 'below' | 'duplicate' | 'up' | 'down' | 'fill down' | 'clear' | 'note' | 'remove';

export interface Key {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

const ARROWS: Readonly<Record<string, readonly [rows: number, columns: number]>> = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
};

/** What a key asks for while no text is being edited; undefined leaves it to the browser. */
export function gridCommand(event: Key): GridCommand | undefined {
  const { key, shiftKey: extend } = event;
  if (event.altKey) return event.ctrlKey || event.metaKey ? undefined : withAlt(key);
  if (event.ctrlKey || event.metaKey) return withControl(key, extend);
  const arrow = Object.hasOwn(ARROWS, key) ? ARROWS[key] : undefined;
  if (arrow) return { kind: 'move', rows: arrow[0], columns: arrow[1], extend };
  switch (key) {
    case 'Home':
      return { kind: 'jump', column: 'first', extend };
    case 'End':
      return { kind: 'jump', column: 'last', extend };
    case 'PageUp':
      return { kind: 'page', direction: -1, extend };
    case 'PageDown':
      return { kind: 'page', direction: 1, extend };
    case 'Enter':
    case 'F2':
      return { kind: 'edit' };
    case 'Delete':
    case 'Backspace':
      return { kind: 'rows', id: 'clear' };
    case 'Escape':
      return { kind: 'deselect' };
    case 'ContextMenu':
      return { kind: 'menu' };
    case 'F10':
      return extend ? { kind: 'menu' } : undefined;
    case ' ':
      return extend ? { kind: 'select', what: 'row' } : { kind: 'type', text: key };
    default:
      // Names of keys are longer than one character; an emoji is one of two units.
      return Array.from(key).length === 1 ? { kind: 'type', text: key } : undefined;
  }
}

function withControl(key: string, extend: boolean): GridCommand | undefined {
  switch (key) {
    case 'Home':
      return { kind: 'jump', row: 'first', column: 'first', extend };
    case 'End':
      return { kind: 'jump', row: 'last', column: 'last', extend };
    case 'ArrowUp':
      return { kind: 'jump', row: 'first', extend };
    case 'ArrowDown':
      return { kind: 'jump', row: 'last', extend };
    case 'ArrowLeft':
      return { kind: 'jump', column: 'first', extend };
    case 'ArrowRight':
      return { kind: 'jump', column: 'last', extend };
    case 'Enter':
      return { kind: 'rows', id: extend ? 'above' : 'below' };
    case 'Delete':
    case 'Backspace':
      return { kind: 'rows', id: 'remove' };
    case ' ':
      return { kind: 'select', what: 'column' };
    case 'a':
      return { kind: 'select', what: 'all' };
    case 'd':
    case 'D':
      return { kind: 'rows', id: extend ? 'duplicate' : 'fill down' };
    default:
      return undefined;
  }
}

function withAlt(key: string): GridCommand | undefined {
  if (key === 'ArrowUp') return { kind: 'rows', id: 'up' };
  return key === 'ArrowDown' ? { kind: 'rows', id: 'down' } : undefined;
}
