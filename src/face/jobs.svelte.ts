/** Which workbook is open, and how another one comes to be: from this device, a file or a template. */
import { createContext } from 'svelte';
import { chooseFile, fileName, saveFile } from './files.ts';
import { Keeper } from './keeper.svelte.ts';
import { Session } from './session.svelte.ts';
import { writeWorkbook } from '../workbook/index.ts';
import { keptWorkbooks, type KeptWorkbook } from './storage.ts';
import type { Desk } from './view.ts';

/** Files above this are no workbook of ours; reading them would only freeze the page. */
const LARGEST_FILE = 50_000_000;

export interface Job {
  readonly session: Session;
  readonly keeper: Keeper;
}

export class Jobs {
  readonly desk: Desk;
  current = $state.raw<Job>();
  /** Why the last attempt to open something failed. */
  problem = $state('');
  /** What the person should know of the workbook just opened. */
  notes = $state.raw<readonly string[]>([]);
  #stop: (() => void) | undefined;

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** The workbook kept last, else the demo. */
  async begin(): Promise<void> {
    const [last] = await this.kept();
    if (last && this.openKept(last)) return;
    const [demo] = this.desk.templates;
    if (demo) await this.fromTemplate(demo);
  }

  /** None where the browser keeps nothing for this page. */
  async kept(): Promise<KeptWorkbook[]> {
    try {
      return await keptWorkbooks();
    } catch {
      return [];
    }
  }

  openKept(workbook: KeptWorkbook): boolean {
    return this.#open(workbook.text, `“${workbook.title}”, kept on this device`, workbook);
  }

  async fromTemplate(template: Desk['templates'][number]): Promise<void> {
    this.#open(await template.load(), template.title);
  }

  async openFile(): Promise<void> {
    const file = await chooseFile('.json,application/json');
    if (!file) return;
    if (file.size > LARGEST_FILE) {
      this.problem = `${file.name} is larger than 50 MB and was not opened.`;
      return;
    }
    this.#open(await file.text(), file.name);
  }

  saveAsFile(): void {
    if (!this.current) return;
    const { document } = this.current.session.workbook;
    saveFile(fileName(document.title, 'json'), 'application/json', writeWorkbook(document));
    this.current.session.announcement = `Saved as ${fileName(document.title, 'json')}`;
  }

  #open(text: string, from: string, kept?: KeptWorkbook): boolean {
    const opened = this.desk.open(text);
    if ('problem' in opened) {
      this.problem = `${from} was not opened. ${opened.problem}`;
      return false;
    }
    this.problem = '';
    this.#stop?.();
    const keeper = new Keeper(kept?.id ?? freshId(), opened.workbook, kept?.savedAt);
    // What must not be written over is not kept either.
    this.#stop = opened.readOnly === undefined ? keeper.start() : undefined;
    this.notes = [...(opened.readOnly === undefined ? [] : [opened.readOnly]), ...opened.warnings];
    this.current = { session: new Session(opened.workbook, opened.readOnly), keeper };
    return true;
  }
}

export const [useJobs, provideJobs] = createContext<Jobs>();

/** The key under which a new job is kept: without meaning, practically unique on this device. */
function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(36).padStart(2, '0')).join('');
}
