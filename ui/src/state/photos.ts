// Photos, from the camera or a file to the store and back onto the screen.
import { callBytes } from '../desk';
import type { Fault } from '../desk';
import { t } from '../texts/t';

/** The longest side that is kept, px: enough for a screen and a sheet, and a tenth of what a camera makes. */
const LONGEST = 1600;

/** How well a photo is kept, 0 to 1: no trace of the packing is seen at this, at about 300 kB. */
const QUALITY = 0.85;

/** What goes in before it is made smaller, bytes: a picture beyond this is no photo of a phone or camera. */
const LARGEST = 100 << 20;

/** A photo that is on disk. */
export interface Kept {
  /** what the job names it by */
  hash: string;
  /** px */
  width: number;
  /** px */
  height: number;
}

/** Makes a picture smaller and keeps it for a job. It is drawn anew, the right way up: of what the camera wrote beside the
 *  picture, such as the place where it was taken, nothing is kept. Refused with a `Fault`. */
export async function takePhoto(file: Blob, job: string): Promise<Kept> {
  if (file.size > LARGEST) throw fault('too_large', t('photo.too_large'), t('photo.too_large_do'));
  const bytes = await redrawn(file);
  const { answer } = await callBytes('add_photo', { job }, bytes);
  return { hash: answer.hash, width: answer.width, height: answer.height };
}

/** The size that a picture is kept in, px. */
export function fitted(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, LONGEST / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

async function redrawn(file: Blob): Promise<Uint8Array> {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => {
    throw fault('not_a_photo', t('photo.unread'), t('photo.unread_do'));
  });
  try {
    const { width, height } = fitted(picture.width, picture.height);
    const canvas = new OffscreenCanvas(width, height);
    const brush = canvas.getContext('2d');
    if (!brush) throw fault('page', t('photo.no_room'), t('photo.no_room_do'));
    // where a picture is clear, JPEG would be black
    brush.fillStyle = '#ffffff';
    brush.fillRect(0, 0, width, height);
    brush.imageSmoothingQuality = 'high';
    brush.drawImage(picture, 0, 0, width, height);
    const drawn = await canvas.convertToBlob({ type: 'image/jpeg', quality: QUALITY });
    return new Uint8Array(await drawn.arrayBuffer());
  } finally {
    picture.close();
  }
}

const fault = (code: string, message: string, hint: string): Fault => ({ code, message, hint });

/** An address of a photo's bytes that is good until it is released. */
export interface PhotoUrl {
  url: string;
  release(): void;
}

interface Shown {
  url: Promise<string>;
  users: number;
}

const shown = new Map<string, Shown>();

/** The address of a photo for an `img`. Whoever asks releases it; the bytes are let go after the last. Refused with a `Fault`. */
export async function photoUrl(hash: string): Promise<PhotoUrl> {
  const entry = shown.get(hash) ?? { url: read(hash), users: 0 };
  shown.set(hash, entry);
  entry.users++;
  let held = true;
  const release = () => {
    if (!held) return;
    held = false;
    if (--entry.users > 0) return;
    if (shown.get(hash) === entry) shown.delete(hash);
    // one that could not be read has no address
    void entry.url.then(URL.revokeObjectURL, () => {});
  };
  try {
    return { url: await entry.url, release };
  } catch (thrown) {
    release();
    throw thrown;
  }
}

async function read(hash: string): Promise<string> {
  const { answer, body } = await callBytes('photo', { hash });
  return URL.createObjectURL(new Blob([body as Uint8Array<ArrayBuffer>], { type: answer.mime }));
}
