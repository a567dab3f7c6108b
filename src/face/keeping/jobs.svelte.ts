/** Which workbook is open, and how another one comes to be: from this device, a file, a template or a link. */
import { createContext } from 'svelte';
import {
  hasInputs,
  isLink,
  newJob,
  readLink,
  readWorkbook,
  templateVersion,
  writeWorkbook,
  type TemplateOrigin,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import { fetchFigures } from '../figure/ahead.ts';
import { Session } from '../session.svelte.ts';
import { greeted, wasGreeted } from '../tour/greeting.ts';
import type Tour from '../tour/Tour.svelte';
import type { Desk } from '../view.ts';
import { DeviceStore } from './device-store.ts';
import type { FileHandle, Seen } from './file-access.ts';
import { Keeper } from './keeper.svelte.ts';
import type { Other } from './others.ts';
import { Tabs } from './lease.ts';
import type { FoundText } from './linked-file.ts';
import { reasonOf } from './recorder.ts';
import { originOf } from './origin.ts';
import type { Found } from './recovery.ts';
import { Saving } from './saving.svelte.ts';
import { SecondCopies } from './second-copy.ts';
import { Shelf } from './shelf.svelte.ts';
import { freshId, type Filed, type KeptRecords } from './store.ts';
import { TwiceKept } from './twice-kept.ts';

/** How long the device may take to keep the last edits before the person is asked. */
const PATIENCE = 2_000;

export type PanelName = 'workbooks' | 'share' | 'report' | 'template' | 'compare' | 'copy' | 'keys';

type Template = Desk['templates'][number];

export interface Job {
  readonly session: Session;
  readonly keeper: Keeper;
  readonly saving: Saving;
}

/** A file that was read, with its handle where the browser gave one. */
export interface ReadFile extends FoundText {
  readonly name: string;
  readonly handle?: FileHandle | undefined;
}

interface Origin {
  /** In words: `notes.json`. */
  readonly from: string;
  readonly kept?: KeptRecords;
  /** What was lost of it on this device. */
  readonly lost?: readonly string[];
  readonly readOnly?: string | undefined;
  readonly apart?: boolean;
  /** The file that it is saved in. */
  readonly file?: { readonly handle: FileHandle; readonly seen: Seen } | undefined;
  readonly filed?: Filed;
}

export class Jobs {
  readonly desk: Desk;
  readonly tabs = new Tabs(freshId());
  readonly device = new DeviceStore();
  readonly #store = new TwiceKept(this.device, new SecondCopies());
  readonly shelf = new Shelf(this.#store, this.tabs);
  current = $state.raw<Job>();
  /** Why the last attempt to open something failed. */
  problem = $state('');
  /** What the person should know of the workbook just opened. */
  notes = $state.raw<readonly string[]>([]);
  /** What lies over the workbook. */
  panel = $state<PanelName>();
  /** A look round: offered where the demo was opened because there is nothing else yet, or asked for. */
  greeting = $state<'offered' | 'led'>();
  /** Shows it, once it is loaded: at hand before the first picture, which must not move when the offer comes. */
  tour = $state.raw<typeof Tour>();
  /** Beside the open workbook: what it is compared with. */
  other = $state.raw<Other>();
  /** A file was dropped on the page: what is to be done with it is asked. */
  dropped = $state.raw<ReadFile>();
  /** Rows for a table of the open workbook were dropped, on the table of that name or elsewhere. */
  rows = $state.raw<{ readonly name: string; readonly text: string; readonly table: string | undefined }>();
  /** Opens what was asked for although work in this tab is kept nowhere. */
  anyway = $state.raw<() => Promise<unknown>>();

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** What the address holds, else the workbook kept last, else the demo. */
  async begin(): Promise<void> {
    if (isLink(location.hash) && (await this.openLink())) return;
    // A first visit will want the demo: it is fetched while the device is asked what it keeps.
    let tour: Promise<void> | undefined;
    if (!wasGreeted()) {
      void this.desk.templates[0]?.load().catch(() => undefined);
      tour = this.#fetchTour();
    }
    await this.shelf.refresh();
    // Where the browser keeps nothing at all, the first change says so; what may be there must not pass for gone.
    // Opening what is opened in place of a link takes back what was said of it.
    let problem = this.problem || (this.shelf.keepsNothing ? '' : this.shelf.problem);
    for (const { id } of this.shelf.kept) {
      if (await this.openKept(id)) break;
      problem ||= this.problem;
    }
    const [demo] = this.desk.templates;
    if (!this.current) await tour;
    if (!this.current && demo && (await this.fromTemplate(demo)))
      this.greeting = wasGreeted() ? undefined : 'offered';
    // What could not be opened is told beside what was opened instead.
    this.problem ||= problem;
    this.notes = [...this.notes, ...this.#store.takeNotes()];
    await this.shelf.clearOld();
  }

  async #fetchTour(): Promise<void> {
    this.tour ??= await import('../tour/Tour.svelte').then(
      (module) => module.default,
      () => undefined,
    );
  }

  /** Begins the look round. */
  async lookRound(): Promise<void> {
    await this.#fetchTour();
    this.greeting = 'led';
  }

  /** The look round is over, or not wanted: it is not offered again. */
  endGreeting(): void {
    this.greeting = undefined;
    greeted();
  }

  async openKept(id: string): Promise<boolean> {
    let kept: Found | undefined;
    try {
      const { recoverFrom } = await import('./recovery.ts');
      kept = await recoverFrom(this.#store, id);
    } catch (problem) {
      this.problem = `A workbook that is kept on this device could not be read: ${reasonOf(problem)}. Load the page again.`;
      return false;
    }
    if (!kept) {
      this.problem = 'This workbook is no longer kept on this device.';
      return false;
    }
    const { records, found } = kept;
    const from = `“${records.head.title}”, kept on this device,`;
    if ('problem' in found) {
      this.problem = `${from} was not opened. ${found.problem}`;
      return false;
    }
    const { text, lost, readOnly } = found;
    return this.openText(text, { from, kept: records, lost, readOnly });
  }

  /** The demo, as it is. */
  async fromTemplate(template: Template): Promise<boolean> {
    return this.#open(await template.load(), { from: template.title });
  }

  /** A shipped template, or one's own, by the id that its jobs remember. */
  async templateById(id: string): Promise<WorkbookDocument | undefined> {
    const shipped = this.desk.templates.find((template) => template.id === id);
    if (shipped) return shipped.load();
    const text = await this.shelf.text(id);
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
    const origin = document.template ?? (await originOf(document, current.keeper.id, this.desk.templates[0]));
    const job = newJob(document, { id: origin.id, title: origin.title });
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

  /** Into the workbook's file, else into one that is chosen, else as a download. */
  async save(): Promise<void> {
    await this.current?.saving.save();
  }

  async compareWith(other: Other): Promise<void> {
    const { commonBase } = await import('./others.ts');
    const base = await commonBase(this.shelf, this.current?.saving.versions ?? [], other.document);
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
    if (await this.#open(text, { from: 'The copy' }, true)) await this.current.keeper.keepHere();
  }

  /** Takes the open workbook from the list; the next one is opened in its place. */
  async removeKept(id: string): Promise<void> {
    if (this.current?.keeper.id === id) await this.current.keeper.stop();
    await this.shelf.remove(id);
    if (this.current?.keeper.id !== id) return;
    const { problem } = this.shelf;
    this.current = undefined;
    await this.begin();
    // What begins lists anew, and where the device refused, the same workbook is open again.
    this.shelf.problem ||= problem;
  }

  async rename(id: string, title: string): Promise<void> {
    if (this.current?.keeper.id !== id) await this.shelf.rename(id, title);
    else this.current.session.apply({ kind: 'set-document', patch: { title } });
  }

  openText(text: string, origin: Origin): Promise<boolean> {
    return this.#open(text, origin);
  }

  async #open(source: string | WorkbookDocument, origin: Origin, anyway = false): Promise<boolean> {
    const { from, kept, lost = [], apart = false, file, filed } = origin;
    fetchFigures();
    const opened = this.desk.open(source);
    if ('problem' in opened) {
      this.problem = `${from} was not opened. ${opened.problem}`;
      return false;
    }
    const former = this.current?.keeper;
    if (former && !anyway) {
      await Promise.race([former.flush(), new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
      if (former.atRisk) {
        this.anyway = () => this.#open(source, origin, true);
        return false;
      }
      await former.stop();
    } else void former?.stop();
    this.anyway = undefined;
    this.problem = '';
    this.other = undefined;
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
      filed,
      onkept: () => void saving.remember(),
      onstale: () => void this.openKept(id),
    });
    const saving = new Saving({ session, keeper, shelf: this.shelf, memory: this.device, file });
    keeper.start();
    this.greeting = undefined;
    this.current = { session, keeper, saving };
    if (kept) void saving.look();
    return true;
  }
}

export const [useJobs, provideJobs] = createContext<Jobs>();
