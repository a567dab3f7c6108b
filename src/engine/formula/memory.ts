/** Memory for machine code. It never grows: that would take its arrays from whoever has them in hand. */

/** Bytes of a page of WebAssembly memory. */
const PAGE = 65_536;

/** Of so many bytes at least, all zero; undefined where the page may have none. */
export function memoryOf(bytes: number): WebAssembly.Memory | undefined {
  try {
    return new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) });
  } catch {
    return undefined;
  }
}
