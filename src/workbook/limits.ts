/**
 * How large a workbook may grow. A file from a stranger is held to the same limits as one made here, so whatever
 * can be made can be opened again.
 */
export const LIMITS = {
  fileCharacters: 50_000_000,
  jsonDepth: 64,
  /** A formula, a value or an entry. */
  textCharacters: 10_000,
  nameCharacters: 60,
  namedCells: 200_000,
  rows: 50_000,
  columns: 200,
  /** Rows times columns over all tables: what a file of many empty rows would make the engine hold. */
  tablePositions: 2_000_000,
  places: 12,
  /** Of one photo in base64: a file of 210 kB. */
  photoCharacters: 280_000,
  /** Of all photos: files of 12 MB together. */
  photosCharacters: 16_000_000,
  photosARow: 12,
  /** Longest side of a picture in pixels: what is shown takes four bytes a pixel, however small its file. */
  photoSide: 4_096,
  captionCharacters: 500,
  /** Of a link's payload, and of what it unpacks to. */
  linkCharacters: 5_000_000,
  linkBytes: 5_000_000,
  /** Past so many bytes a link may unpack to so many times its length. */
  inflateFreely: 200_000,
  inflateRatio: 200,
} as const;

/** 50,000 and not 50000: limits are read by people. */
export function grouped(count: number): string {
  return count.toLocaleString('en-US');
}
