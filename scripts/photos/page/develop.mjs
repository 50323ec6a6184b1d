// From the clean rendering to something a phone would have taken: fall-off to the corners, uneven light, noise.
import { seeded } from './paint.mjs';

/**
 * Develops an over-sized rendering into a canvas of widthPx × heightPx. The geometry stays as it is: no distortion.
 * @param source canvas holding the rendering, any whole multiple of the size
 */
export function develop(source, { widthPx, heightPx, seed, noise = 3.2 }) {
  const random = seeded(seed);
  const out = document.createElement('canvas');
  out.width = widthPx;
  out.height = heightPx;
  const g = out.getContext('2d', { willReadFrequently: true });
  g.imageSmoothingQuality = 'high';
  g.drawImage(source, 0, 0, widthPx, heightPx);
  const image = g.getImageData(0, 0, widthPx, heightPx);
  const data = image.data;
  const bell = () => random() + random() + random() - 1.5;
  // noise with a grain of about two pixels, as left over by a phone's own smoothing
  const coarse = new Float32Array((widthPx / 2 + 1) * (heightPx / 2 + 1)).map(bell);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const i = 4 * (y * widthPx + x);
      const u = x / widthPx - 0.5;
      const v = y / heightPx - 0.5;
      const gain = (1.05 - 0.16 * u - 0.05 * v) * (1 - 0.34 * (u * u + v * v));
      const grain = noise * (1.5 * coarse[(y >> 1) * (widthPx / 2 + 1) + (x >> 1)] + 0.7 * bell());
      const warm = 1 + 0.02 * (0.5 - v);
      data[i] = data[i] * gain * warm + grain;
      data[i + 1] = data[i + 1] * gain + grain;
      data[i + 2] = (data[i + 2] * gain) / warm + grain + 1.5;
    }
  g.putImageData(image, 0, 0);
  return out;
}

/** A JPEG data URL under the given size: the best quality that fits. */
export function toJpeg(canvas, mostBytes) {
  for (let quality = 0.9; quality > 0.3; quality -= 0.03) {
    const url = canvas.toDataURL('image/jpeg', quality);
    if (url.length * 0.75 < mostBytes) return { url, quality: Number(quality.toFixed(2)) };
  }
  throw new Error(`The photo does not fit ${mostBytes} bytes: lower the noise.`);
}
