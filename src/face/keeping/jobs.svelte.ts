/** Which workbook is open, and how another one comes to be: from this device, a file, a template or a link. */
import { createContext } from 'svelte';
import {
  hasInputs,
  isLink,
  newJob,
  readLink,
  readWorkbook,
  stamped,
  templateVersion,
  versionOf,
  writeWorkbook,
  type TemplateOrigin,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import { Session } from '../session.svelte.ts';
import { greeted, wasGreeted } from '../tour/greeting.ts';
import type { Desk } from '../view.ts';
import { DeviceStore } from './device-store.ts';
import { chooseFile, fileName, saveFile } from './files.ts';
import { Keeper } from './keeper.svelte.ts';
import { commonBase, otherFrom, type Other } from './others.ts';
import { Tabs } from './lease.ts';
import { reasonOf } from './recorder.ts';
import { recover } from './recovery.ts';
import { Shelf } from './shelf.svelte.ts';
import { freshId, type KeptRecords } from './store.ts';

/** Files above this are no workbook of ours; reading them would only freeze the page. */
const LARGEST_FILE = 50_000_000;

/** How long the device may take to keep the last edits before the person is asked. */
const PATIENCE = 2_000;

export type PanelName = 'workbooks' | 'share' | 'report' | 'template' | 'compare' | 'copy';

type Template = Desk['templates'][number];

export interface Job {
  readonly session: Session;
  readonly keeper: Keeper;
}

interface Origin {
  /** In words: `notes.json`. */
  readonly from: string;
  readonly kept?: KeptRecords;
  /** What was lost of it on this device. */
  readonly lost?: readonly string[];
  readonly readOnly?: string | undefined;
  readonly apart?: boolean;
}

export class Jobs {
  readonly desk: Desk;
  readonly tabs = new Tabs(freshId());
  readonly shelf = new Shelf(new DeviceStore(), this.tabs);
  current = $state.raw<Job>();
  /** Why the last attempt to open something failed. */
  problem = $state('');
  /** What the person should know of the workbook just opened. */
  notes = $state.raw<readonly string[]>([]);
  /** What lies over the workbook. */
  panel = $state<PanelName>();
  /** The demo was opened because there is nothing else yet: a look round is offered. */
  greeting = $state(false);
  /** Beside the open workbook: what it is compared with. */
  other = $state.raw<Other>();
  /** A file was dropped on the page: what is to be done with it is asked. */
  dropped = $state.raw<{ readonly name: string; readonly text: string }>();
  #saved: readonly string[] = [];
  /** Opens what was asked for although work in this tab is kept nowhere. */
  anyway = $state.raw<() => Promise<unknown>>();

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** What the address holds, else the workbook kept last, else the demo. */
  async begin(): Promise<void> {
    if (isLink(location.hash) && (await this.openLink())) return;
    await this.shelf.refresh();
    // Where the browser keeps nothing at all, the first change says so; what may be there must not pass for gone.
    let problem = this.shelf.keepsNothing ? '' : this.shelf.problem;
    for (const { id } of this.shelf.kept) {
      if (await this.openKept(id)) break;
      problem ||= this.problem;
    }
    const [demo] = this.desk.templates;
    if (!this.current && demo && (await this.fromTemplate(demo))) this.greeting = !wasGreeted();
    // What could not be opened is told beside what was opened instead.
    this.problem ||= problem;
    await this.shelf.clearOld();
  }

  /** The look round is over, or not wanted: it is not offered again. */
  endGreeting(): void {
    this.greeting = false;
    greeted();
  }

  async openKept(id: string): Promise<boolean> {
    let records: KeptRecords | undefined;
    try {
      records = await this.shelf.store.read(id);
    } catch (problem) {
      this.problem = `A workbook that is kept on this device could not be read: ${reasonOf(problem)}. Load the page again.`;
      return false;
    }
    if (!records) {
      this.problem = 'This workbook is no longer kept on this device.';
      return false;
    }
    const from = `“${records.head.title}”, kept on this device,`;
    const found = recover(records);
    if ('problem' in found) {
      this.problem = `${from} was not opened. ${found.problem}`;
      return false;
    }
    const { text, lost, readOnly } = found;
    return this.openText(text, { from, kept: records, lost, readOnly });
  }

  /** The demo, as it is. */
  async fromTemplate(template: Template): Promise<boolean> {
    return this.openText(await template.load(), { from: template.title });
  }

  /** A shipped template, or one's own, by the id that its jobs remember. */
  async templateById(id: string): Promise<WorkbookDocument | undefined> {
    const shipped = this.desk.templates.find((template) => template.id === id);
    const text = shipped ? await shipped.load() : await this.shelf.text(id);
    const opened = typeof text === 'string' ? readWorkbook(text) : undefined;
    return opened && 'document' in opened ? opened.document : undefined;
  }

  /** A new job, with nothing in it of the template's example; it asks for its inputs first. */
  async beginJob(origin: Omit<TemplateOrigin, 'version'>): Promise<void> {
    const template = await this.templateById(origin.id);
    if (template) await this.#ask(newJob(template, origin));
    else this.problem = `The template “${origin.title}” could not be read.`;
  }

  /** A new job from a template that is open here. */
  async beginFrom(template: WorkbookDocument, id: string): Promise<void> {
    await this.#ask(newJob(template, { id, title: template.title }));
  }

  /** The next job: like the open one, with nothing of it. */
  async nextJob(): Promise<void> {
    const { current } = this;
    if (!current) return;
    const { document } = current.session.workbook;
    const { id, title } = document.template ?? { id: current.keeper.id, title: document.title };
    const job = newJob(document, { id, title });
    await this.#ask({
      ...job,
      title: 'New job',
      // What was changed in the former job is not news of the template.
      ...(document.template && { template: document.template }),
    });
  }

  async #ask(job: WorkbookDocument): Promise<void> {
    const opened = await this.openText(writeWorkbook(job), { from: 'The new job' });
    if (opened && this.current && hasInputs(job)) this.current.session.page = 'inputs';
  }

  /** Nothing but one worksheet, and what it is built with at hand. */
  async empty(): Promise<boolean> {
    const units = this.current?.session.system ?? 'us';
    const sheet = { id: 'worksheet', title: 'Worksheet 1', note: '', sections: [] };
    const text = writeWorkbook({ title: 'New job', units, sheets: [sheet] });
    if (!(await this.openText(text, { from: 'The empty workbook' }))) return false;
    if (this.current) this.current.session.arranging = true;
    return true;
  }

  async openFile(): Promise<void> {
    const file = await chooseFile('.json,application/json');
    if (file) await this.#openOne(file);
  }

  /** A file that the system was asked to open with the installed app. */
  async openLaunched(name: string, read: () => Promise<File>): Promise<void> {
    const file = await read().catch(() => undefined);
    if (file) await this.#openOne(file);
    else this.problem = `${name} could not be read. Open it with the button “Open”.`;
  }

  async #openOne(file: File): Promise<void> {
    const text = await this.textOf(file);
    if (text !== undefined) await this.openFileText(file.name, text);
  }

  /** Undefined where it is too large to be a workbook. */
  async textOf(file: File): Promise<string | undefined> {
    if (file.size <= LARGEST_FILE) return file.text();
    this.problem = `${file.name} is larger than 50 MB and was not opened.`;
    return undefined;
  }

  /** Dropped on the page that asks for another workbook it is that one; elsewhere the person is asked. */
  async takeDropped(name: string, text: string): Promise<void> {
    if (this.panel !== 'compare' && this.panel !== 'copy') {
      this.dropped = { name, text };
      return;
    }
    const other = otherFrom(name, text);
    if ('problem' in other) this.problem = other.problem;
    else if (this.panel === 'compare') await this.compareWith(other);
    else this.other = other;
  }

  async openFileText(name: string, text: string): Promise<void> {
    if (!(await this.openText(text, { from: name })) || !this.current) return;
    const { document, workbook } = this.current.session;
    const version = document.versions?.at(-1);
    if (version === undefined || version !== versionOf(document)) return;
    // With the first change it is a version that two copies may come from.
    const stop = workbook.subscribe(({ edit }) => {
      if (!edit) return;
      stop();
      void this.shelf.keepVersion(version, document);
    });
  }

  /** The workbook in the address. It leaves the address at once, so that a reload does not open it again. */
  async openLink(): Promise<boolean> {
    const fragment = location.hash;
    history.replaceState(null, '', `${location.pathname}${location.search}`);
    const read = await readLink(fragment);
    if ('code' in read) {
      this.problem = `The link was not opened: it is ${read.found}. ${read.suggestion}`;
      return false;
    }
    return this.openText(read.text, { from: 'The link', apart: true });
  }

  saveAsFile(): void {
    if (!this.current) return;
    const { session, keeper } = this.current;
    const document = stamped(session.workbook.document, this.versions);
    saveFile(fileName(document.title, 'json'), 'application/json', writeWorkbook(document));
    this.#saved = document.versions ?? [];
    void this.shelf.keepVersion(versionOf(document), document);
    session.announcement = `Saved as ${fileName(document.title, 'json')}`;
    const { head } = keeper;
    if (head) void keeper.note({ filed: { sequence: head.sequence, at: Date.now(), versions: this.#saved } });
  }

  /** Fingerprints of the files that the open workbook was saved as. */
  get versions(): readonly string[] {
    const { session, keeper } = this.current ?? {};
    return [...(session?.document.versions ?? []), ...(keeper?.head?.filed?.versions ?? []), ...this.#saved];
  }

  async compareWith(other: Other): Promise<void> {
    const base = await commonBase(this.shelf, this.versions, other.document);
    this.other = { ...other, ...(base && { base }) };
    this.panel = 'compare';
  }

  async compareWithTemplate(): Promise<void> {
    const origin = this.current?.session.document.template;
    const document = origin && (await this.templateById(origin.id));
    if (!document) return;
    this.other = { title: `the template “${origin.title}”`, document, version: templateVersion(document) };
    this.panel = 'compare';
  }

  /** What is open becomes a workbook of its own on this device: after another tab has gone another way. */
  async keepAsCopy(): Promise<void> {
    if (!this.current) return;
    const { document } = this.current.session.workbook;
    const text = writeWorkbook({ ...document, title: `${document.title}, copy` });
    if (await this.openText(text, { from: 'The copy' }, true)) await this.current.keeper.keepHere();
  }

  /** Takes the open workbook from the list; the next one is opened in its place. */
  async removeKept(id: string): Promise<void> {
    if (this.current?.keeper.id === id) await this.current.keeper.stop();
    await this.shelf.remove(id);
    if (this.current?.keeper.id !== id) return;
    this.current = undefined;
    await this.begin();
  }

  async rename(id: string, title: string): Promise<void> {
    const { current } = this;
    if (current?.keeper.id !== id) await this.shelf.rename(id, title);
    else current.session.apply({ kind: 'set-document', patch: { title } });
  }

  async openText(text: string, origin: Origin, anyway = false): Promise<boolean> {
    const { from, kept, lost = [], apart = false } = origin;
    const opened = this.desk.open(text);
    if ('problem' in opened) {
      this.problem = `${from} was not opened. ${opened.problem}`;
      return false;
    }
    const former = this.current?.keeper;
    if (former && !anyway) {
      await Promise.race([former.flush(), new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
      if (former.atRisk) {
        this.anyway = () => this.openText(text, origin, true);
        return false;
      }
      await former.stop();
    } else void former?.stop();
    this.anyway = undefined;
    this.problem = '';
    this.other = undefined;
    this.#saved = [];
    const readOnly = origin.readOnly ?? opened.readOnly;
    this.notes = [...(readOnly === undefined ? [] : [readOnly]), ...lost, ...opened.warnings];
    const session = new Session(opened.workbook, readOnly);
    const id = kept?.head.id ?? freshId();
    const keeper = new Keeper({
      store: this.shelf.store,
      tabs: this.tabs,
      id,
      session,
      kept,
      damaged: lost.length > 0,
      apart,
      onstale: () => void this.openKept(id),
    });
    keeper.start();
    this.greeting = false;
    this.current = { session, keeper };
    return true;
  }
}

export const [useJobs, provideJobs] = createContext<Jobs>();
