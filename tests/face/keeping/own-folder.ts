/** A folder in memory with as much of the File System Standard as the second copies use. */
export class OwnFolder {
  readonly files = new Map<string, string>();
  /** What the next closings of a stream do instead of writing. */
  failures = 0;

  getFileHandle(name: string, { create = false } = {}): Promise<FileSystemFileHandle> {
    if (!this.files.has(name)) {
      if (!create) return Promise.reject(new DOMException('not there', 'NotFoundError'));
      this.files.set(name, '');
    }
    const handle = {
      getFile: () => Promise.resolve(new File([this.files.get(name) ?? ''], name)),
      createWritable: ({ keepExistingData = false } = {}) => {
        // As the standard has it: into a file beside this one, which takes its place when the stream is closed.
        let text = keepExistingData ? (this.files.get(name) ?? '') : '';
        return Promise.resolve({
          write: (part: string | { position: number; data: string }) => {
            if (typeof part === 'string') text += part;
            else text = text.slice(0, part.position) + part.data;
            return Promise.resolve();
          },
          close: () => {
            if (this.failures > 0) {
              this.failures--;
              return Promise.reject(new DOMException('no room', 'QuotaExceededError'));
            }
            this.files.set(name, text);
            return Promise.resolve();
          },
        });
      },
    };
    return Promise.resolve(handle as unknown as FileSystemFileHandle);
  }

  removeEntry(name: string): Promise<void> {
    return this.files.delete(name)
      ? Promise.resolve()
      : Promise.reject(new DOMException('not there', 'NotFoundError'));
  }

  async *keys(): AsyncGenerator<string> {
    for (const name of this.files.keys()) yield await Promise.resolve(name);
  }
}
