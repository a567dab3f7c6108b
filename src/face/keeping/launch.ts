/** Files that the system hands to the installed app (Web App Manifest, `file_handlers`; Launch Handler API). */

interface LaunchedFile {
  readonly name: string;
  getFile(): Promise<File>;
}

interface LaunchQueue {
  setConsumer(consumer: (launch: { readonly files?: readonly LaunchedFile[] }) => void): void;
}

/** The system opens a window for each file. What was handed over before this is asked is given now. */
export function whenLaunched(take: (name: string, read: () => Promise<File>) => void): void {
  const { launchQueue } = globalThis as { launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files = [] }) => {
    const [file] = files;
    if (file) take(file.name, () => file.getFile());
  });
}
