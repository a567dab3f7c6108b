/** Joins the face to the workbook and the trade. */
import { mount } from 'svelte';
import { FunctionLibrary } from './engine/index.ts';
import { App, type Desk } from './face/index.ts';
import { tradeFunctions } from './trade/index.ts';
import { readWorkbook, Workbook } from './workbook/index.ts';

const library = new FunctionLibrary(tradeFunctions);

const desk: Desk = {
  open(text) {
    const opened = readWorkbook(text);
    if ('code' in opened) {
      const { where, found, expected, suggestion } = opened;
      return { problem: `In ${where}: found ${found}, expected ${expected}. ${suggestion}` };
    }
    return {
      workbook: new Workbook(opened.document, library),
      warnings: opened.warnings.map(({ where, message }) => `${where}: ${message}`),
      ...(opened.readOnly === undefined ? {} : { readOnly: opened.readOnly }),
    };
  },
  templates: [
    {
      title: 'Juniper Hollow, the demo',
      load: async () => (await import('../templates/juniper-hollow.json?raw')).default,
    },
    { title: 'Air test', load: async () => (await import('../templates/air-test.json?raw')).default },
  ],
};

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the app');
mount(App, { target, props: { desk } });
