/** One square code found in a picture of the camera; undefined when there is none. */
export type Look = (video: HTMLVideoElement) => Promise<string | undefined>;

/** What a browser that reads codes itself brings; not in the compiler's list of names. */
interface BarcodeReader {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
interface BarcodeReaderMaker {
  new (options: { readonly formats: readonly string[] }): BarcodeReader;
  getSupportedFormats(): Promise<readonly string[]>;
}

/** Longer side of the picture that is searched, px: more costs time and finds no more. */
const LOOK_PX = 800;

async function browsersOwn(): Promise<Look | undefined> {
  const maker = (globalThis as { BarcodeDetector?: BarcodeReaderMaker }).BarcodeDetector;
  try {
    if (!maker || !(await maker.getSupportedFormats()).includes('qr_code')) return undefined;
    const reader = new maker({ formats: ['qr_code'] });
    return async (video) => (await reader.detect(video))[0]?.rawValue;
  } catch {
    return undefined;
  }
}

async function ourOwn(): Promise<Look> {
  const { default: decode } = await import('qr/decode.js');
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d', { willReadFrequently: true });
  return async (video) => {
    if (!context || video.videoWidth === 0) return undefined;
    const scale = Math.min(1, LOOK_PX / Math.max(video.videoWidth, video.videoHeight));
    canvas.width = Math.round(video.videoWidth * scale);
    canvas.height = Math.round(video.videoHeight * scale);
    context.drawImage(video, 0, 0, canvas.width, canvas.height);
    try {
      return decode(context.getImageData(0, 0, canvas.width, canvas.height));
    } catch {
      // it throws when there is no code in the picture
      return undefined;
    }
  };
}

/** Reads codes with what the browser brings, otherwise with a decoder of the page's own. */
export const openLook = async (): Promise<Look> => (await browsersOwn()) ?? (await ourOwn());

const TYPE_IT = 'type the number on the tag instead';

/**
 * Why this page has no camera wherever one presses; undefined when it may ask for one.
 *
 * @param guardedAt  address of the https door, when this page came by the plain one
 */
export function noCameraHere(guardedAt: string | undefined): string | undefined {
  if (window.isSecureContext && navigator.mediaDevices) return undefined;
  return `Over plain http the browser gives no camera; ${guardedAt ? `open ${guardedAt} on this device, or ` : ''}${TYPE_IT}.`;
}

/** The camera, or a sentence why there is none. */
export async function openCamera(): Promise<MediaStream | string> {
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: 'environment' }, width: { ideal: 1280 }, height: { ideal: 720 } },
    });
  } catch (error) {
    const { name } = error as DOMException;
    if (name === 'NotAllowedError')
      return `The camera was refused; allow it for this page in the browser’s settings, or ${TYPE_IT}.`;
    if (name === 'NotFoundError' || name === 'OverconstrainedError')
      return `This device has no camera the browser may use; ${TYPE_IT}.`;
    return `The camera does not start, perhaps because another program has it; close that one, or ${TYPE_IT}.`;
  }
}
