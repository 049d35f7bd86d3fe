/** Reads the code of a tag out of a picture; undefined = none in it. */
export type ReadCode = (source: ImageBitmap | HTMLVideoElement) => Promise<string | undefined>;

interface Detector {
  detect(source: CanvasImageSource): Promise<readonly { readonly rawValue: string }[]>;
}
interface DetectorMaker {
  new (options: { readonly formats: readonly string[] }): Detector;
  getSupportedFormats?: () => Promise<readonly string[]>;
}

/** Longest side that a picture is read at: larger ones take longer and are read no better. */
const LONGEST_PIXELS = 1000;

/** The browser's own reader where it has one (Shape Detection API), else the one that comes with the app. */
export async function createReader(): Promise<ReadCode> {
  const own = await findDetector();
  if (own !== undefined) return async (source) => (await own.detect(source).catch(() => []))[0]?.rawValue;
  const { default: read } = await import('jsqr');
  return async (source) => {
    const picture = pixelsOf(source);
    return picture === undefined ? undefined : read(picture.data, picture.width, picture.height)?.data;
  };
}

async function findDetector(): Promise<Detector | undefined> {
  const maker = (globalThis as { readonly BarcodeDetector?: DetectorMaker }).BarcodeDetector;
  if (maker === undefined) return undefined;
  const formats: readonly string[] = await (maker.getSupportedFormats?.() ?? Promise.resolve([])).catch(
    (): readonly string[] => [],
  );
  return formats.includes('qr_code') ? new maker({ formats: ['qr_code'] }) : undefined;
}

function pixelsOf(source: ImageBitmap | HTMLVideoElement): ImageData | undefined {
  const [width, height] =
    'videoWidth' in source ? [source.videoWidth, source.videoHeight] : [source.width, source.height];
  if (width === 0 || height === 0) return undefined;
  const scale = Math.min(1, LONGEST_PIXELS / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (pen === null) return undefined;
  pen.drawImage(source, 0, 0, canvas.width, canvas.height);
  return pen.getImageData(0, 0, canvas.width, canvas.height);
}
