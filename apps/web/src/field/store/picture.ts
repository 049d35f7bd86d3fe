import type { MakeSmall } from './photos.ts';

/** px of the longer side: enough to count termites on a monitor, about 300 kB. */
const WHOLE_PX = 1600;
const THUMBNAIL_PX = 240;
const MEDIA_TYPE = 'image/jpeg';

/**
 * Draws the picture anew at no more than 1600 px, which also drops what the camera wrote into it (place, device).
 * Throws when the browser cannot read it as a picture.
 */
export const makeSmall: MakeSmall = async (picture) => {
  const bitmap = await createImageBitmap(picture, { imageOrientation: 'from-image' });
  try {
    return {
      whole: await draw(bitmap, WHOLE_PX, 0.8),
      thumbnail: await draw(bitmap, THUMBNAIL_PX, 0.7),
      mediaType: MEDIA_TYPE,
    };
  } finally {
    bitmap.close();
  }
};

async function draw(bitmap: ImageBitmap, longest: number, quality: number): Promise<Uint8Array<ArrayBuffer>> {
  const scale = Math.min(1, longest / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const pen = canvas.getContext('2d');
  if (pen === null) throw new Error('this browser gives no canvas to draw on');
  // A signature has no background of its own, and JPEG knows no transparency.
  pen.fillStyle = '#ffffff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, MEDIA_TYPE, quality));
  if (blob === null) throw new Error('this browser cannot write a JPEG');
  return new Uint8Array(await blob.arrayBuffer());
}
