/** Joins the face to the workbook and the trade. */
import './without-trusted-types.ts';
import { mount } from 'svelte';
import { finish } from './deferred.ts';
import { FunctionLibrary } from './engine/index.ts';
import { App, versions, watchForErrors, type Desk } from './face/index.ts';
import { tradeFunctions } from './trade/index.ts';
import type { SamplingMessage, SamplingTask } from './sampling-worker.ts';
import {
  foundWords,
  readWorkbook,
  Workbook,
  writeWorkbook,
  type FileError,
  type Opened,
  type SampledCheck,
} from './workbook/index.ts';

const library = new FunctionLibrary(tradeFunctions);

const desk: Desk = {
  finish,
  open(source) {
    const isText = typeof source === 'string';
    const opened: Opened | FileError = isText ? readWorkbook(source) : { document: source, warnings: [] };
    if ('code' in opened) {
      return { problem: `In ${opened.where}: ${foundWords(opened)} ${opened.suggestion}` };
    }
    const workbook = new Workbook(opened.document, library, true);
    return {
      workbook,
      warnings: [...opened.warnings, ...(isText ? workbook.reservedNames() : [])].map(
        ({ where, message }) => `${where}: ${message}`,
      ),
      ...(opened.readOnly === undefined ? {} : { readOnly: opened.readOnly }),
    };
  },
  sample(document, name, draws, progress) {
    const worker = new Worker(new URL('./sampling-worker.ts', import.meta.url), { type: 'module' });
    const task: SamplingTask = { text: writeWorkbook(document), name, draws, seed: 1 };
    const result = new Promise<SampledCheck | { readonly problem: string }>((resolve) => {
      worker.onmessage = (event: MessageEvent<SamplingMessage>) => {
        const message = event.data;
        if ('progress' in message) {
          progress(message.progress);
          return;
        }
        worker.terminate();
        resolve('check' in message ? message.check : message);
      };
      worker.onerror = () => {
        worker.terminate();
        resolve({ problem: 'The check could not run.' });
      };
    });
    worker.postMessage(task);
    return {
      result,
      cancel() {
        worker.terminate();
      },
    };
  },
  templates: [
    {
      id: 'juniper-hollow',
      title: 'Juniper Hollow, the demo',
      about: 'An invented house with everything filled in, to look around and try.',
      load: async () => (await import('../templates/juniper-hollow.json?document')).default,
    },
    {
      id: 'air-test',
      title: 'Air test',
      about: 'Readings to fit, air changes and verdict; leaks and what to seal.',
      load: async () => (await import('../templates/air-test.json?document')).default,
    },
    {
      id: 'air-test-si',
      title: 'Air test, SI',
      about: 'The same in metres, pascals and m³/h.',
      load: async () => (await import('../templates/air-test-si.json?document')).default,
    },
    {
      id: 'house-envelope-ventilation',
      title: 'House, envelope and ventilation',
      about: 'Rooms and areas, heat and moisture through the walls, outdoor air room by room.',
      load: async () => (await import('../templates/house-envelope-ventilation.json?document')).default,
    },
    {
      id: 'finishes',
      title: 'Finishes',
      about: 'Flatness, board, plaster and beams: from rooms to an order list.',
      load: async () => (await import('../templates/finishes.json?document')).default,
    },
    {
      id: 'trim',
      title: 'Trim',
      about: 'Mouldings from rooms and openings, the cutting plan and the order.',
      load: async () => (await import('../templates/trim.json?document')).default,
    },
    {
      id: 'hold-points',
      title: 'Hold points',
      about: 'What must be met before each layer is covered.',
      load: async () => (await import('../templates/hold-points.json?document')).default,
    },
  ],
};

watchForErrors();

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the app');
mount(App, { target, props: { desk } });
// The service worker stands beside the page, and only in what is built.
if (import.meta.env.PROD) void versions.start('./sw.js');
