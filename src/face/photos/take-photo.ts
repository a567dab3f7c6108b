/**
 * A picture from the device as a photo for the workbook: turned upright, scaled down and written anew as JPEG, so that
 * nothing of what the camera put into the file (place, device, owner) is left.
 */
import { toBase64 } from '../../workbook/index.ts';

export interface Taken {
  /** JPEG, in base64. */
  readonly data: string;
  readonly bytes: number;
  readonly width: number;
  readonly height: number;
  /** When the file was written: for a camera, when it was pressed. */
  readonly taken: string;
}

export interface NotTaken {
  readonly problem: string;
}

export const LONGEST_SIDE = 1_600;
export const MOST_BYTES = 200_000;
/** A larger file is no photo of a phone; reading it could take all of the device's memory. */
export const MOST_READ = 30_000_000;

const QUALITIES = [0.82, 0.72, 0.62, 0.5];

export async function takePhoto(file: File): Promise<Taken | NotTaken> {
  if (file.size > MOST_READ)
    return {
      problem: `“${shortName(file)}” has ${megabytes(file.size)} MB; ${megabytes(MOST_READ)} MB is the most that is read. Send it to the device smaller, or take it with the camera at a lower resolution.`,
    };
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    return {
      problem: `“${shortName(file)}” is not a picture that this browser can read. Choose a JPEG, PNG or WebP; a phone that takes HEIC has a setting “most compatible”.`,
    };
  }
  try {
    let scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
    for (let attempt = 0; attempt < 5; attempt++, scale *= 0.75) {
      const width = Math.max(1, Math.round(picture.width * scale));
      const height = Math.max(1, Math.round(picture.height * scale));
      const written = await smallEnough(picture, width, height);
      if (written)
        return {
          data: toBase64(new Uint8Array(await written.arrayBuffer())),
          bytes: written.size,
          width,
          height,
          taken: momentOf(new Date(file.lastModified)),
        };
    }
  } finally {
    picture.close();
  }
  return { problem: `“${shortName(file)}” could not be made smaller than ${MOST_BYTES / 1000} kB.` };
}

async function smallEnough(picture: ImageBitmap, width: number, height: number): Promise<Blob | undefined> {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d');
  if (!context) return undefined;
  context.imageSmoothingQuality = 'high';
  // JPEG knows nothing transparent: paper, not black.
  context.fillStyle = '#fff';
  context.fillRect(0, 0, width, height);
  context.drawImage(picture, 0, 0, width, height);
  for (const quality of QUALITIES) {
    const blob = await new Promise<Blob | null>((done) => {
      canvas.toBlob(done, 'image/jpeg', quality);
    });
    if (blob && blob.size <= MOST_BYTES) return blob;
  }
  return undefined;
}

/** `2026-11-28 14:05`, in the device's own time. */
export function momentOf(date: Date): string {
  const two = (value: number) => String(value).padStart(2, '0');
  const day = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  return `${day} ${two(date.getHours())}:${two(date.getMinutes())}`;
}

function megabytes(bytes: number): string {
  return String(Math.round(bytes / 1_000_000));
}

function shortName({ name }: File): string {
  return name.length > 40 ? `${name.slice(0, 37)}…` : name;
}
