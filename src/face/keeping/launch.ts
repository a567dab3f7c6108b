/** Files that the system hands to the installed app (Web App Manifest, `file_handlers`; Launch Handler API). */
import type { FileHandle } from './file-access.ts';

interface LaunchQueue {
  setConsumer(consumer: (launch: { readonly files?: readonly FileHandle[] }) => void): void;
}

/** The system opens a window for each file. What was handed over before this is asked is given now. */
export function whenLaunched(take: (handle: FileHandle) => void): void {
  const { launchQueue } = globalThis as { launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files = [] }) => {
    const [file] = files;
    if (file) take(file);
  });
}
