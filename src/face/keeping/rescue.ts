/**
 * When the page itself fails: what was typed can always be taken out of it. Plain page elements, because what has
 * failed may be what draws the page.
 */
import { fileName, saveFile } from './files.ts';
import { writeWorkbook, type WorkbookDocument } from '../../workbook/index.ts';

export interface RescueSource {
  /** What is open, if anything is. */
  readonly document: () => WorkbookDocument | undefined;
  /** What is kept on the device: titles, and the files on request. */
  readonly kept: () => Promise<readonly { readonly title: string; readonly text: () => Promise<string> }[]>;
}

let source: RescueSource | undefined;
let shown: HTMLElement | undefined;

export function rescueFrom(given: RescueSource): void {
  source = given;
}

/** From now on an error that nothing has caught is shown, with the way out. */
export function watchForErrors(): void {
  addEventListener('error', (event) => {
    // An element's own failure to load, and the browser's note on a late resize, are no failure of the page.
    if (event.error) showRescue(event.error);
  });
  addEventListener('unhandledrejection', (event) => {
    showRescue(event.reason);
  });
}

export function showRescue(problem: unknown): void {
  if (shown?.isConnected) return;
  const words = problem instanceof Error ? problem.message : String(problem);
  shown = element('div', 'rescue');
  shown.setAttribute('role', 'alertdialog');
  shown.setAttribute('aria-label', 'Something went wrong');
  const about = element('p');
  about.append(
    bold('Something went wrong in this page.'),
    ' Your work is safe to take out: download it first, then load the page again.',
  );
  const deeds = element('div', 'deeds');
  const document = source?.document();
  if (document)
    deeds.append(
      button('Download my data', () => {
        save(document);
      }),
    );
  deeds.append(
    button('Load the page again', () => {
      location.reload();
    }),
    button('Go on', () => shown?.remove()),
  );
  const detail = element('p', 'detail');
  detail.textContent = words.slice(0, 300);
  shown.append(about, deeds, detail);
  globalThis.document.body.append(shown);
  if (!document) void addKept(deeds);
}

async function addKept(deeds: HTMLElement): Promise<void> {
  try {
    for (const { title, text } of (await source?.kept()) ?? []) {
      const take = async () => {
        saveFile(fileName(title, 'json'), 'application/json', await text());
      };
      deeds.append(button(`Download “${title.slice(0, 60)}”`, () => void take()));
    }
  } catch {
    // Nothing can be read: then there is nothing to offer either.
  }
}

function save(document: WorkbookDocument): void {
  let text: string;
  try {
    text = writeWorkbook(document);
  } catch {
    // Should writing be what failed: all of it, though not in the usual form.
    text = JSON.stringify(document, undefined, 1);
  }
  saveFile(fileName(document.title, 'json'), 'application/json', text);
}

function element(tag: 'div' | 'p', name?: string): HTMLElement {
  const made = document.createElement(tag);
  if (name !== undefined) made.className = name;
  return made;
}

function bold(text: string): HTMLElement {
  const made = document.createElement('b');
  made.textContent = text;
  return made;
}

function button(text: string, run: () => void): HTMLButtonElement {
  const made = document.createElement('button');
  made.className = 'button';
  made.textContent = text;
  made.addEventListener('click', run);
  return made;
}
