// Makes a photograph small enough to send from a field. Drawn anew it has lost where and with what it was
// taken; the server makes sure of it.

export class NotAPicture extends Error {}

const longestSide_px = 1600;
const quality = 0.8;

export async function smallPhoto(file: Blob): Promise<Blob> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    throw new NotAPicture();
  }
  const scale = Math.min(1, longestSide_px / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d')!.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((resolve, reject) => canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new NotAPicture())), 'image/jpeg', quality));
}
