import { pickToOpen, savesInPlace } from './file-access.ts';
import { chooseFile } from './files.ts';
import type { Jobs } from './jobs.svelte.ts';

/** Asks for a file and opens it. It is asked first: a browser takes it from the hand that has just touched a button. */
export async function openFile(jobs: Jobs): Promise<void> {
  const picked = savesInPlace() ? await pickToOpen() : 'shut';
  const file = picked === 'shut' ? await chooseFile('.json,application/json') : undefined;
  const { openChosen, openHandle } = await import('./read-files.ts');
  if (file) await openChosen(jobs, file);
  else if (typeof picked === 'object') await openHandle(jobs, picked);
}
