/** Files between the page and the device: chosen by the person, saved as a download. Nothing is sent anywhere. */

/** Files above this are no workbook of ours; reading them would only freeze the page. */
export const LARGEST_FILE = 50_000_000;

/** Asks for one file; undefined when the person chose none. `camera`: a phone opens its camera at once. */
export function chooseFile(accept: string, camera = false): Promise<File | undefined> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    if (camera) input.setAttribute('capture', 'environment');
    input.addEventListener('change', () => {
      resolve(input.files?.[0]);
    });
    input.addEventListener('cancel', () => {
      resolve(undefined);
    });
    input.click();
  });
}

export function saveFile(name: string, type: string, text: string): void {
  saveBlob(name, new Blob([text], { type }));
}

export function saveBlob(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(address);
  }, 1000);
}

/** A title as a file name that every system takes. */
export function fileName(title: string, extension: string): string {
  const plain = title
    .normalize('NFC')
    .replace(/[^\p{L}\p{N} _-]+/gu, ' ')
    .trim()
    .replace(/\s+/g, '-')
    .toLowerCase()
    .slice(0, 80);
  return `${plain === '' ? 'workbook' : plain}.${extension}`;
}
