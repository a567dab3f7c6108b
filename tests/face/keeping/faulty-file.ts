/** A file of a disk in memory: it can refuse, fill up, be moved away, or be written by another program. */
import type { FileHandle } from '../../../src/face/keeping/file-access.ts';

export class FaultyFile implements FileHandle {
  readonly name: string;
  /** Undefined once it is gone. */
  text: string | undefined;
  modified = 1_000;
  permission: PermissionState = 'granted';
  /** What the person says when asked. */
  answer: PermissionState = 'granted';
  /** The step of a write that fails. */
  failsAt: 'open' | 'write' | 'close' | undefined;
  /** After the next write it cannot be read, or holds something else. */
  afterwards: 'unreadable' | 'garbled' | undefined;
  #isUnreadable = false;
  asked = 0;
  /** What a cut write would leave; the file itself stays as it was until the stream is closed. */
  aborted = 0;

  constructor(name: string, text: string) {
    this.name = name;
    this.text = text;
  }

  /** Another program writes it. */
  change(text: string): void {
    this.text = text;
    this.modified += 1_000;
  }

  getFile(): Promise<File> {
    if (this.#isUnreadable) {
      this.#isUnreadable = false;
      return Promise.reject(new DOMException('the disk does not answer', 'NotReadableError'));
    }
    if (this.text === undefined) return Promise.reject(new DOMException('not found', 'NotFoundError'));
    return Promise.resolve(new File([this.text], this.name, { lastModified: this.modified }));
  }

  createWritable(): Promise<FileSystemWritableFileStream> {
    let written = '';
    const step = (at: FaultyFile['failsAt']) =>
      this.failsAt === at
        ? Promise.reject(new DOMException('the disk is full', 'QuotaExceededError'))
        : Promise.resolve();
    const stream = {
      write: (text: string) => step('write').then(() => void (written += text)),
      close: () =>
        step('close').then(() => {
          this.change(this.afterwards === 'garbled' ? written.slice(1) : written);
          this.#isUnreadable = this.afterwards === 'unreadable';
          this.afterwards = undefined;
        }),
      abort: () => Promise.resolve(void this.aborted++),
    };
    return step('open').then(() => stream as unknown as FileSystemWritableFileStream);
  }

  isSameEntry(other: FileHandle): Promise<boolean> {
    return Promise.resolve(other === this);
  }

  queryPermission(): Promise<PermissionState> {
    return Promise.resolve(this.permission);
  }

  requestPermission(): Promise<PermissionState> {
    this.asked++;
    this.permission = this.answer;
    return Promise.resolve(this.permission);
  }
}
